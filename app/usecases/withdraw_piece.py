"""Withdraw pieces for good."""

from __future__ import annotations

from collections.abc import Collection

from app.decision.domain.record import Withdrawal
from app.decision.judging.answers import Saved
from app.usecases.books import of_pieces
from app.usecases.desk import Desk
from app.usecases.entering import enter, on_day, several
from app.usecases.hand_over import not_out


def withdraw_piece(desk: Desk, by: str, codes: Collection[str], reason: str) -> Saved:
    """Take them out for good, with the reason; BadInput for one that is out: it has to come back first."""
    with desk.write(by, books=of_pieces(codes)) as unit:
        pieces_kept = several(unit, codes)
        not_out(unit, pieces_kept)
        for kept in pieces_kept:
            enter(unit, kept, on_day(desk, Withdrawal()), reason=reason)
        return Saved(tuple(unit.names))
