"""Reading worked cases: `[[case]]` tables of one file into values the runner can judge."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from datetime import date
from typing import Any

from msgspec import Struct, field

from app.decision.case.pieces import read_piece
from app.decision.case.site import read_site
from app.decision.case.world import read_circuit, read_person
from app.decision.domain import former
from app.decision.domain.errors import BadInput
from app.decision.domain.limits import SiteRules
from app.decision.domain.piece import Person, Piece
from app.decision.domain.voltage import Circuit
from app.decision.fields import words
from app.decision.fields.reading import (
    Reader,
    Table,
    as_table,
    as_tables,
    exact_day,
    one_of,
    read_table,
    require,
    scaled,
    some_of,
    text,
    yes_no,
)
from app.decision.tasks import tasks

DEFAULT_RULE_SETS = ("us-osha-137",)


class CaseJob(Struct, frozen=True, kw_only=True):
    """The job of a case; `task` is a key, not yet a declaration."""

    task: str | None = None
    circuits: tuple[Circuit, ...] = ()
    without_protectors: bool = False
    dexterity_stated_by: str | None = None
    low_damage_risk_stated_by: str | None = None
    incident_energy_mcal: int | None = None
    place: str | None = None
    with_leads: tuple[tuple[str, str], ...] = ()


class Expected(Struct, frozen=True, kw_only=True):
    """One expected finding: those named must be found, others may exist."""

    rule: str
    subject: str | None = None
    outcome: str = "met"
    good_until: date | None = None
    caution: bool = False


class Case(Struct, frozen=True, kw_only=True):
    """One worked case as written; `ask`, `entry`, `expect` stay tables: their keys depend on what is asked."""

    id: str
    source: str
    confidence: str
    level: str
    rule_sets: tuple[str, ...] = DEFAULT_RULE_SETS
    on: date | None = None
    until: date | None = None
    site: SiteRules = field(default_factory=SiteRules)
    site_table: Table = field(default_factory=dict)
    job: CaseJob = field(default_factory=CaseJob)
    person: Person | None = None
    second: Person | None = None
    pieces: tuple[Piece, ...] = ()
    ask: Table = field(default_factory=dict)
    entry: Table = field(default_factory=dict)
    expect: Table = field(default_factory=dict)
    expected: tuple[Expected, ...] = ()


def _task(value: object) -> str:
    # Asked with the first job that names one: reading a finding needs no task.
    return one_of(*tasks())(value)


_JOB: Mapping[str, Reader] = {
    "task": _task,
    "circuits": lambda value: value,
    "without_protectors": yes_no,
    "dexterity_stated_by": text,
    "low_damage_risk_stated_by": text,
    "incident_energy_cal": scaled(3),
    "place": text,
    "with": lambda value: value,
}
_CASE: Mapping[str, Reader] = {
    "id": text, "source": text, "confidence": one_of(*words.CONFIDENCE), "level": one_of(*words.LEVELS),
    "rule_sets": some_of(*words.RULE_SETS), "on": exact_day, "until": exact_day,
    **{key: (lambda value: value) for key in ("site", "job", "person", "second", "pieces", "ask", "entry", "expect")},
}  # fmt: skip
_FINDING: Mapping[str, Reader] = {
    "rule": lambda value: one_of(*words.RULES)(former.RULES.get(str(value), value)),
    "subject": text,
    "outcome": one_of("met", "not-met", "cannot-tell"),
    "good_until": exact_day,
    "caution": yes_no,
}
_EXPECT = ("value", "unit", "within", "error", "caution", "decision", "findings", "entry", "result")


def read_cases(written: str, file: str) -> tuple[Case, ...]:
    """Every `[[case]]` of one file's text; BadInput names file, case and key."""
    try:
        document = tomllib.loads(written)
    except tomllib.TOMLDecodeError as fault:
        raise BadInput("file.not-toml", file=file, thing=str(fault)) from fault
    try:
        return tuple(read_case(table) for table in _tables(document))
    except BadInput as fault:
        fault.file = file
        raise


def _tables(document: Table) -> list[Table]:
    for key in document:
        if key != "case":
            raise BadInput("case.unknown-key", thing=key, nearest="case")
    tables = as_tables(document.get("case", []), "", "case")
    if not tables:
        raise BadInput("case.none", thing="case")
    return tables


def read_case(table: Table) -> Case:
    """One case from its table."""
    place = f"case {table.get('id', '?')}"
    require(table, ("id", "source", "confidence", "level", "expect"), place)
    read: dict[str, Any] = read_table(table, _CASE, {}, place)
    person, second = read.get("person"), read.get("second")
    expect = as_table(read["expect"], place, "expect")
    site_table = as_table(read.get("site", {}), place, "site")
    simple = {
        key: read[key] for key in ("id", "source", "confidence", "level", "rule_sets", "on", "until") if key in read
    }
    case = Case(
        **simple,
        site=read_site(site_table, place),
        site_table=site_table,
        job=_job(as_table(read.get("job", {}), place, "job"), place),
        person=None if person is None else read_person(as_table(person, place, "person"), f"{place} person"),
        second=None if second is None else read_person(as_table(second, place, "second"), f"{place} second"),
        pieces=tuple(read_piece(one, place) for one in as_tables(read.get("pieces", []), place, "pieces")),
        ask=as_table(read.get("ask", {}), place, "ask"),
        entry=as_table(read.get("entry", {}), place, "entry"),
        expect=expect,
        expected=_expected(expect, place),
    )
    _check_order(case, place)
    return case


def _check_order(case: Case, place: str) -> None:
    if case.level in ("finding", "decision", "entry") and case.on is None:
        raise BadInput("case.key-missing", place=place, thing="on")
    if case.on is not None and case.until is not None and case.until < case.on:
        raise BadInput("case.until-before-on", place=place, thing=str(case.until))
    if case.level == "decision" and case.job.task is None:
        raise BadInput("case.key-missing", place=place, thing="job.task")


def _expected(expect: Table, place: str) -> tuple[Expected, ...]:
    read_table(expect, {key: (lambda value: value) for key in _EXPECT}, {}, f"{place} expect")
    found = []
    for table in as_tables(expect.get("findings", []), place, "findings"):
        require(table, ("rule", "outcome"), f"{place} expect")
        read: dict[str, Any] = read_table(table, _FINDING, {}, f"{place} expect")
        found.append(Expected(**read))
    return tuple(found)


def _job(table: Table, place: str) -> CaseJob:
    names = {"incident_energy_cal": "incident_energy_mcal", "with": "with_leads"}
    read: dict[str, Any] = read_table(table, _JOB, names, f"{place} job")
    circuits = as_tables(read.pop("circuits", []), place, "circuits")
    pairs = read.pop("with_leads", [])
    if not isinstance(pairs, list) or any(not isinstance(pair, list) or len(pair) != 2 for pair in pairs):
        raise BadInput("case.not-pairs", place=f"{place} job", thing="with")
    return CaseJob(
        **read,
        circuits=tuple(read_circuit(one, f"{place} circuit") for one in circuits),
        with_leads=tuple((str(meter), str(leads)) for meter, leads in pairs),
    )
