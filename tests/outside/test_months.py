"""Month arithmetic against two others: one written out by hand over `calendar.monthrange`, and SQLite's own.

Every day of eight years, two of them leap years, by 0 to 24 months. SQLite rolls a day that its month does not have
over into the next month ("2025-08-31" + 6 months is "2026-03-03"), so its answer is corrected by the days it rolled.
"""

from __future__ import annotations

import calendar
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import date, timedelta

import pytest

from app.decision.domain.calendar import Day, add_months

FIRST, LAST = date(2019, 1, 1), date(2026, 12, 31)
MONTHS = range(25)


def every_day() -> Iterator[date]:
    for ordinal in range(FIRST.toordinal(), LAST.toordinal() + 1):
        yield date.fromordinal(ordinal)


def by_hand(day: date, months: int) -> date:
    """Count months from year nought, then clamp to the length of the month reached."""
    year, month = day.year, day.month
    for _ in range(months):
        year, month = (year + 1, 1) if month == 12 else (year, month + 1)
    return date(year, month, min(day.day, calendar.monthrange(year, month)[1]))


def clamped(rolled: date, wanted_day: int) -> date:
    """SQLite's answer put right: a different day of the month means it rolled over, and then the month before ends."""
    return rolled if rolled.day == wanted_day else rolled - timedelta(days=rolled.day)


@pytest.fixture(scope="module")
def by_sqlite() -> dict[tuple[date, int], date]:
    """Every day and number of months, as SQLite has it, overflow corrected."""
    ask = """
        WITH RECURSIVE
            days(day) AS (SELECT :first UNION ALL SELECT date(day, '+1 day') FROM days WHERE day < :last),
            months(n) AS (SELECT 0 UNION ALL SELECT n + 1 FROM months WHERE n < :most)
        SELECT day, n, date(day, '+' || n || ' months') FROM days, months
    """
    values = {"first": FIRST.isoformat(), "last": LAST.isoformat(), "most": MONTHS[-1]}
    with closing(sqlite3.connect(":memory:")) as base:
        rows = base.execute(ask, values).fetchall()
    found = {}
    for day, months, rolled in rows:
        start = date.fromisoformat(day)
        found[(start, months)] = clamped(date.fromisoformat(rolled), start.day)
    return found


def test_sqlite_agrees_with_the_one_written_by_hand_on_every_day(by_sqlite: dict[tuple[date, int], date]) -> None:
    assert len(by_sqlite) == (LAST - FIRST + timedelta(days=1)).days * len(MONTHS)
    assert [key for key, day in by_sqlite.items() if day != by_hand(*key)] == []


def test_ours_agrees_with_both(by_sqlite: dict[tuple[date, int], date]) -> None:
    """Each day at the two intervals that decide, month ends and the days beside them at all of them."""
    wrong = []
    asked = 0
    for day in every_day():
        near_end = (day + timedelta(days=3)).month != day.month or day.day <= 2
        for months in MONTHS if near_end else (6, 12):
            asked += 1
            ours = add_months(day, months)
            if not ours == by_hand(day, months) == by_sqlite[(day, months)]:
                wrong.append((day, months, ours))
    assert wrong == []
    assert asked > 15_000


@pytest.mark.parametrize(
    ("day", "months", "later"),
    [
        # Written down by hand, so that the three cannot be wrong together: the last day of each sort of month.
        (date(2025, 8, 31), 6, date(2026, 2, 28)),
        (date(2023, 8, 31), 6, date(2024, 2, 29)),
        (date(2024, 2, 29), 12, date(2025, 2, 28)),
        (date(2024, 2, 29), 6, date(2024, 8, 29)),
        (date(2025, 3, 31), 6, date(2025, 9, 30)),
        (date(2025, 12, 31), 2, date(2026, 2, 28)),
        (date(2025, 11, 30), 24, date(2027, 11, 30)),
        (date(2025, 5, 15), 0, date(2025, 5, 15)),
    ],
)
def test_month_ends(day: date, months: int, later: date) -> None:
    assert add_months(day, months) == by_hand(day, months) == later


def test_a_month_and_a_week_end_where_the_calendar_says() -> None:
    """`Day` of a month or an ISO week against `monthrange` and `%G-W%V`."""
    for year in range(FIRST.year, LAST.year + 1):
        for month in range(1, 13):
            read = Day.parse(f"{year}-{month:02d}")
            assert (read.last - read.first).days + 1 == calendar.monthrange(year, month)[1]
    for day in every_day():
        week = Day.parse(day.strftime("%G-W%V"))
        assert week.first <= day <= week.last
        assert (week.first.isoweekday(), week.last.isoweekday()) == (1, 7)
