"""Hand pieces over for keeping: to a person, a vehicle, a pool, or back to the crib. Custody is not issue."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from app.decision.domain.electrical_test import Note
from app.decision.domain.errors import BadInput
from app.decision.domain.record import HandOver
from app.decision.fields.reading import nearest
from app.decision.judging.answers import Saved
from app.decision.judging.offered import CRIB
from app.register.reads import out, register
from app.register.reads.pieces import Kept
from app.register.unit import Unit
from app.usecases.books import of_pieces
from app.usecases.desk import Desk
from app.usecases.entering import enter, judged_kind, on_day, several
from app.usecases.release_piece import why_held

POOL = "pool:"


def hand_over(desk: Desk, by: str, codes: Collection[str], to: str) -> Saved:
    """Hand them over; BadInput for a keeper nobody knows, a piece that is out, held, lost or withdrawn."""
    with desk.write(by, books=of_pieces(codes)) as unit:
        _keeper(unit, to)
        pieces_kept = several(unit, codes)
        not_out(unit, pieces_kept)
        told: list[Note] = []
        for kept in pieces_kept:
            judged_kind(kept)
            if kept.piece.is_lost:
                raise BadInput("hand-over.lost", thing=kept.piece.code)
            why = why_held(desk, unit, kept) if to != CRIB else None
            if why is not None:
                raise BadInput("hand-over.held", thing=kept.piece.code)
            if kept.piece.first_issue == "never" and to != CRIB:
                told.append(Note("saved.first-issue", {"piece": kept.piece.code}))
            enter(unit, kept, on_day(desk, HandOver(to=to)))
        return Saved(tuple(unit.names), tuple(told))


def _keeper(unit: Unit, to: str) -> None:
    known = [CRIB, *unit.read(register.people_kept), *unit.read(register.systems_kept)]
    if to not in known and not (to.startswith(POOL) and to != POOL):
        raise BadInput("hand-over.unknown", thing=to, nearest=nearest(to, known))


def not_out(unit: Unit, pieces_kept: Iterable[Kept]) -> None:
    """BadInput for the first piece that is out, saying with whom and by which entry."""
    codes = [kept.piece.code for kept in pieces_kept]
    away = unit.read(lambda connection: out.out_now(connection, codes))
    for code in codes:
        if code in away:
            gone = away[code]
            raise BadInput("piece.out", thing=code, person=gone.person, entry=str(gone.entry))
