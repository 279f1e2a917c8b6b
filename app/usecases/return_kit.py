"""Take pieces back: from a job or from keeping; what was found on them is entered with it and holds them."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from app.decision.domain.electrical_test import Note
from app.decision.domain.entries import unstruck
from app.decision.domain.errors import BadInput
from app.decision.domain.finding import Cause
from app.decision.domain.record import HandOver, Inspection, Return
from app.decision.judging.answers import Saved
from app.register.reads import out
from app.register.reads.pieces import Kept
from app.register.unit import Unit
from app.register.writes.statuses import take_back
from app.usecases.books import of_pieces
from app.usecases.desk import Desk
from app.usecases.entering import codes_meant, enter, on_day, several
from app.usecases.log_check import read_check


def return_kit(desk: Desk, by: str, codes: Collection[str], defects: Mapping[str, tuple[str, ...]]) -> Saved:
    """Take them back, `defects` by piece; BadInput for a piece that is neither out nor in somebody's keeping."""
    with desk.write(by, books=of_pieces(codes)) as unit:
        pieces_kept = several(unit, codes)
        named = {kept.piece.code: _words(unit, kept, defects) for kept in several(unit, defects)}
        strange = sorted(set(named) - {kept.piece.code for kept in pieces_kept})
        if strange:
            raise BadInput("return.defect-not-in-list", thing=strange[0])
        told = [note for kept in pieces_kept for note in _take(desk, unit, kept, named.get(kept.piece.code, ()))]
        unit.flush()
        take_back(unit.connection, [kept.piece.code for kept in pieces_kept])
        return Saved(tuple(unit.names), tuple(told))


def _words(unit: Unit, kept: Kept, defects: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(
        word for code, words in defects.items() for word in words if kept.piece.code in codes_meant(unit, [code])
    )


def _take(desk: Desk, unit: Unit, kept: Kept, defects: tuple[str, ...]) -> list[Note]:
    code = kept.piece.code
    away = unit.read(lambda connection: out.out_now(connection, [code]))
    if code not in away and not is_elsewhere(kept):
        raise BadInput("return.not-out", thing=code)
    enter(unit, kept, on_day(desk, Return()))
    if not defects:
        return []
    look = read_check(desk, "inspection", kept, {"defects": list(defects)})
    assert isinstance(look, Inspection)
    enter(unit, kept, look)
    return [Note("saved.held", {"piece": code}, Cause.ON_HOLD)]


def is_elsewhere(kept: Kept) -> bool:
    """Whether the piece is in somebody's keeping by what was entered."""
    place = kept.piece.custody
    for entry in unstruck(kept.entries):
        if isinstance(entry.record, HandOver):
            place = entry.record.to
        elif isinstance(entry.record, Return):
            place = "crib"
    return place != "crib"
