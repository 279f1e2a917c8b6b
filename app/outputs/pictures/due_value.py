"""What the due ribbon is told: the days of one piece as the retest clock found them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from enum import Enum
from typing import Literal


class DateState(Enum):
    """What the days alone say. It is not the status: a held piece may be in date."""

    IN_DATE = "in-date"
    WARNING = "warning"
    OVERDUE = "overdue"
    NO_TEST = "no-test"
    NO_DUE = "no-due"
    UNDATED = "undated"


@dataclass(frozen=True, slots=True)
class DueRibbon:
    """One piece. `due_on` is the first day it no longer counts; None when it cannot be told.

    `test_on` is the last test that counts, None when there is none. `limits` are (label, day) of every limit that was
    weighed and `deciding` is the label of the one that decides. `standing` and `sentence` are ready words.
    `is_held_back`: the piece may not be used whatever its days say (held, away, lost, withdrawn), so the picture says
    "in date until" and never "use until". `is_undated`: no rule sets a date for such a piece, which is not the same as
    a date that is missing. `counted`: what was done on `test_on`. ValueError: a test, a due day or a limit on a piece
    that is said to be undated.
    """

    code: str
    label: str
    test_on: date | None
    first_issue_on: date | Literal["never", "unknown"]
    today: date
    due_on: date | None
    warning_from: date | None
    limits: tuple[tuple[str, date], ...]
    deciding: str
    status: str
    sentence: str
    is_held_back: bool = False
    is_undated: bool = False
    counted: Literal["tested", "calibrated", "inspected", "air-tested"] = "tested"

    def __post_init__(self) -> None:
        """Refuse to call a piece undated that has a date."""
        if self.is_undated and (self.test_on is not None or self.due_on is not None or self.limits):
            message = f"{self.code}: a piece with a test, a due day or a limit is not undated"
            raise ValueError(message)

    @property
    def state(self) -> DateState:
        """What the days say today; a missing test goes before everything else."""
        if self.is_undated:
            return DateState.UNDATED
        if self.test_on is None:
            return DateState.NO_TEST
        if self.due_on is None:
            return DateState.NO_DUE
        if self.today >= self.due_on:
            return DateState.OVERDUE
        if self.warning_from is not None and self.today >= self.warning_from:
            return DateState.WARNING
        return DateState.IN_DATE

    @property
    def last_good_day(self) -> date | None:
        """The day before the due day."""
        return None if self.due_on is None else self.due_on - timedelta(days=1)

    def days(self) -> tuple[date, ...]:
        """Every day that has a place on the strip."""
        issued = None if isinstance(self.first_issue_on, str) else self.first_issue_on
        known = (self.test_on, issued, self.today, self.warning_from, self.due_on, *(day for _, day in self.limits))
        return tuple(day for day in known if day is not None)
