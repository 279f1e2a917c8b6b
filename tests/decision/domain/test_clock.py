"""The retest clock: every shape of first issue against every shape of interval, the day before, on and after."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from app.decision.domain.calendar import Day, add_months, last_good_day
from app.decision.domain.clock import due, due_by_issue_only, shorter_months, weighed
from app.decision.domain.limits import TestInterval
from app.decision.domain.piece import FirstIssue

CAPPED = TestInterval(12, 6, "capped", "Table I-5", "S")
# Natural rubber under us-telecom-268.
NUMBERED = TestInterval(12, 9, 12, "WAC 296-32-22550", "S")
T = date(2025, 3, 31)


def on(year: int, month: int, day: int) -> Day:
    return Day.of(date(year, month, day))


@pytest.mark.parametrize(
    ("first", "due_on", "why"),
    [
        ("unknown", date(2025, 9, 30), "first-issue-unknown/6"),
        ("never", date(2026, 3, 31), "never-issued/12"),
        (on(2025, 3, 30), date(2025, 9, 30), "from-test/6"),
        (on(2025, 3, 31), date(2025, 9, 30), "from-test/6"),
        (on(2025, 4, 1), date(2025, 10, 1), "from-first-issue/6"),
        (on(2025, 9, 29), date(2026, 3, 29), "from-first-issue/6"),
        (on(2025, 9, 30), date(2026, 3, 30), "from-first-issue/6"),
        (on(2025, 10, 1), date(2026, 3, 31), "from-test-issued-later/12"),
        (on(2026, 3, 30), date(2026, 3, 31), "from-test-issued-later/12"),
        (Day.parse("2025-04"), date(2025, 10, 1), "from-first-issue/6"),
        (Day.parse("2025-03"), date(2025, 9, 30), "from-test/6"),
    ],
)
def test_the_capped_clock(first: FirstIssue, due_on: date, why: str) -> None:
    assert due(T, first, CAPPED) == (due_on, why)


def test_of_two_limits_on_one_day_the_test_decides() -> None:
    assert due(date(2025, 1, 15), on(2025, 7, 15), CAPPED) == (date(2026, 1, 15), "from-test-issued-later/12")


@pytest.mark.parametrize(
    ("first", "due_on", "why"),
    [
        ("unknown", date(2025, 12, 31), "first-issue-unknown/9"),
        ("never", date(2026, 3, 31), "never-issued/12"),
        (on(2025, 3, 31), date(2025, 12, 31), "from-test/9"),
        (on(2025, 4, 1), date(2026, 3, 31), "new-from-test/12"),
    ],
)
def test_a_clock_with_months_for_new_kit(first: FirstIssue, due_on: date, why: str) -> None:
    assert due(T, first, NUMBERED) == (due_on, why)


@pytest.mark.parametrize(("months", "due_on", "why"), [
    (5, date(2025, 8, 31), "maker-interval/5"),
    (6, date(2025, 9, 30), "from-test/6"),
    (7, date(2025, 9, 30), "from-test/6"),
    (0, T, "maker-interval/0"),
])  # fmt: skip
def test_the_makers_interval_decides_where_shorter(months: int, due_on: date, why: str) -> None:
    assert due(T, on(2025, 1, 1), CAPPED, months) == (due_on, why)
    assert (add_months(T, months), f"maker-interval/{months}") in weighed(T, on(2025, 1, 1), CAPPED, months)


def test_nothing_is_weighed_that_was_not_said() -> None:
    assert weighed(T, "unknown", CAPPED) == ((date(2025, 9, 30), "first-issue-unknown/6"),)


def test_unknown_is_the_least_over_every_first_issue() -> None:
    days = [Day.of(T + timedelta(days=shift)) for shift in range(-400, 400)]
    for interval in (CAPPED, NUMBERED):
        assert due(T, "unknown", interval)[0] == min(due(T, day, interval)[0] for day in days)


def test_a_later_first_issue_never_shortens() -> None:
    days = [T + timedelta(days=shift) for shift in range(-400, 800)]
    dues = [due(T, Day.of(day), CAPPED)[0] for day in days]
    assert dues == sorted(dues)


def test_the_reading_by_issue_alone_has_no_cap() -> None:
    late = on(2026, 3, 1)
    assert due_by_issue_only(T, late, CAPPED) == date(2026, 9, 1)
    assert due_by_issue_only(T, Day.of(T), CAPPED) == date(2025, 9, 30)
    assert due_by_issue_only(T, "never", CAPPED) == date(2026, 3, 31)


def test_the_due_day_itself_no_longer_counts() -> None:
    assert last_good_day(date(2026, 3, 1)) == date(2026, 2, 28)


@pytest.mark.parametrize("day", [date(2023, 1, number) for number in (1, 28, 29, 30, 31)])
def test_months_keep_the_day_or_clamp_it(day: date) -> None:
    for months in range(-3, 40):
        moved = add_months(day, months)
        assert (moved.year * 12 + moved.month) - (day.year * 12 + day.month) == months
        assert moved.day == day.day or (moved.day < day.day and (moved + timedelta(days=1)).day == 1)


@pytest.mark.parametrize(
    ("months", "maker", "answer"), [(12, None, 12), (12, 11, 11), (12, 12, 12), (12, 13, 12), (12, 0, 0)]
)  # fmt: skip
def test_the_shorter_of_house_and_maker(months: int, maker: int | None, answer: int) -> None:
    assert shorter_months(months, maker) == answer
