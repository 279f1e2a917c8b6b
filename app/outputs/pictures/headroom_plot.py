"""The drawing inside the headroom picture: axis, line, band and bars. Words under the bars stand in headroom.py."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from app.outputs.pictures.figures import volts
from app.outputs.pictures.headroom_value import Bar, Headroom, Member, Status
from app.outputs.pictures.layout import Paragraph, placed, spread
from app.outputs.pictures.letters import text_width
from app.outputs.pictures.scene import Box, Hatch, Item, Line, Role, Shape, ShapeKind, Words
from app.outputs.pictures.volt_scale import VoltScale
from app.words.saying import say

SIDE = 180.0
"""The most room at the right for the words of the line, in px."""

LEADER = 20.0
"""Room between the drawing and the words beside it, crossed by the leading lines, in px."""

CLEAR = 4.0
"""A bar that is short ends at least this many px under the line, however little it lacks."""

LEAST = 3.0
_PLATE = 20.0
_SUB = 22.0


@dataclass(frozen=True, slots=True)
class Plot:
    """Where the drawing stands: its edges in px, its axis, and the question it answers."""

    value: Headroom
    scale: VoltScale
    left: float
    right: float

    def line_y(self) -> float | None:
        """The y of the required voltage."""
        return None if self.value.required_mv is None else self.scale.y(self.value.required_mv)

    def bar_top(self, bar: Bar) -> float:
        """The y of a bar's upper edge: what it offers, yet never touching the line from below."""
        line = self.line_y()
        if bar.offers_mv is None:
            reach = (self.scale.bottom - line) if line is not None else 0.8 * (self.scale.bottom - self.scale.top)
            return self.scale.bottom - max(reach * 0.45, LEAST)
        top = self.scale.y(bar.offers_mv)
        if line is not None and self.value.status(bar) is Status.SHORT:
            top = max(top, line + CLEAR)
        return min(top, self.scale.bottom - LEAST)


def bar_width(bar: Bar, column: float) -> float:
    """Width of a bar in a column of that width: a chain needs room for a strip per member."""
    if bar.members:
        return min(column - 12, max(64.0, _SUB * len(bar.members)))
    return min(56.0, column * 0.5)


def chain_room(bar: Bar) -> float:
    """The least column width of a chain, in px."""
    return 12 + max(64.0, _SUB * len(bar.members))


def ground(plot: Plot) -> Iterator[Item]:
    """What lies behind the bars: the axis with its figures, and the band of the margin."""
    scale, value = plot.scale, plot.value
    for mv in scale.ticks():
        y = scale.y(mv)
        yield Line(plot.left, y, plot.right, y, Role.GRID)
        yield Words(volts(mv), plot.left - 8, y + 4, 12, anchor="end", role=Role.QUIET, part="tick")
    if value.required_mv is not None and value.working_mv is not None:
        high, low = scale.y(value.required_mv), scale.y(value.working_mv)
        yield Box(plot.left, high, plot.right - plot.left, low - high, fill=Role.BAND, part="band")
    if value.working_mv is not None:
        y = scale.y(value.working_mv)
        yield Line(plot.left, y, plot.right, y, Role.QUIET, 2, dashed=True, part="line:working")
    yield Line(plot.left, scale.bottom, plot.right, scale.bottom, Role.INK, 1.5)


def required_line(plot: Plot) -> Iterator[Item]:
    """The required voltage, drawn over the bars with an edge of paper so that it is seen across a filled bar."""
    y = plot.line_y()
    if y is not None:
        yield Line(plot.left, y, plot.right, y, Role.PAPER, 6)
        yield Line(plot.left, y, plot.right, y, Role.INK, 3, part="line:required")


def side_height(value: Headroom) -> float:
    """Height in px that the words of the line need at the right."""
    wide = side_width(value)
    return sum(paragraph.height(wide) + 4 for _, paragraph in _side_texts(value))


def side_width(value: Headroom) -> float:
    """Width in px that the words of the line need at the right."""
    whole = [text_width(paragraph.text, paragraph.size, bold=paragraph.bold) for _, paragraph in _side_texts(value)]
    return min(SIDE, max(whole) + 1)


def _side_texts(value: Headroom) -> list[tuple[float | None, Paragraph]]:
    """What is written beside the line, from above downwards, with the mV it speaks of (None: no place of its own)."""
    texts: list[tuple[float | None, Paragraph]] = []
    if value.required_mv is not None:
        words = say("headroom.required", {"volts": volts(value.required_mv)})
        texts.append((value.required_mv, Paragraph(words, 14, bold=True)))
        if value.working_mv is not None and value.margin_percent:
            middle = (value.required_mv + value.working_mv) / 2
            words = say("headroom.margin", {"margin": value.margin_percent})
            texts.append((middle, Paragraph(words, 12, role=Role.QUIET)))
    else:
        texts.append((None, Paragraph(say("headroom.required-unknown", {}), 14, bold=True)))
    if value.working_mv is not None:
        words = say("headroom.working", {"volts": volts(value.working_mv)})
        texts.append((value.working_mv, Paragraph(words, 12, role=Role.QUIET)))
    else:
        texts.append((None, Paragraph(say("headroom.working-unknown", {}), 12, role=Role.QUIET)))
    return texts


def side(plot: Plot) -> Iterator[Item]:
    """The words of line, band and working voltage at the right, moved apart and led to their height."""
    texts, wide = _side_texts(plot.value), side_width(plot.value)
    wanted: list[float] = []
    for mv, _ in texts:
        # What is unknown has no height; it stands under its neighbour, or at the top, never where a figure would.
        unplaced = wanted[-1] if wanted else plot.scale.top
        wanted.append(unplaced if mv is None else plot.scale.y(mv))
    heights = [paragraph.height(wide) + 4 for _, paragraph in texts]
    x = plot.right + LEADER
    for (mv, paragraph), y, edge, height in zip(
        texts, wanted, spread(wanted, heights, plot.scale.top), heights, strict=True
    ):
        if mv is not None:
            yield Line(plot.right, y, x - 4, edge + height / 2, paragraph.role)
        yield from placed(paragraph, x, edge + 2, wide)


def bar_items(plot: Plot, bar: Bar, centre: float, column: float) -> Iterator[Item]:
    """One bar: filled when it reaches the line, hatched when short, dashed and empty when its rating is unknown."""
    wide, top = bar_width(bar, column), plot.bar_top(bar)
    x, height, part = centre - wide / 2, plot.scale.bottom - top, f"bar:{bar.code}"
    match plot.value.status(bar):
        case Status.REACHES:
            yield Box(x, top, wide, height, fill=Role.FIT, part=part)
        case Status.NOT_COMPARED:
            yield Box(x, top, wide, height, fill=Role.PLAIN, part=part)
        case Status.SHORT:
            yield Hatch(x, top, wide, height, Role.SHORT, part=part)
        case Status.UNKNOWN:
            yield Box(x, top, wide, height, Role.PAPER, Role.SHORT, 2, dashed=True, part=part)
            if not bar.members:
                yield Shape(ShapeKind.QUESTION, centre, top + height / 2, min(24.0, height, wide), Role.SHORT)
    if bar.members:
        yield from _members(plot, bar, x, wide)


def _members(plot: Plot, bar: Bar, x: float, wide: float) -> Iterator[Item]:
    """A strip per member: how far each would rise alone, with the shortest one marked."""
    strip, top = wide / len(bar.members), plot.bar_top(bar)
    for place, member in enumerate(bar.members):
        left = x + strip * place
        if place:
            yield Line(left, top, left, plot.scale.bottom, Role.PAPER, 2)
        if member.offers_mv is None:
            yield Shape(
                ShapeKind.QUESTION, left + strip / 2, (top + plot.scale.bottom) / 2, min(20.0, strip), Role.SHORT
            )
        else:
            yield from _above(plot, member, left, strip, top)
        if member.code == bar.shortest and member.offers_mv is not None:
            yield from _mark(plot, left, strip, top)


def _above(plot: Plot, member: Member, left: float, strip: float, top: float) -> Iterator[Item]:
    """The part of a member that the chain cannot use, as an empty outline."""
    own = plot.scale.y(member.offers_mv or 0)
    if own < top - 1:
        yield Box(left + 2, own, strip - 4, top - own, stroke=Role.QUIET, part=f"member:{member.code}")


def _mark(plot: Plot, left: float, strip: float, top: float) -> Iterator[Item]:
    """A heavy cap on the shortest member's strip, and a pointer on paper under it, clear of the line."""
    middle, plate = left + strip / 2, min(_PLATE, strip - 2)
    edge, line = top + 6, plot.line_y()
    if line is not None and edge < line + 5 and edge + plate > line - 5:
        edge = line + 5
    if edge + plate <= plot.scale.bottom - 4:
        yield Box(middle - plate / 2, edge, plate, plate, fill=Role.PAPER)
        yield Shape(ShapeKind.POINTER_UP, middle, edge + plate / 2, plate - 6, Role.INK, part="shortest")
    yield Line(left + 1, top + 2, left + strip - 1, top + 2, Role.INK, 5)
