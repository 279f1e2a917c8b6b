"""Findings: one answer to one demand about one subject, with figure, clause and last good day."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from enum import Enum

from msgspec import Struct, field

Figure = int | float | str | date | None
HOUSE = "house policy"


class Outcome(Enum):
    """What a demand comes to. CAUTION rides along and never changes a decision."""

    MET = "met"
    NOT_MET = "not-met"
    CANNOT_TELL = "cannot-tell"
    CAUTION = "caution"


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
    `good_until` is the last good day, inclusive; `key` and `values` make the sentence.
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
        """The fact is known and falls short, or an act the register must hold is not in it."""
        return self._finding(Outcome.NOT_MET, key, None, more)

    def cannot_tell(self, key: str, **more: object) -> Finding:
        """A property is unknown, illegible or contradictory, or a limit is missing: never consent."""
        return self._finding(Outcome.CANNOT_TELL, key, None, more)

    def caution(self, key: str, **more: object) -> Finding:
        """Worth saying, changes nothing."""
        return self._finding(Outcome.CAUTION, key, None, more)

    def _finding(self, outcome: Outcome, key: str, good_until: date | None, more: Mapping[str, object]) -> Finding:
        values = {name: value for name, value in more.items() if name not in _FIGURES}
        return Finding(
            self.rule, self.subject, outcome, key, self.basis, values,
            _figure(more.get("measured")), _figure(more.get("required")), _unit(more.get("unit")), good_until,
        )  # fmt: skip


_FIGURES = frozenset({"measured", "required", "unit"})


def _figure(value: object) -> Figure:
    if value is None or isinstance(value, (int, float, str, date)):
        return value
    return str(value)


def _unit(value: object) -> str | None:
    return None if value is None else str(value)
