"""Check a kit: who, on which circuits, for which task and days, with which pieces - and the decision with its proof."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TypeVar

from msgspec.structs import replace

from app.decision.domain.errors import BadInput
from app.decision.domain.facts import Facts, Job
from app.decision.domain.piece import Piece
from app.decision.domain.record import ElectricalTest
from app.decision.domain.register import Register, System
from app.decision.domain.verdict import Verdict
from app.decision.domain.voltage import Circuit
from app.decision.fields.reading import nearest
from app.decision.judging.answers import KitAnswer, KitQuestion
from app.decision.judging.catalogues import catalogues, rule_sets_of
from app.decision.judging.change import Change
from app.decision.judging.judge import judge

T = TypeVar("T")


def check_kit(register: Register, question: KitQuestion, *, with_changes: bool = True) -> KitAnswer:
    """Decide. BadInput names a code that is not known, and the nearest that is; nothing is decided by halves."""
    system = _known(register.depot.systems, question.system, "unknown.system")
    facts = facts_for(register, question, system)
    verdict = judge(facts)
    changes = changes_of(register, facts, verdict) if with_changes and not verdict.may_be_issued else ()
    return KitAnswer(question, system, facts, verdict, changes)


def changes_of(register: Register, facts: Facts, verdict: Verdict) -> tuple[Change, ...]:
    """The least change of kit or checks that turns a refusal into an issue."""
    # Only a refusal is searched for what to change, and whoever gets a yes does not wait for the search to load.
    from app.decision.judging.changes import what_to_change

    shelf = tuple(piece for piece in register.pieces.values() if piece.kind in facts.kinds)
    return what_to_change(facts, verdict, shelf)


def facts_for(register: Register, question: KitQuestion, system: System) -> Facts:
    """The facts of a question, every code looked up."""
    known = catalogues()
    people = register.depot.people
    task = _known(known.tasks, question.task, "unknown.task")
    _check_days(question)
    pieces = tuple(find_piece(register, code) for code in question.kit)
    for pair in question.with_leads:
        for code in pair:
            _known({piece.code: piece for piece in pieces}, code, "unknown.kit")
    return Facts(
        on=question.on,
        until=question.until,
        job=Job(
            task=task,
            circuits=_circuits(system, question.circuits),
            with_leads=question.with_leads,
            incident_energy_mcal=question.incident_energy_mcal,
        ),
        pieces=pieces,
        kinds=known.kinds,
        house=known.house,
        rule_sets=rule_sets_of(register.depot),
        site=register.depot.site,
        person=_known(people, question.person, "unknown.person"),
        second=None if question.second is None else _known(people, question.second, "unknown.person"),
    )


def certificates_seen(register: Register, codes: Iterable[str]) -> Register:
    """The register as it is once somebody has confirmed, in one act, that these pieces' certificates were seen."""
    pieces = dict(register.pieces)
    for code in codes:
        piece = find_piece(register, code)
        records = tuple(
            replace(record, confirmed_seen=True) if isinstance(record, ElectricalTest) else record
            for record in piece.records
        )
        pieces[code] = replace(piece, records=records)
    return replace(register, pieces=pieces)


def _check_days(question: KitQuestion) -> None:
    if question.until < question.on:
        raise BadInput("job.until-before-on", thing=str(question.until), on=str(question.on))


def _circuits(system: System, keys: tuple[str, ...]) -> tuple[Circuit, ...]:
    if not keys:
        return system.circuits
    by_key = {circuit.key: circuit for circuit in system.circuits}
    return tuple(_known(by_key, key, "unknown.circuit", system=system.code) for key in dict.fromkeys(keys))


def find_piece(register: Register, code: str) -> Piece:
    """The piece of a code; BadInput for one that is unknown, stands in a bad row, or is of a kind not judged yet."""
    if code in register.bad:
        row, why = register.bad[code]
        raise BadInput("sheet.bad-row", thing=code, row=row, why=why)
    piece = _known(register.pieces, code, "unknown.kit")
    if piece.kind not in catalogues().kinds:
        raise BadInput("kind.not-yet", thing=code, kind=piece.kind)
    return piece


def _known(things: Mapping[str, T], code: str, key: str, system: str = "") -> T:
    """The thing of that code, or BadInput naming the nearest code there is."""
    if code in things:
        return things[code]
    raise BadInput(key, thing=code, nearest=nearest(code, things), system=system)
