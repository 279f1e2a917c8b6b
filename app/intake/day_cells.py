"""Dates as keepers write them: a day, a month "2025-03" or a week "2025-W10".

Written forms read here: ISO, 1.3.2026, 01/03/26, 1-3-2026, 1 Mar 2026, March 1, 2026, Mar 2026, 03/2026, 2025-W10,
week 10 2025. Two-digit years are 20xx. With points the day comes first, as wherever points are used; with strokes and
dashes 01/03 is either, and only another date of the same column (one with a number above 12) can decide.
"""

from __future__ import annotations

import calendar
import re
from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from msgspec import Struct

from app.intake.faults import CellFault, shown

if TYPE_CHECKING:
    from collections.abc import Iterable

    from app.intake.table_file import Cell

Order = Literal["day-first", "month-first", "unknown"]
Vague = date | str

_NAMES = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_FULL = tuple(
    month.lower()
    for month in (
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    )
)
_MONTHS = {name: i for names in (_NAMES, _FULL) for i, name in enumerate(names, 1)} | {"sept": 9}
_MONTH = r"(?P<name>[a-z]{3,9})\.?"
_YEAR = r"(?P<y>\d{4}|\d{2})"
_TIME = re.compile(r"[t\s]\d{1,2}:\d{2}(:\d{2}(\.\d+)?)?(\s*[ap]m|z)?$")

_ISO_DAY = re.compile(r"(?P<y>\d{4})([-/.])(?P<m>\d{1,2})\2(?P<d>\d{1,2})")
_ISO_MONTH = re.compile(r"(?P<y>\d{4})[-/.](?P<m>\d{1,2})")
_MONTH_YEAR = re.compile(r"(?P<m>\d{1,2})\s?[-/.]\s?(?P<y>\d{4})")
_THREE = re.compile(r"(?P<a>\d{1,2})\s?(?P<mark>[-/.])\s?(?P<b>\d{1,2})\s?(?P=mark)\s?(?P<y>\d{4}|\d{2})")
_DAY_NAME = re.compile(rf"(?P<d>\d{{1,2}})(?:st|nd|rd|th)?[\s\-/.]*(?:of\s)?{_MONTH}[\s\-/.,]*'?{_YEAR}")
_NAME_DAY = re.compile(rf"{_MONTH}[\s\-/.]*(?P<d>\d{{1,2}})(?:st|nd|rd|th)?[\s,]+(?P<y>\d{{4}})")
_NAME_YEAR = re.compile(rf"{_MONTH}[\s\-/.,]*'?{_YEAR}")
_WEEK = re.compile(r"(?P<y>\d{4})\s?-?\s?(?:w|wk|week|cw|kw)\s?-?(?P<w>\d{1,2})")
_WEEK_FIRST = re.compile(r"(?:w|wk|week|cw|kw)\s?\.?\s?(?P<w>\d{1,2})[\s\-/.,]+(?P<y>\d{4})")


class DayOrder(Struct, frozen=True):
    """Whether the dates of a column with strokes or dashes, and those with points, begin with the day."""

    stroked: Order = "unknown"
    dotted: Order = "day-first"


def order_of(cells: Iterable[Cell]) -> DayOrder:
    """What the dates of one column show: a first number above 12 is a day, a second one above 12 too.

    Both seen in one column: nothing is decided.
    """
    seen: dict[bool, set[Order]] = {True: set(), False: set()}
    for cell in cells:
        match = _THREE.fullmatch(_plain(cell)) if isinstance(cell, str) else None
        if match and int(match["a"]) > 12 >= int(match["b"]) and not _is_year_first_too(match):
            seen[match["mark"] == "."].add("day-first")
        elif match and int(match["b"]) > 12 >= int(match["a"]):
            seen[match["mark"] == "."].add("month-first")
    stroked, dotted = seen[False], seen[True]
    return DayOrder(
        stroked=next(iter(stroked)) if len(stroked) == 1 else "unknown",
        dotted="day-first" if not dotted else next(iter(dotted)) if len(dotted) == 1 else "unknown",
    )


def day(cell: Cell, order: DayOrder) -> Vague:
    """A day, or "2025-03" or "2025-W10" where no more is written.

    Raises CellFault: not a date, two ways to read it, a day that no calendar has, a bare number.
    """
    if isinstance(cell, date):
        return cell
    if isinstance(cell, (int, float)):
        raise CellFault("sheet.date-number", {"found": shown(cell)})
    return _written_day(cell or "", order)


def earliest(value: Vague) -> date:
    """The first day that a day, month or week can be."""
    if isinstance(value, date):
        return value
    if "W" in value:
        return date.fromisocalendar(int(value[:4]), int(value[6:]), 1)
    return date(int(value[:4]), int(value[5:7]), 1)


def _plain(text: str) -> str:
    return _TIME.sub("", " ".join(text.split()).lower())


def _is_year_first_too(match: re.Match[str]) -> bool:
    # 26-03-01 may be meant as 2026-03-01, so it shows nothing.
    return match["mark"] == "-" and len(match["y"]) == 2


@lru_cache(maxsize=4096)
def _written_day(text: str, order: DayOrder) -> Vague:
    plain = _plain(text)
    if match := _ISO_DAY.fullmatch(plain):
        return _date(text, int(match["y"]), int(match["m"]), int(match["d"]))
    if match := _THREE.fullmatch(plain):
        return _numbers(text, match, order)
    if match := _ISO_MONTH.fullmatch(plain) or _MONTH_YEAR.fullmatch(plain):
        return _month(text, int(match["y"]), int(match["m"]))
    if match := _WEEK.fullmatch(plain) or _WEEK_FIRST.fullmatch(plain):
        return _week(text, int(match["y"]), int(match["w"]))
    return _named(text, plain)


def _named(text: str, plain: str) -> Vague:
    match = _DAY_NAME.fullmatch(plain) or _NAME_DAY.fullmatch(plain)
    if match and match["name"] in _MONTHS:
        return _date(text, _year(match["y"]), _MONTHS[match["name"]], int(match["d"]))
    match = _NAME_YEAR.fullmatch(plain)
    if match and match["name"] in _MONTHS:
        return _month(text, _year(match["y"]), _MONTHS[match["name"]])
    raise CellFault("sheet.date-unreadable", {"found": shown(text)})


def _numbers(text: str, match: re.Match[str], order: DayOrder) -> date:
    first, second, year = int(match["a"]), int(match["b"]), _year(match["y"])
    if _is_year_first_too(match):
        raise CellFault("sheet.date-two-digits", {"found": shown(text)})
    if match["mark"] == ".":
        chosen = order.dotted
    elif first > 12 or second > 12:
        chosen = "day-first" if first > 12 else "month-first"
    else:
        chosen = order.stroked
    if first == second:
        return _date(text, year, second, first)
    if chosen == "unknown":
        one, other = _date(text, year, second, first), _date(text, year, first, second)
        raise CellFault("sheet.date-ambiguous", {"found": shown(text), "one": str(one), "other": str(other)})
    return _date(text, year, second, first) if chosen == "day-first" else _date(text, year, first, second)


def _year(digits: str) -> int:
    return 2000 + int(digits) if len(digits) == 2 else int(digits)


def _date(text: str, year: int, month: int, number: int) -> date:
    if not (year >= 1900 and 1 <= month <= 12 and 1 <= number <= calendar.monthrange(year, month)[1]):
        raise CellFault("sheet.date-impossible", {"found": shown(text)})
    return date(year, month, number)


def _month(text: str, year: int, month: int) -> str:
    return _date(text, year, month, 1).isoformat()[:7]


def _week(text: str, year: int, week: int) -> str:
    # The 28th of December lies in the last week of every year.
    if not (year >= 1900 and 1 <= week <= date(year, 12, 28).isocalendar().week):
        raise CellFault("sheet.date-impossible", {"found": shown(text)})
    return f"{year:04d}-W{week:02d}"
