"""Findings: one answer to one demand about one subject, with figure, clause and last good day."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from enum import Enum
from typing import TypeVar

from msgspec import Struct, field

Figure = int | float | str | date | None
HOUSE = "house policy"


class Outcome(Enum):
    """What a demand comes to. CAUTION rides along and never changes a decision."""

    MET = "met"
    NOT_MET = "not-met"
    CANNOT_TELL = "cannot-tell"
    CAUTION = "caution"


class Cause(Enum):
    """Why a demand is not met, as far as anything is decided by it; the sentence says the rest."""

    NONE = "none"
    SHORT = "falls-short"
    UNKNOWN = "unknown"
    RUN_OUT = "run-out"
    FAILED = "failed"
    DEFECT = "defect"
    NOT_DONE = "not-done-today"
    NO_RECORD = "no-record"
    PAPER_NOT_SEEN = "certificate-not-seen"
    NOT_IN_PRINT = "not-seen-in-print"
    ON_HOLD = "on-hold"
    OUT = "out"
    ELSEWHERE = "elsewhere"
    LOST = "lost"
    WITHDRAWN = "withdrawn"
    MISSING = "missing-from-kit"


class Remedy(Enum):
    """What puts it right: another piece, an act to be entered, or something outside kit and checks (JOB)."""

    NONE = "none"
    OTHER_PIECE = "another-piece"
    ADD_PIECE = "add-piece"
    AIR_TEST = "air-test"
    INSPECTION = "inspection"
    SELF_TEST = "self-test"
    RETEST = "electrical-test"
    CALIBRATION = "calibration"
    CERTIFICATE = "see-certificate"
    FIGURE = "confirm-figure"
    RELEASE = "release"
    TAKE_BACK = "take-back"
    STATE = "state-property"
    JOB = "job-or-system"


class Renewal(Enum):
    """How a met demand has to be met again."""

    BY_DATE = "by-date"
    EACH_DAY = "each-day"
    EACH_ISSUE = "each-issue"


class Basis(Struct, frozen=True):
    """What a demand rests on: clause (or "house policy"), confidence letter and the set that asks."""

    clause: str
    confidence: str
    rule_set: str = ""


HOUSE_BASIS = Basis(HOUSE, "H", "house")


class Finding(Struct, frozen=True):
    """One demand, one subject, one outcome.

    `measured` and `required` are in `unit` (volts are volts here, not millivolts: this is what people are shown);
    `good_until` is the last good day, inclusive; `key` and `values` make the sentence, `cause` and `remedy` are what
    anything is decided by.
    """

    rule: str
    subject: str
    outcome: Outcome
    key: str
    basis: Basis
    values: Mapping[str, object] = field(default_factory=dict)
    measured: Figure = None
    required: Figure = None
    unit: str | None = None
    good_until: date | None = None
    cause: Cause = Cause.NONE
    remedy: Remedy = Remedy.NONE


class Demand(Struct, frozen=True):
    """A pen for one rule, subject and basis, so that a rule reads as the sentence it stands for."""

    rule: str
    subject: str
    basis: Basis = HOUSE_BASIS

    def on(self, basis: Basis) -> Demand:
        """The same demand resting on another clause."""
        return Demand(self.rule, self.subject, basis)

    def met(self, key: str, **more: object) -> Finding:
        """The fact is known and reaches."""
        return self._finding(Outcome.MET, key, None, more)

    def met_until(self, key: str, good_until: date, **more: object) -> Finding:
        """The fact is known and reaches, up to and including `good_until`."""
        return self._finding(Outcome.MET, key, good_until, more)

    def not_met(self, key: str, **more: object) -> Finding:
        """The fact is known and falls short, or an act the register must hold is not in it.

        Another piece puts it right, where `cause` and `remedy` do not say otherwise.
        """
        return self._finding(Outcome.NOT_MET, key, None, {"cause": Cause.SHORT, "remedy": Remedy.OTHER_PIECE, **more})

    def cannot_tell(self, key: str, **more: object) -> Finding:
        """A property is unknown, illegible or contradictory, or a limit is missing: never consent.

        Stating the property puts it right, where `cause` and `remedy` do not say otherwise.
        """
        return self._finding(Outcome.CANNOT_TELL, key, None, {"cause": Cause.UNKNOWN, "remedy": Remedy.STATE, **more})

    def not_in_print(self, limit: str, **more: object) -> Finding:
        """It rests on the figure of this key, which nobody has seen in print."""
        paper = {"cause": Cause.NOT_IN_PRINT, "remedy": Remedy.FIGURE, "limit": limit, **more}
        return self._finding(Outcome.CANNOT_TELL, "limit-not-seen-in-print", None, paper)

    def voltage_unknown(self, circuit: str) -> Finding:
        """Without the working voltage of this circuit nobody can tell."""
        return self.cannot_tell("stands.voltage-unknown", remedy=Remedy.JOB, circuit=circuit)

    def caution(self, key: str, **more: object) -> Finding:
        """Worth saying, changes nothing."""
        return self._finding(Outcome.CAUTION, key, None, more)

    def _finding(self, outcome: Outcome, key: str, good_until: date | None, more: Mapping[str, object]) -> Finding:
        values = {name: value for name, value in more.items() if name not in _FIGURES}
        return Finding(
            self.rule, self.subject, outcome, key, self.basis, values,
            _figure(more.get("measured")), _figure(more.get("required")), _unit(more.get("unit")), good_until,
            _one_of(Cause, more.get("cause")), _one_of(Remedy, more.get("remedy")),
        )  # fmt: skip


_FIGURES = frozenset({"measured", "required", "unit", "cause", "remedy"})
Closed = TypeVar("Closed", Cause, Remedy)


def _one_of(closed: type[Closed], value: object) -> Closed:
    return value if isinstance(value, closed) else closed("none")


def _figure(value: object) -> Figure:
    if value is None or isinstance(value, (int, float, str, date)):
        return value
    return str(value)


def _unit(value: object) -> str | None:
    return None if value is None else str(value)
