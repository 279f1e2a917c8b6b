"""What happened to a piece: tests, checks, events, custody. Append-only by nature, so all frozen.

Every record has a day (`on`, None where the paper gives none) and may have a time of day (`at`); two records of one
day without times are read in the unfavourable order.
"""

from __future__ import annotations

from datetime import date, time

from msgspec import Struct

from app.decision.domain.calendar import Day


class Record(Struct, frozen=True, kw_only=True):
    """Shared by all records: the day and, if written down, the time (site's zone) and the order of entry."""

    on: Day | None = None
    at: time | None = None
    entry: int | None = None

    def latest(self, today: date) -> date:
        """The day it counts from when it speaks against the piece: its latest, not beyond `today`."""
        return today if self.on is None else min(self.on.last, today)


class ElectricalTest(Record, frozen=True, kw_only=True):
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


class AirTest(Record, frozen=True, kw_only=True):
    """Air test of both hands; `inflation_c` in hundredths of the natural size."""

    left: str | None = None
    right: str | None = None
    inflation_c: int | None = None
    defects: tuple[str, ...] = ()


class Inspection(Record, frozen=True, kw_only=True):
    """A look at one piece; clearance in um, `caps` and `jack` only where the kind has them."""

    defects: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    caps: str | None = None
    clearance_um: int | None = None
    jack: str | None = None


class Event(Record, frozen=True, kw_only=True):
    """What makes the last test doubtful: suspect, repaired, patched, used-without-protectors, dropped, wet."""

    kind: str = ""
    place: str | None = None
    repair: str | None = None
    remaining_mm: tuple[int, ...] = ()


class Calibration(Record, frozen=True, kw_only=True):
    """Calibration of a measuring or torque tool."""

    result: str | None = None
    lab: str | None = None
    certificate: str | None = None


class SelfTest(Record, frozen=True, kw_only=True):
    """Self-test of a detector or proving unit."""

    result: str | None = None


class Issue(Record, frozen=True, kw_only=True):
    """Went out for a job, with whom where no decision says so."""

    to: str | None = None


class Return(Record, frozen=True, kw_only=True):
    """Came back to the crib."""


class HandOver(Record, frozen=True, kw_only=True):
    """Given into keeping: `to` is a person's, vehicle's, pool's or crib's code."""

    to: str = "crib"


class Hold(Record, frozen=True, kw_only=True):
    """Not to be issued until released."""

    why: str = "suspect"


class Release(Record, frozen=True, kw_only=True):
    """A hold cleared, by whom."""

    by: str | None = None


class Withdrawal(Record, frozen=True, kw_only=True):
    """Taken out for good; `cut_through_by`: who made it unusable."""

    cut_through_by: str | None = None


AnyRecord = (
    ElectricalTest
    | AirTest
    | Inspection
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
