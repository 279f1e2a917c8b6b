"""Enter a repair, a patch or a replaced part: recorded as done, judged, and open until what it asks for is entered."""

from __future__ import annotations

from datetime import date

from msgspec.structs import replace

from app.decision.case.pieces import read_record
from app.decision.domain.declarations import Kind
from app.decision.domain.electrical_test import Note
from app.decision.domain.finding import Outcome
from app.decision.domain.limits import RuleSet, SiteRules
from app.decision.domain.record import Event
from app.decision.fields.reading import Table
from app.decision.judging.answers import Saved
from app.decision.judging.catalogues import facts_on
from app.decision.judging.judge import ask
from app.register.reads.pieces import Kept
from app.usecases.books import of_pieces
from app.usecases.desk import Desk
from app.usecases.entering import enter, judged_kind, on_day, one_piece


def repair_piece(desk: Desk, by: str, piece: str, table: Table) -> Saved:
    """One repair in the keys of an event (kind repaired or patched, place, repair, remaining_mm)."""
    with desk.write(by, books=of_pieces([piece])) as unit:
        kept = one_piece(unit, piece)
        event = read_repair(desk, kept, table)
        enter(unit, kept, event)
        return Saved(tuple(unit.names), told_of_repair(kept, event, desk.today(), *desk.rules(unit)))


def read_repair(desk: Desk, kept: Kept, table: Table) -> Event:
    """The repair as it would be entered; BadInput for an unknown key or a day ahead."""
    judged_kind(kept)
    given = {"kind": "repaired", "on": desk.today(), **table}
    record = read_record({"what": "event", **given}, kept.piece.code)
    assert isinstance(record, Event)
    event = on_day(desk, record if "on" in table else replace(record, at=record.at or desk.now()))
    assert isinstance(event, Event)
    return event


def told_of_repair(
    kept: Kept, event: Event, today: date, site: SiteRules, rule_sets: tuple[RuleSet, ...]
) -> tuple[Note, ...]:
    """What is not allowed of it, and what the piece then waits for."""
    facts = facts_on(today, site, rule_sets, replace(kept.piece, records=(*kept.piece.records, event)))
    findings = [finding for finding in ask(facts, ("repair-allowed",)) if finding.outcome is not Outcome.MET]
    told = [Note("saved.repair-not-allowed", {"piece": kept.piece.code, "finding": finding}) for finding in findings]
    return (*told, Note(_waits_for(facts.kinds[kept.piece.kind]), {"piece": kept.piece.code}))


def _waits_for(kind: Kind) -> str:
    if kind.is_classed:
        return "saved.repair-open"
    return "saved.part-open" if kind.is_instrument or kind.is_chain_part else "saved.repair-unreleased"
