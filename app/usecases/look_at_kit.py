"""Look at pieces that lie on the counter: how each stands, with whom it is out, and what went out together with it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct

from app.decision.domain.piece import Piece
from app.decision.judging.answers import DueQuestion, DueRow
from app.register.engine import Connection
from app.register.reads import out, pieces
from app.register.reads.out import Out
from app.usecases.desk import Desk
from app.usecases.list_shelf import list_shelf


class OnCounter(Struct, frozen=True):
    """One piece. `row` is None for a kind this version does not judge; `together`: what is out by the same entry."""

    piece: Piece
    row: DueRow | None
    out: Out | None
    together: tuple[str, ...]


def look_at_kit(desk: Desk, codes: Iterable[str]) -> Mapping[str, OnCounter]:
    """By code; a code that is no longer there is left out."""
    wanted = tuple(codes)
    if not wanted:
        return {}
    rows = {row.status.piece.code: row for row in list_shelf(desk, DueQuestion(desk.today(), None, wanted)).rows}

    def read(connection: Connection) -> Mapping[str, OnCounter]:
        kept = pieces.pieces(connection, wanted)
        away = out.out_now(connection)
        on_counter: dict[str, OnCounter] = {}
        for code, piece_kept in kept.items():
            gone = away.get(code)
            same = () if gone is None else tuple(other for other, its in away.items() if its.entry == gone.entry)
            on_counter[code] = OnCounter(piece_kept.piece, rows.get(code), gone, same)
        return on_counter

    return desk.ask(read)
