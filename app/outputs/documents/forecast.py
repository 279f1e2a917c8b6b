"""Retests falling due month by month: what is overdue first, then each month ahead; by-date demands only."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from msgspec import Struct

from app.decision.judging.status import Status

MONTHS = 12
_GONE = frozenset({"withdrawn", "lost"})


class Forecast(Struct, frozen=True):
    """`past`: retests due by today; `months`: (year, month, how many) from this month on; `later`: after them.

    `undated`: pieces in service of which a date is asked and none is known. The four together are every piece in
    service of which a date is asked.
    """

    today: date
    past: int
    months: tuple[tuple[int, int, int], ...]
    later: int
    undated: int


def forecast(standings: Iterable[Status], today: date, months: int = MONTHS) -> Forecast:
    """Count due days of pieces in service; a piece without a date is in no month."""
    counts = dict.fromkeys((_month(today, number) for number in range(months)), 0)
    past = later = undated = 0
    for status in standings:
        if status.state in _GONE:
            continue
        if status.due_on is None:
            undated += status.is_dated
            continue
        month = (status.due_on.year, status.due_on.month)
        if status.due_on <= today:
            past += 1
        elif month in counts:
            counts[month] += 1
        else:
            later += 1
    return Forecast(today, past, tuple((*month, count) for month, count in counts.items()), later, undated)


def _month(today: date, ahead: int) -> tuple[int, int]:
    years, month = divmod(today.month - 1 + ahead, 12)
    return today.year + years, month + 1
