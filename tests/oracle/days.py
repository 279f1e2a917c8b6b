"""Days, months and the order of records, without help from any date library beyond the calendar itself."""

from __future__ import annotations

import calendar
import functools
import re
from datetime import date, datetime, timedelta
from typing import Any, NamedTuple

ONE_DAY = timedelta(days=1)
_MONTH = re.compile(r"(\d{4})-(\d{2})")
_WEEK = re.compile(r"(\d{4})-W(\d{2})")


class Rec(NamedTuple):
    """One record of a piece: `first` counts when it speaks for the piece, `last` (never beyond today) when against.

    A record without a readable day has first = date.min and last = today, so it never helps and always hurts.
    `at` is "HH:MM", and None where the day itself is vague.
    """

    what: str
    first: date
    last: date
    at: str | None
    d: dict[str, Any]


def add_months(day: date, months: int) -> date:
    """Calendar months on, clamped at the end of the month: 31 August + 6 = 28 or 29 February."""
    year, month0 = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month0 + 1, min(day.day, calendar.monthrange(year, month0 + 1)[1]))


@functools.lru_cache(maxsize=4096)
def _span_of_text(text: str) -> tuple[date, date] | None:
    try:
        if found := _MONTH.fullmatch(text):
            year, month = int(found[1]), int(found[2])
            return date(year, month, 1), date(year, month, calendar.monthrange(year, month)[1])
        if found := _WEEK.fullmatch(text):
            year, week = int(found[1]), int(found[2])
            return date.fromisocalendar(year, week, 1), date.fromisocalendar(year, week, 7)
        day = date.fromisoformat(text)
    except (ValueError, calendar.IllegalMonthError):
        return None
    return day, day


def span(value: object) -> tuple[date, date] | None:
    """Earliest and latest day of a day, a month "2025-03" or a week "2025-W10"; None where nothing can be read."""
    if isinstance(value, datetime):
        return value.date(), value.date()
    if isinstance(value, date):
        return value, value
    return _span_of_text(value) if isinstance(value, str) else None


def records_of(raw: list[dict[str, Any]], today: date) -> dict[str, list[Rec]]:
    """The records that exist on `today`, by what they are; those that can only be later are absent."""
    found: dict[str, list[Rec]] = {}
    for d in raw:
        on = d.get("on")
        first, last = (on, on) if type(on) is date else span(on) or (date.min, today)
        if first > today:
            continue
        at = str(d["at"])[:5].rjust(5, "0") if first == last and d.get("at") else None
        what = str(d.get("what", ""))
        found.setdefault(what, []).append(Rec(what, first, min(last, today), at, d))
    return found


def strikes(against: Rec, favour: Rec) -> bool:
    """Whether the unfavourable record stands at or after the favourable one; in doubt on one day it does."""
    if against.last != favour.first:
        return against.last > favour.first
    if against.at and favour.at:
        return against.at >= favour.at
    return True
