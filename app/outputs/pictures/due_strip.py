"""The strip itself, large and small: what is covered by the test, the warning days, what lies past the due day."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from app.outputs.pictures.due_value import DateState, DueRibbon
from app.outputs.pictures.scene import Box, Hatch, Item, Line, Role, Shape, ShapeKind
from app.outputs.pictures.time_scale import TimeScale
from app.words.saying import say

ICONS: Mapping[DateState, tuple[ShapeKind, Role] | None] = {
    # No tick: in date is not yet fit, a piece may be held all the same.
    DateState.IN_DATE: None,
    DateState.UNDATED: None,
    DateState.WARNING: (ShapeKind.CLOCK, Role.WARN),
    DateState.OVERDUE: (ShapeKind.CROSS, Role.SHORT),
    DateState.NO_TEST: (ShapeKind.QUESTION, Role.SHORT),
    DateState.NO_DUE: (ShapeKind.QUESTION, Role.SHORT),
}
_LEAST = 2.0


def state_words(value: DueRibbon) -> str:
    """The days in a sentence, the last good day always before the due day."""
    match value.state:
        case DateState.UNDATED:
            return say("ribbon.undated", {})
        case DateState.NO_TEST:
            return say("ribbon.no-test", {})
        case DateState.NO_DUE:
            return say("ribbon.no-due", {})
        case DateState.OVERDUE:
            return until_words(value, "ribbon.overdue")
        case DateState.WARNING | DateState.IN_DATE:
            return until_words(value, "ribbon.in-date" if value.is_held_back else "ribbon.use-until")


def until_words(value: DueRibbon, key: str) -> str:
    """A message with the last good day and the due day in it."""
    return say(key, {"last": value.last_good_day, "due": value.due_on, "what": value.counted})


def strip(value: DueRibbon, scale: TimeScale, top: float, height: float) -> Iterator[Item]:
    """The strip with its markers, from `top` downwards; every mark outside the scale becomes an arrow at the edge."""
    yield Box(scale.left, top, scale.right - scale.left, height, fill=Role.BAND, part="strip")
    yield from _stretches(value, scale, top, height)
    if scale.holds(value.today):
        x = scale.x(value.today)
        yield Line(x, top - 4, x, top + height + 4, Role.PAPER, 6)
        yield Line(x, top - 4, x, top + height + 4, Role.INK, 3, part="today")
    # Over today's mark, which is taller and still seen when a marker falls on the same day.
    yield from _markers(value, scale, top + height / 2, min(14.0, height - 2))


def _stretches(value: DueRibbon, scale: TimeScale, top: float, height: float) -> Iterator[Item]:
    if value.state is DateState.UNDATED:
        return
    if value.test_on is None or value.due_on is None:
        left = scale.left if value.test_on is None else scale.x(value.test_on)
        wide = scale.right - left
        if wide > _LEAST:
            yield Box(left, top, wide, height, Role.PAPER, Role.SHORT, 2, dashed=True, part="unknown")
        # Aside of today's mark, which would hide it.
        centre = left + wide / 2
        if abs(centre - scale.x(value.today)) < height:
            centre += height if centre + 2 * height < scale.right else -height
        yield Shape(ShapeKind.QUESTION, centre, top + height / 2, height - 2, Role.SHORT, part="unknown")
        return
    warning = min(value.warning_from or value.due_on, value.due_on)
    for first, end, part in (
        (value.test_on, warning, "covered"),
        (max(value.test_on, warning), value.due_on, "warning"),
        (value.due_on, value.today, "overdue"),
    ):
        yield from _stretch(scale.x(first), scale.x(end), top, height, part)


def _stretch(left: float, right: float, top: float, height: float, part: str) -> Iterator[Item]:
    if right - left < _LEAST:
        return
    if part == "covered":
        yield Box(left, top, right - left, height, fill=Role.FIT, part=part)
    elif part == "warning":
        yield Hatch(left, top, right - left, height, Role.WARN, 12, rising=False, part=part)
    else:
        yield Hatch(left, top, right - left, height, Role.SHORT, 6, part=part)


def marks(value: DueRibbon) -> tuple[tuple[date, ShapeKind], ...]:
    """The days that have a marker of their own, with its form."""
    issued = None if isinstance(value.first_issue_on, str) else value.first_issue_on
    # A due day counts from a test. Without one it would tell a last good day that nothing stands for.
    due = None if value.test_on is None else value.due_on
    places = ((value.test_on, ShapeKind.DISC), (issued, ShapeKind.SQUARE), (due, ShapeKind.DIAMOND))
    return tuple((day, kind) for day, kind in places if day is not None)


def _markers(value: DueRibbon, scale: TimeScale, y: float, size: float) -> Iterator[Item]:
    for day, kind in marks(value):
        if day < scale.start:
            yield Shape(ShapeKind.EARLIER, scale.left - size / 2 - 1, y, size - 2, Role.INK, part="earlier")
        elif day > scale.end:
            yield Shape(ShapeKind.LATER, scale.right + size / 2 + 1, y, size - 2, Role.INK, part="later")
        else:
            yield Shape(kind, scale.x(day), y, size, Role.INK, part=kind.value)
