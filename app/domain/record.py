"""What happened to a piece: tests, checks, events, custody. Append-only by nature, so all frozen.

Every record has a day (`on`, None where the paper gives none) and may have a time of day (`at`); two records of one
day without times are read in the unfavourable order.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time

from app.domain.calendar import Day


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """Shared by all records: the day and, if written down, the time (site's zone)."""

    on: Day | None = None
    at: time | None = None

    def latest(self, today: date) -> date:
        """The day it counts from when it speaks against the piece: its latest, not beyond `today`."""
        return today if self.on is None else min(self.on.last, today)


@dataclass(frozen=True, slots=True, kw_only=True)
class ElectricalTest(Record):
    """One electrical test of one piece; current per hand in uA, voltage in V.

    `evidence` None means the register has already judged it and `result` stands. `after` names the event this test
    was made to answer.
    """

    result: str | None = None
    evidence: str | None = None
    occasion: str | None = None
    test_v: int | None = None
    kind_of_current: str | None = None
    frequency_mhz: int | None = None
    dwell_s: int | None = None
    left_ua: int | None = None
    right_ua: int | None = None
    soaked: bool = False
    breakdown: bool = False
    after: str | None = None
    certificate_names_piece: bool = True
    lab: str | None = None
    certificate: str | None = None
    method: str | None = None
    confirmed_seen: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class AirTest(Record):
    """Air test of both hands; `inflation_c` in hundredths of the natural size."""

    left: str | None = None
    right: str | None = None
    inflation_c: int | None = None
    defects: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class LookOver(Record):
    """A look at one piece; clearance in um, `caps` and `jack` only where the kind has them."""

    defects: tuple[str, ...] = ()
    harmless: tuple[str, ...] = ()
    caps: str | None = None
    clearance_um: int | None = None
    jack: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Event(Record):
    """What makes the last test doubtful: suspect, repaired, patched, used-without-protectors, dropped, wet."""

    kind: str = ""
    place: str | None = None
    repair: str | None = None
    remaining_mm: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Calibration(Record):
    """Calibration of a measuring or torque tool."""

    result: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SelfTest(Record):
    """Self-test of a detector or proving unit."""

    result: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Issue(Record):
    """Went out for a job."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Return(Record):
    """Came back to the crib."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOver(Record):
    """Given into keeping: `to` is a person's, vehicle's, pool's or crib's code."""

    to: str = "crib"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold(Record):
    """Not to be issued until released."""

    why: str = "suspect"


@dataclass(frozen=True, slots=True, kw_only=True)
class Release(Record):
    """A hold cleared, by whom."""

    by: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Withdrawal(Record):
    """Taken out for good."""


AnyRecord = (
    ElectricalTest
    | AirTest
    | LookOver
    | Event
    | Calibration
    | SelfTest
    | Issue
    | Return
    | HandOver
    | Hold
    | Release
    | Withdrawal
)
