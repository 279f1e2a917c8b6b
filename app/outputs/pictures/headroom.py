"""The headroom picture: one look shows which piece of the kit is the short plank.

A level line is the required voltage, with the working voltage under it and the margin as the band between. Each piece
rises to what it offers. A bar that stops under the line is hatched and says what it lacks; an unknown rating is an
empty dashed bar; without a required voltage there is no line and nothing is shown as fit.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from app.outputs.pictures import headroom_plot
from app.outputs.pictures.figures import volts
from app.outputs.pictures.headroom_value import Bar, Headroom, Member, Status
from app.outputs.pictures.layout import Paragraph, placed
from app.outputs.pictures.letters import bound, text_width
from app.outputs.pictures.scene import Item, Line, PaletteName, Role, Scene, Shape, ShapeKind
from app.outputs.pictures.volt_scale import volt_scale
from app.words.saying import say

__all__ = ["Bar", "Headroom", "Member", "Status", "headroom"]

PAD = 20.0
PLOT_HEIGHT = 280.0
LEAST_COLUMN, MOST_COLUMN = 86.0, 150.0
MOST_CHAIN = 176.0
ICON = 22.0
_GAP = 6.0
_INSET = 10.0
_MOST_LINES = 3
# The row of words under a bar that says what it offers; the figure stays beside its word.
_OFFERS = 3

_ICONS = {
    Status.REACHES: (ShapeKind.TICK, Role.FIT),
    Status.SHORT: (ShapeKind.CROSS, Role.SHORT),
    Status.UNKNOWN: (ShapeKind.QUESTION, Role.SHORT),
    Status.NOT_COMPARED: (ShapeKind.QUESTION, Role.QUIET),
}


@dataclass(frozen=True, slots=True)
class _Column:
    """A bar with its place and the rows of words under it."""

    bar: Bar
    left: float
    width: float
    rows: tuple[Paragraph, ...]

    @property
    def centre(self) -> float:
        return self.left + self.width / 2

    @property
    def text_width(self) -> float:
        return self.width - _INSET


def headroom(
    value: Headroom, palette: PaletteName = "light", *, width: float = 760.0,
    is_bare: bool = False,
) -> Scene:  # fmt: skip
    """The picture, at least `width` px wide and as much wider as its bars need; words come from value and texts.

    `is_bare` leaves headline and caution to whoever shows the picture beside them; the description keeps both.
    """
    scale = volt_scale(value.figures_mv(), 0, PLOT_HEIGHT)
    left = PAD + 8 + max(text_width(volts(mv), 12) for mv in scale.ticks())
    columns = _columns(value, left, width)
    beside = headroom_plot.LEADER + headroom_plot.side_width(value) + PAD
    plot_right = columns[-1].left + columns[-1].width if columns else max(width - beside, left + 200)
    full = max(width, plot_right + beside)
    items, down = _heading(value, full, is_bare=is_bare)
    tall = max(PLOT_HEIGHT, headroom_plot.side_height(value) + 20)
    top = down + 10
    plot = headroom_plot.Plot(value, volt_scale(value.figures_mv(), top, top + tall), left, plot_right)
    items += headroom_plot.ground(plot)
    for column in columns:
        items += headroom_plot.bar_items(plot, column.bar, column.centre, column.width)
    items += headroom_plot.required_line(plot)
    items += headroom_plot.side(plot)
    under, down = _under(value, columns, top + tall + 8)
    items += under
    title = say("headroom.title", {"system": value.system, "circuit": value.circuit})
    if is_bare:
        return Scene(full, down + PAD / 2, title, _described(value), tuple(items), palette)
    down += 8
    items.append(Line(PAD, down, full - PAD, down, Role.GRID))
    caution = Paragraph(value.caution, 12)
    items += placed(caution, PAD, down + 8, full - 2 * PAD)
    height = down + 8 + caution.height(full - 2 * PAD) + PAD / 2
    return Scene(full, height, title, _described(value), tuple(items), palette)


def _status_words(value: Headroom, bar: Bar) -> str:
    status = value.status(bar)
    if status is Status.UNKNOWN:
        return say("headroom.unknown", {})
    if status is Status.NOT_COMPARED or bar.offers_mv is None or value.required_mv is None:
        return say("headroom.not-compared", {})
    over = bar.offers_mv - value.required_mv
    if over < 0:
        return say("headroom.short", {"volts": volts(-over)})
    if over == 0:
        return say("headroom.exact", {})
    return say("headroom.reaches", {"volts": volts(over)})


def _offers_words(bar: Bar) -> str:
    if bar.offers_mv is None:
        return say("headroom.offers-unknown", {})
    return say("headroom.offers", {"volts": volts(bar.offers_mv)})


def _member_words(member: Member) -> str:
    if member.offers_mv is None:
        return say("headroom.member-unknown", {"code": member.code, "label": member.label})
    told = volts(member.offers_mv)
    return say("headroom.member", {"code": member.code, "label": member.label, "volts": told})


def _rows(value: Headroom, bar: Bar) -> tuple[Paragraph, ...]:
    """Words under a bar, in the order in which somebody in a hurry needs them."""
    role = _ICONS[value.status(bar)][1]
    rows = [
        Paragraph(_status_words(value, bar), 13, bold=True, role=role),
        Paragraph(bar.code, 13, bold=True),
        Paragraph(bound(bar.label), 12),
        Paragraph(_offers_words(bar), 12),
    ]
    first = [member for member in bar.members if member.code == bar.shortest]
    for member in first:
        words = _member_words(member)
        # A member without a rating is named for that; nobody knows whether it is the shortest.
        if member.offers_mv is not None:
            words = say("headroom.shortest", {"member": words})
        rows.append(Paragraph(words, 12, bold=True))
    others = [member for member in bar.members if member.code != bar.shortest]
    rows += [Paragraph(_member_words(member), 12, role=Role.QUIET) for member in others]
    return tuple(rows)


def _columns(value: Headroom, left: float, width: float) -> list[_Column]:
    """A column per bar: as wide as its longest word within bounds, the room left over shared out alike."""
    rows = [_rows(value, bar) for bar in value.bars]
    wide = [_wanted(bar, bar_rows) for bar, bar_rows in zip(value.bars, rows, strict=True)]
    beside = headroom_plot.LEADER + headroom_plot.side_width(value) + PAD
    spare = width - left - beside - sum(wide)
    share = max(0.0, spare) / max(1, len(wide))
    columns: list[_Column] = []
    x = left
    for bar, bar_rows, column in zip(value.bars, rows, wide, strict=True):
        columns.append(_Column(bar, x, column + share, bar_rows))
        x += column + share
    return columns


def _wanted(bar: Bar, rows: Sequence[Paragraph]) -> float:
    """The column width that breaks no word, keeps the offer on one line and the rest on few, within bounds."""
    if not bar.members:
        words = [text_width(word, row.size, bold=row.bold) for row in rows for word in row.text.split(" ")]
        wide = max(LEAST_COLUMN - _INSET, *words, text_width(rows[_OFFERS].text, rows[_OFFERS].size)) + 1
        while wide < MOST_COLUMN - _INSET and any(len(row.lines(wide)) > _MOST_LINES for row in rows):
            wide += 4
        return min(MOST_COLUMN, wide + _INSET)
    whole = max(text_width(row.text, row.size, bold=row.bold) for row in rows)
    return max(LEAST_COLUMN, headroom_plot.chain_room(bar), min(MOST_CHAIN, whole + 14))


def _headline(value: Headroom) -> tuple[Status, str]:
    """The answer in a sentence or two, and the icon it goes with."""
    if value.required_mv is None:
        return Status.NOT_COMPARED, say("headroom.no-required", {})
    if not value.bars:
        return Status.NOT_COMPARED, say("headroom.no-pieces", {})
    known = [(bar.offers_mv, bar) for bar in value.bars if bar.offers_mv is not None]
    short = [bar for _, bar in known if value.status(bar) is Status.SHORT]
    unknown = [f"{bar.code} {bar.label}" for bar in value.bars if bar.offers_mv is None]
    sentences: list[str] = []
    if short:
        offers, worst = min(known, key=lambda pair: pair[0])
        lacking = volts(value.required_mv - offers)
        sentences.append(
            say(
                "headroom.some-short",
                {
                    "count": len(short),
                    "total": len(value.bars),
                    "code": worst.code,
                    "label": worst.label,
                    "volts": lacking,
                },
            )
        )
    if unknown:
        sentences.append(say("headroom.some-unknown", {"pieces": unknown}))
    if sentences:
        return (Status.SHORT if short else Status.UNKNOWN), " ".join(sentences)
    offers, least = min(known, key=lambda pair: pair[0])
    spare = volts(offers - value.required_mv)
    return Status.REACHES, say("headroom.all-reach", {"code": least.code, "label": least.label, "volts": spare})


def _heading(value: Headroom, full: float, *, is_bare: bool) -> tuple[list[Item], float]:
    """The answer first, then what was asked; with the y where the heading ends."""
    if is_bare:
        asked = Paragraph(
            say("headroom.asked", {"circuit": value.circuit, "supply": value.supply, "axis": _axis(value)}),
            12,
            role=Role.QUIET,
        )
        asked_items: list[Item] = list(placed(asked, PAD, PAD / 2, full - 2 * PAD))
        return asked_items, PAD / 2 + asked.height(full - 2 * PAD)
    status, words = _headline(value)
    kind, role = _ICONS[status]
    room, down = full - 2 * PAD - 38, PAD
    answer = Paragraph(words, 18, bold=True, role=Role.INK if role is Role.QUIET else role)
    items: list[Item] = [Shape(kind, PAD + 13, PAD + 12, 26, role)]
    items += placed(answer, PAD + 38, down, room, part="headline")
    down += max(26.0, answer.height(room)) + _GAP
    for paragraph in (
        Paragraph(say("headroom.circuit", {"system": value.system, "circuit": value.circuit}), 13, bold=True),
        Paragraph(value.supply, 13),
        Paragraph(_axis(value), 12, role=Role.QUIET),
    ):
        items += placed(paragraph, PAD, down, full - 2 * PAD)
        down += paragraph.height(full - 2 * PAD) + 2
    items.append(Line(PAD, down + 4, full - PAD, down + 4, Role.GRID))
    return items, down + 4


def _axis(value: Headroom) -> str:
    is_log = volt_scale(value.figures_mv(), 0, 1).is_log
    return say("headroom.axis-log" if is_log else "headroom.axis-linear", {})


def _under(value: Headroom, columns: Sequence[_Column], top: float) -> tuple[list[Item], float]:
    """Icon and words under each bar, the same row at the same height in every column; with the y of their end."""
    items: list[Item] = []
    for column in columns:
        kind, role = _ICONS[value.status(column.bar)]
        items.append(Shape(kind, column.centre, top + ICON / 2, ICON, role, part=f"icon:{column.bar.code}"))
    down = top + ICON + _GAP
    for place in range(max((len(column.rows) for column in columns), default=0)):
        with_row = [column for column in columns if place < len(column.rows)]
        for column in with_row:
            items += placed(column.rows[place], column.centre, down, column.text_width, anchor="middle")
        down += max(column.rows[place].height(column.text_width) for column in with_row) + 2
    return items, down


def _sentence(words: str) -> str:
    return say("picture.sentence", {"says": words})


def _described(value: Headroom) -> str:
    """The whole picture in sentences, for a screen reader, with the figures in full."""
    sentences = [_headline(value)[1], value.supply]
    if value.required_mv is not None:
        sentences.append(_sentence(say("headroom.required", {"volts": volts(value.required_mv)})))
    if value.working_mv is not None:
        sentences.append(_sentence(say("headroom.working", {"volts": volts(value.working_mv)})))
    for bar in value.bars:
        sentences.append(
            say(
                "headroom.described",
                {
                    "code": bar.code,
                    "label": bar.label,
                    "offers": _offers_words(bar),
                    "status": _status_words(value, bar),
                },
            )
        )
        sentences += [_sentence(_member_words(member)) for member in bar.members]
    sentences.append(value.caution)
    return " ".join(sentences)
