"""Add a piece: its marks as printed on it, in a crib, with whatever records come with it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from msgspec.structs import replace

from app.decision.case.pieces import read_piece
from app.decision.domain.errors import BadInput
from app.decision.domain.history import History
from app.decision.domain.piece import Piece
from app.decision.domain.record import Issue, Return
from app.decision.fields.reading import Table
from app.decision.judging.answers import Saved
from app.register.journal import SITE_BOOK
from app.register.reads import names, register
from app.register.reads.pieces import Kept
from app.register.unit import Unit
from app.register.writes.rows import piece_row, record_row
from app.register.writes.statuses import new_piece, put_statuses
from app.usecases.books import FIRST_CRIB, of_crib
from app.usecases.desk import Desk
from app.usecases.entering import day_of, known_code, on_day


def add_piece(desk: Desk, by: str, table: Table, crib: str = "") -> Saved:
    """Add one piece from its table in the keys of a worked case; BadInput for a code that is taken."""
    piece = read_piece(table, "piece")
    with desk.write(by, books=of_crib(crib)) as unit:
        put_piece(desk, unit, piece, crib_for(unit, crib))
        return Saved(tuple(unit.names))


def crib_for(unit: Unit, written: str, *, may_be_new: bool = False) -> str:
    """The crib meant; the only one where none is named, and the first one where there is none yet."""
    there = unit.read(register.cribs)
    if not written and len(there) > 1:
        raise BadInput("crib.say-which", thing=", ".join(there))
    name = written or (there[0] if there else FIRST_CRIB)
    if name in there:
        return name
    if there and not may_be_new:
        known_code(there, name, "crib.unknown")
    put_crib(unit, name)
    return name


def put_crib(unit: Unit, name: str) -> None:
    """Set up a crib, whose book begins with its first piece. The site's own book is no crib's."""
    if name.casefold() == SITE_BOOK:
        raise BadInput("crib.not-site", thing=name)
    unit.add(SITE_BOOK, "crib", name, {"code": name})


def put_piece(desk: Desk, unit: Unit, piece: Piece, crib: str) -> None:
    """Write a new piece and its records; BadInput for a code taken, or a day ahead."""
    taken = unit.read(lambda connection: names.pieces_meant(connection, piece.code))
    if taken:
        raise BadInput("piece.taken", thing=piece.code, other=tuple(taken))
    put_pieces(desk, unit, [(piece, crib)])


def put_pieces(desk: Desk, unit: Unit, added: Iterable[tuple[Piece, str]]) -> None:
    """Write new pieces whose codes are known to be free."""
    today, standings = desk.today(), []
    for piece, crib in added:
        if not isinstance(piece.first_issue, str) and piece.first_issue.first > today:
            raise BadInput("entry.ahead", thing=str(piece.first_issue), today=str(today), place=piece.code)
        _is_not_out(piece, today)
        unit.add(crib, "piece", piece.code, piece_row(piece, crib, 1))
        for record in piece.records:
            if day_of(record) > today:
                raise BadInput("entry.ahead", thing=str(record.on), today=str(today), place=piece.code)
            # The clock has nothing to say about a record of an earlier day, and there may be millions of them.
            is_past = record.on is not None and record.on.first < today
            dated = record if is_past else on_day(desk, record)
            unit.add(crib, "record", piece.code, record_row(piece.code, dated))
        standings.append(new_piece(piece, crib, 1))
        unit.touch([piece.code])
    put_statuses(unit.connection, standings)


def _is_not_out(piece: Piece, today: date) -> None:
    """BadInput for a piece that is out by the records it comes with: who has it is an act of its own."""
    moves = [record for record in piece.records if isinstance(record, (Issue, Return))]
    if any(isinstance(move, Issue) for move in moves) and (
        isinstance(moves[-1], Issue) or History.of(piece, today).open_issue() is not None
    ):
        raise BadInput("piece.added-out", thing=piece.code)


def revise_piece(unit: Unit, kept: Kept, piece: Piece, crib: str) -> None:
    """Write the piece's next revision."""
    revision = kept.revision + 1
    unit.add(crib, "piece", piece.code, piece_row(replace(piece, records=()), crib, revision))
    unit.flush()
    unit.forget(piece.code)
    put_statuses(unit.connection, [new_piece(piece, crib, revision)])
    unit.touch([piece.code])
