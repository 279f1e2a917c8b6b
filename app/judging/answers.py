"""What use cases are asked and answer: values that reports and pictures may read without knowing a use case."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from app.domain.facts import Facts
from app.domain.register import System
from app.domain.verdict import Verdict
from app.judging.cure import Change
from app.judging.standing import Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class KitQuestion:
    """What is asked; codes as typed or scanned, `circuits` empty means every circuit of the system."""

    system: str
    circuits: tuple[str, ...]
    task: str
    person: str
    kit: tuple[str, ...]
    on: date
    until: date
    second: str | None = None
    with_leads: tuple[tuple[str, str], ...] = ()
    incident_energy_mcal: int | None = None


@dataclass(frozen=True, slots=True)
class KitAnswer:
    """The decision, what it was made from, and what would cure a refusal."""

    question: KitQuestion
    system: System
    facts: Facts
    verdict: Verdict
    cure: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class DueQuestion:
    """`within`: days ahead; None lists every piece. `pieces`: only these codes, () means all."""

    on: date
    within: int | None = None
    pieces: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class DueRow:
    """One piece's standing and the crib it belongs to."""

    standing: Standing
    crib: str


@dataclass(frozen=True, slots=True)
class DueAnswer:
    """Rows with the most pressing first; `left_out` counts pieces of kinds this version does not judge yet."""

    question: DueQuestion
    facts: Facts
    rows: tuple[DueRow, ...]
    left_out: int = 0
