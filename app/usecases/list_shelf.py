"""List what is due from the register: standings as kept, the day's part worked out for today."""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts, Job
from app.decision.judging.answers import DueAnswer, DueQuestion, DueRow
from app.decision.judging.catalogues import catalogues, rule_sets_of
from app.decision.judging.status import Status, status_of
from app.register.engine import Connection
from app.register.reads import pieces
from app.register.reads.due import shelf_rows
from app.register.reads.out import Out, out_kept, out_now
from app.register.reads.register import depot_without_kit
from app.usecases.desk import Desk
from app.usecases.entering import codes_of
from app.usecases.list_due import is_listed, urgency
from app.usecases.shelf_row import dated_kinds, row_of

# What is kept of a piece that is not out: book, entry, person, planned day.
_HERE = ("", 0, None, None)


def list_shelf(desk: Desk, question: DueQuestion, *, is_drawn: bool = False) -> DueAnswer:
    """Every piece, or those named, filtered by how soon they are due.

    Named ones are judged from their entries, and so is everything listed that is to be drawn: a picture shows more than
    a standing keeps.
    """

    def read(connection: Connection) -> DueAnswer:
        depot = depot_without_kit(connection, (), ())
        known = catalogues()
        facts = Facts(
            on=question.on, until=question.on, job=Job(), pieces=(), kinds=known.kinds, house=known.house,
            rule_sets=rule_sets_of(depot), site=depot.site,
        )  # fmt: skip
        if question.pieces:
            rows, left_out = _named(connection, facts, codes_of(connection, question.pieces)), 0
        else:
            shelved, dated, away = shelf_rows(connection), dated_kinds(facts), out_kept(connection)
            rows = [
                row_of(shelf_row, question.on, facts, dated, away.get(shelf_row.piece, _HERE)[2:])
                for shelf_row in shelved if shelf_row.kind in known.kinds
            ]  # fmt: skip
            left_out = len(shelved) - len(rows)
        listed = [row for row in rows if is_listed(row.status, question)]
        if is_drawn and not question.pieces:
            listed = _named(connection, facts, [row.status.piece.code for row in listed])
        return DueAnswer(question, facts, tuple(sorted(listed, key=urgency)), left_out)

    return desk.ask(read)


def _named(connection: Connection, facts: Facts, codes: Iterable[str]) -> list[DueRow]:
    kept = pieces.pieces(connection, codes)
    pieces_asked = tuple(piece_kept.piece for piece_kept in kept.values() if piece_kept.piece.kind in facts.kinds)
    asked = facts.with_pieces(pieces_asked)
    away = out_now(connection, kept)
    return [_due_row(status_of(asked, piece), kept[piece.code].crib, away.get(piece.code)) for piece in pieces_asked]


def _due_row(status: Status, crib: str, out: Out | None) -> DueRow:
    return DueRow(status, crib) if out is None else DueRow(status, crib, out.person, out.until)
