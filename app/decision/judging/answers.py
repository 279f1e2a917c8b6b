"""What use cases are asked and answer: values that reports and pictures may read without knowing a use case."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from app.decision.domain.electrical_test import Note
from app.decision.domain.entries import Name
from app.decision.domain.facts import Facts
from app.decision.domain.register import System
from app.decision.domain.verdict import Verdict
from app.decision.judging.change import Change
from app.decision.judging.status import Status


class KitQuestion(Struct, frozen=True, kw_only=True):
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


class OpenIssue(Struct, frozen=True):
    """A kit, or what is left of one, that is out for a system: by which entry, with whom, to which planned day."""

    entry: Name
    person: str
    until: date
    pieces: tuple[str, ...]


class KitAnswer(Struct, frozen=True):
    """The decision, what it was made from, and what to change.

    `open_issues`: where a reading contradicts the system's figures, what went out on them and is not back.
    """

    question: KitQuestion
    system: System
    facts: Facts
    verdict: Verdict
    changes: tuple[Change, ...]
    open_issues: tuple[OpenIssue, ...] = ()


class Saved(Struct, frozen=True):
    """What an act wrote. `entries`: names of its journal lines; `told`: what to say beside "saved", key and values.

    `result`: one of a few words where the act has one: passed, failed, does-not-count, refused.
    """

    entries: tuple[Name, ...]
    told: tuple[Note, ...] = ()
    result: str = ""


class DueQuestion(Struct, frozen=True):
    """`within`: days ahead; None lists every piece. `pieces`: only these codes, () means all."""

    on: date
    within: int | None = None
    pieces: tuple[str, ...] = ()


class DueRow(Struct, frozen=True):
    """One piece's standing and the crib it belongs to.

    `out_with`: the person it is issued to, "" where it is not out; `out_until`: the planned day, None where none is.
    """

    status: Status
    crib: str
    out_with: str = ""
    out_until: date | None = None


class DueAnswer(Struct, frozen=True):
    """Rows with the most pressing first; `left_out` counts pieces of kinds this version does not judge yet."""

    question: DueQuestion
    facts: Facts
    rows: tuple[DueRow, ...]
    left_out: int = 0
