"""Move pieces to another crib: the entry stands in both cribs' books."""

from __future__ import annotations

from collections.abc import Collection

from app.decision.domain.entries import Transfer
from app.decision.domain.errors import BadInput
from app.decision.judging.answers import Saved
from app.register.writes.rows import record_row
from app.usecases.add_piece import crib_for, revise_piece
from app.usecases.books import both, of_crib, of_pieces
from app.usecases.desk import Desk
from app.usecases.entering import in_service, on_day, several
from app.usecases.hand_over import not_out


def transfer_pieces(desk: Desk, by: str, codes: Collection[str], crib: str) -> Saved:
    """Move them; BadInput for a crib nobody knows, a piece that is out, withdrawn or already there."""
    with desk.write(by, books=both(of_pieces(codes), of_crib(crib))) as unit:
        crib = crib_for(unit, crib)
        pieces_kept = several(unit, codes)
        not_out(unit, pieces_kept)
        for kept in pieces_kept:
            code = kept.piece.code
            in_service(kept)
            if kept.crib == crib:
                raise BadInput("transfer.already-there", thing=code, crib=crib)
            record = on_day(desk, Transfer(to=crib))
            unit.add(kept.crib, "record", code, record_row(code, record))
            revise_piece(unit, kept, kept.registered, crib)
        return Saved(tuple(unit.names))
