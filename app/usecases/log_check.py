"""Log a check or an event of pieces: air test, inspection, calibration, self-test, event."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from msgspec.structs import replace

from app.decision.case.pieces import read_record
from app.decision.domain.electrical_test import Note
from app.decision.domain.entries import AnyEntry
from app.decision.domain.errors import BadInput
from app.decision.domain.history import has_defect
from app.decision.domain.record import AirTest, Calibration, Event, Inspection, SelfTest
from app.decision.fields.reading import Table
from app.decision.judging.answers import Saved
from app.decision.judging.catalogues import catalogues
from app.decision.judging.offered import suits
from app.register.reads.pieces import Kept
from app.usecases.books import of_pieces
from app.usecases.desk import Desk
from app.usecases.entering import enter, judged_kind, on_day, one_piece, several, twin_of

_NOTHING: Mapping[str, Table] = {}
LOGGED = ("air-test", "inspection", "calibration", "self-test", "event")


def log_check(desk: Desk, by: str, what: str, piece: str, table: Table) -> Saved:
    """One check of one piece, in the keys of a worked case; without a day it is of today and now."""
    if what not in LOGGED:
        raise BadInput("log.not-a-check", thing=what, known=(*LOGGED, "electrical-test"))
    with desk.write(by, books=of_pieces([piece])) as unit:
        kept = one_piece(unit, piece)
        record = read_check(desk, what, kept, table)
        enter(unit, kept, record)
        return Saved(tuple(unit.names), told_of(kept, record))


def inspect_list(
    desk: Desk, by: str, codes: Collection[str], exceptions: Mapping[str, tuple[str, ...]], table: Table,
    of_each: Mapping[str, Table] = _NOTHING,
) -> Saved:  # fmt: skip
    """One inspection of a scanned list: everything without defects but the exceptions, each with its own.

    `table` is said of all of them, `of_each` of single ones by their own codes: caps, jack, clearance, remarks.
    """
    with desk.write(by, books=of_pieces([*codes, *exceptions])) as unit:
        pieces_kept = several(unit, codes)
        own = {kept.piece.code for kept in several(unit, exceptions)}
        named = {one_piece(unit, code).piece.code: defects for code, defects in exceptions.items()}
        if not own <= {kept.piece.code for kept in pieces_kept}:
            strange = min(own - {kept.piece.code for kept in pieces_kept})
            raise BadInput("log.exception-not-in-list", thing=strange)
        told: list[Note] = []
        for kept in pieces_kept:
            written = {"defects": list(named.get(kept.piece.code, ())), **table, **of_each.get(kept.piece.code, {})}
            record = read_check(desk, "inspection", kept, written)
            twin = twin_of(unit, kept, record)
            if twin is not None and len(pieces_kept) > 1:
                # What was scanned a moment ago stands; the rest of the list, and a defect in it, is not lost for it.
                told.append(Note("saved.there-already", {"piece": kept.piece.code, "entry": str(twin)}))
                continue
            enter(unit, kept, record)
            told += told_of(kept, record)
        return Saved(tuple(unit.names), tuple(told))


def read_check(desk: Desk, what: str, kept: Kept, table: Table) -> AnyEntry:
    """The record of a check; BadInput where the kind has no such check, or a result is missing."""
    judged_kind(kept)
    dated = {"on": desk.today(), **table}
    record = read_record({"what": what, **dated}, kept.piece.code)
    if "on" not in table and "at" not in table:
        record = replace(record, at=desk.now())
    known = catalogues()
    suits(record, kept.piece.code, known.kinds[kept.piece.kind], known.house)
    return on_day(desk, record)


def told_of(kept: Kept, record: AnyEntry) -> tuple[Note, ...]:
    """What to say beside "saved": that the piece is now held, or what was not said and will be missed."""
    key = ""
    if isinstance(record, Event) or (isinstance(record, (AirTest, Inspection)) and has_defect(record)):
        key = "saved.held"
    elif isinstance(record, (Calibration, SelfTest)) and record.result == "failed":
        key = "saved.not-counted"
    elif isinstance(record, Inspection) and record.caps is None and catalogues().kinds[kept.piece.kind].has_caps:
        key = "saved.caps-not-said"
    elif isinstance(record, AirTest) and None in (record.left, record.right):
        key = "saved.one-hand"
    elif isinstance(record, AirTest) and record.inflation_c is None:
        key = "saved.inflation-not-said"
    return (Note(key, {"piece": kept.piece.code}),) if key else ()
