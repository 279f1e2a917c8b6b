"""The level axis of the due pictures: days to px, and the months written at it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from app.outputs.pictures.letters import text_width
from app.outputs.pictures.scene import Item, Line, Role, Words
from app.words.saying import month_words

_STEPS = (1, 2, 3, 6, 12, 24, 60, 120, 240, 600, 1200, 6000, 12000)
_TEXT = 12.0
_FIRST, _LAST = date.min.toordinal(), date.max.toordinal()


@dataclass(frozen=True, slots=True)
class TimeScale:
    """From the day `start` at `left` to the day `end` at `right`, in px."""

    start: date
    end: date
    left: float
    right: float

    def x(self, day: date) -> float:
        """The x at which a day begins; days outside stand at the edge."""
        part = (day - self.start).days / (self.end - self.start).days
        return self.left + min(1.0, max(0.0, part)) * (self.right - self.left)

    def holds(self, day: date) -> bool:
        """Whether the day lies on the strip itself."""
        return self.start <= day <= self.end

    def months(self) -> tuple[tuple[date, str], ...]:
        """First days of months or years with the words for them, as close as the words allow."""
        for step in _STEPS:
            days = tuple(_firsts(self.start, self.end, step))
            words = tuple(f"{day.year:04d}" if step >= 12 else month_words(day.year, day.month) for day in days)
            widest = max((text_width(word, _TEXT) for word in words), default=0.0) + 12
            places = [self.x(day) for day in days]
            if all(after - before >= widest for before, after in pairwise(places)):
                return tuple(zip(days, words, strict=True))
        return ()


def _firsts(start: date, end: date, step: int) -> Iterator[date]:
    """Every `step`-th first of a month from start to end, counted from January of year 1."""
    month = start.year * 12 + start.month - 1
    month += -month % step
    while month // 12 <= end.year:
        day = date(month // 12, month % 12 + 1, 1)
        if day > end:
            return
        if day >= start:
            yield day
        month += step


def time_scale(
    days: Iterable[date], left: float, right: float, *, around: date | None = None, reach: int = 0
) -> TimeScale:
    """A scale that holds all days with some air; with `around`, no more than `reach` days to either side of it."""
    ordinals = [day.toordinal() for day in days]
    first, last = min(ordinals), max(ordinals)
    if around is not None:
        middle = around.toordinal()
        first, last = max(first, middle - reach), min(last, middle + reach)
    air = max(20, (last - first) // 25)
    first, last = max(_FIRST, first - air), min(_LAST, last + air)
    return TimeScale(date.fromordinal(first), date.fromordinal(last), left, right)


def axis(scale: TimeScale, y: float) -> tuple[Item, ...]:
    """A rule with the months under it; about 22 px high."""
    items: list[Item] = [Line(scale.left, y, scale.right, y, Role.QUIET)]
    for day, word in scale.months():
        x = scale.x(day)
        items.append(Line(x, y, x, y + 5, Role.QUIET))
        half = text_width(word, _TEXT) / 2
        if scale.left <= x - half and x + half <= scale.right:
            items.append(Words(word, x, y + 18, _TEXT, anchor="middle", role=Role.QUIET, part="month"))
    return tuple(items)
