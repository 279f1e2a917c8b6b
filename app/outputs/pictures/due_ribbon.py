"""The due ribbon: the days of one piece on a strip, with the limit that decides named.

Large, it explains itself in words on a piece's card; small, it is one row of a list. A missing test or due day is an
empty dashed strip with a question on it, and said in words.
"""

from __future__ import annotations

from collections.abc import Sequence

from app.outputs.pictures import flags
from app.outputs.pictures.due_row import ROW_HEIGHT, columns, row
from app.outputs.pictures.due_strip import ICONS, marks, state_words, strip, until_words
from app.outputs.pictures.due_value import DateState, DueRibbon
from app.outputs.pictures.flags import Flag
from app.outputs.pictures.layout import Paragraph, placed
from app.outputs.pictures.scene import Item, PaletteName, Role, Scene, Shape, ShapeKind
from app.outputs.pictures.time_scale import TimeScale, axis, time_scale
from app.words.saying import say

__all__ = ["DateState", "DueRibbon", "due_ribbon"]

PAD = 20.0
STRIP = 26.0
FLAG_WIDTH = 250.0
_ICON = 26.0
SMALL_REACH_DAYS = 400


def due_ribbon(
    value: DueRibbon,
    palette: PaletteName = "light",
    *,
    large: bool = True,
    width: float = 760.0,
) -> Scene:
    """The picture of one piece: large, `width` px wide; small, one row as wide as its words need."""
    title = say("ribbon.title", {"code": value.code, "label": value.label})
    if not large:
        layout = columns([value])
        scale = time_scale(
            value.days(), layout.strip_left, layout.strip_right, around=value.today, reach=SMALL_REACH_DAYS
        )
        items = tuple(row(value, layout, scale, 0))
        return Scene(layout.width, ROW_HEIGHT, title, described(value), items, palette)
    drawn, down = _heading(value, width)
    scale, raised = _fitted(value, width)
    foot = down + flags.height(raised, FLAG_WIDTH) + 12
    drawn += flags.raised(raised, foot, FLAG_WIDTH)
    drawn += strip(value, scale, foot, STRIP)
    drawn += axis(scale, foot + STRIP + 8)
    down = foot + STRIP + 8 + 34
    for paragraph in _footnotes(value):
        drawn += placed(paragraph, PAD, down, width - 2 * PAD)
        down += paragraph.height(width - 2 * PAD) + 4
    return Scene(width, down + PAD - 6, title, described(value), tuple(drawn), palette)


def _heading(value: DueRibbon, width: float) -> tuple[list[Item], float]:
    """Status and last good day first, then which piece; with the y where the heading ends."""
    icon, items = ICONS[value.state], list[Item]()
    indent, down = PAD, PAD
    if icon:
        items.append(Shape(icon[0], PAD + _ICON / 2, PAD + _ICON / 2 - 1, _ICON, icon[1]))
        indent += _ICON + 12
    role = icon[1] if icon else Role.INK
    for paragraph in (
        Paragraph(value.status, 18, bold=True, role=role),
        Paragraph(state_words(value), 15, bold=True, role=role),
        Paragraph(f"{value.code} {value.label}", 13),
    ):
        items += placed(paragraph, indent, down, width - indent - PAD)
        down += paragraph.height(width - indent - PAD) + 3
    return items, down + 10


def _fitted(value: DueRibbon, width: float) -> tuple[TimeScale, tuple[Flag, ...]]:
    """The longest strip that leaves each flag the room it needs at the right."""
    right = width - PAD
    while True:
        scale = time_scale(value.days(), PAD, right)
        raised = _flags(value, scale)
        if all(flag.x + flag.width(FLAG_WIDTH) <= width - PAD for flag in raised):
            return scale, raised
        right -= 10


# What the due day is counted from.
_DONE = {
    "tested": "ribbon.tested", "calibrated": "ribbon.calibrated", "inspected": "ribbon.inspected",
    "air-tested": "ribbon.air-tested",
}  # fmt: skip


def _flags(value: DueRibbon, scale: TimeScale) -> tuple[Flag, ...]:
    """A flag for each day that is known; what is not known stands in the footnotes."""
    kinds = {kind: day for day, kind in marks(value)}
    shown = [Flag(scale.x(value.today), _small(say("ribbon.today", {"day": value.today}), bold=True), None, "today")]
    for kind, key in ((ShapeKind.DISC, _DONE[value.counted]), (ShapeKind.SQUARE, "ribbon.first-issue")):
        if kind in kinds:
            shown.append(Flag(scale.x(kinds[kind]), _small(say(key, {"day": kinds[kind]})), kind, kind.value))
    if value.warning_from is not None and value.test_on is not None:
        words = say("ribbon.warning-from", {"day": value.warning_from})
        shown.append(Flag(scale.x(value.warning_from), _small(words, role=Role.WARN), None, "warning"))
    if ShapeKind.DIAMOND in kinds:
        words = until_words(value, "ribbon.due")
        shown.append(Flag(scale.x(kinds[ShapeKind.DIAMOND]), _small(words, bold=True), ShapeKind.DIAMOND, "due"))
    for label, day in value.limits:
        decides = label == value.deciding and value.test_on is not None
        words = say("ribbon.decides" if decides else "ribbon.limit", {"label": label, "day": day})
        shown.append(
            Flag(scale.x(day), _small(words, bold=decides, role=Role.INK if decides else Role.QUIET), None, "limit")
        )
    return tuple(shown)


def _small(words: str, *, bold: bool = False, role: Role = Role.INK) -> Paragraph:
    return Paragraph(words, 12, bold, role)


def _footnotes(value: DueRibbon) -> Sequence[Paragraph]:
    """What has no day, why the due day is what it is, and the ready sentence."""
    sentences: list[str] = []
    if isinstance(value.first_issue_on, str):
        never = value.first_issue_on == "never"
        sentences.append(say("ribbon.never-issued" if never else "ribbon.issue-unknown", {}))
    if value.deciding and value.test_on is not None:
        sentences.append(say("ribbon.deciding", {"label": value.deciding}))
    sentences.append(value.sentence)
    return [Paragraph(words, 13) for words in sentences if words]


def described(value: DueRibbon) -> str:
    """The ribbon in sentences, for a screen reader."""
    values = {"code": value.code, "label": value.label, "status": value.status}
    sentences = [say("ribbon.described", values), state_words(value)]
    if value.test_on is not None:
        sentences.append(say(_DONE[value.counted], {"day": value.test_on}))
    if not isinstance(value.first_issue_on, str):
        sentences.append(say("ribbon.first-issue", {"day": value.first_issue_on}))
    sentences.append(say("ribbon.today", {"day": value.today}))
    sentences += [say("ribbon.limit", {"label": label, "day": day}) for label, day in value.limits]
    sentences += [paragraph.text.rstrip(".") for paragraph in _footnotes(value)]
    return " ".join(say("picture.sentence", {"says": words}) for words in sentences)
