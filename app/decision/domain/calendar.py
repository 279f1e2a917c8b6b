"""Months, clamped at month end, and days that are known only as a month or a week.

>>> add_months(date(2025, 8, 31), 6)
datetime.date(2026, 2, 28)
>>> Day.parse("2025-03").last
datetime.date(2025, 3, 31)
"""

from __future__ import annotations

import re
from datetime import date, timedelta
from functools import lru_cache

from dateutil.relativedelta import relativedelta
from msgspec import Struct

_MONTH = re.compile(r"(\d{4})-(\d{2})")
_WEEK = re.compile(r"(\d{4})-W(\d{2})")
ONE_DAY = timedelta(days=1)


@lru_cache(maxsize=4096)
def add_months(day: date, months: int) -> date:
    """Calendar months later; a day the month does not have becomes its last one (never the next month)."""
    return day + relativedelta(months=months)


def last_good_day(due_on: date) -> date:
    """The day before the due day: the due day itself no longer counts."""
    return due_on - ONE_DAY


class Day(Struct, frozen=True):
    """A day as written: exact (`first == last`), or somewhere in a month or an ISO week, both ends included.

    When the record speaks for the piece it counts from `first`, when against it from `last` (rules: never beyond
    the day of judging).
    """

    first: date
    last: date

    @classmethod
    def of(cls, day: date) -> Day:
        """An exact day."""
        return cls(day, day)

    @classmethod
    def parse(cls, written: object) -> Day:
        """Read a date, "2026-03-01", "2025-03" or "2025-W10"; ValueError for anything else."""
        if isinstance(written, date):
            return cls.of(date(written.year, written.month, written.day))
        text = str(written).strip()
        if month := _MONTH.fullmatch(text):
            first = date(int(month[1]), int(month[2]), 1)
            return cls(first, add_months(first, 1) - ONE_DAY)
        if week := _WEEK.fullmatch(text):
            monday = date.fromisocalendar(int(week[1]), int(week[2]), 1)
            return cls(monday, monday + timedelta(days=6))
        if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
            raise ValueError(text)
        return cls.of(date.fromisoformat(text))

    @property
    def is_exact(self) -> bool:
        """Whether the day itself is known."""
        return self.first == self.last

    def __str__(self) -> str:
        if self.is_exact:
            return self.first.isoformat()
        return f"{self.first.isoformat()} to {self.last.isoformat()}"
