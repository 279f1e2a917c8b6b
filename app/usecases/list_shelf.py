"""List what is due from the register: standings as kept, the day's part worked out for today."""

from __future__ import annotations

from collections.abc import Collection

from msgspec.structs import replace

from app.decision.domain.register import Register
from app.decision.judging.answers import DueAnswer, DueQuestion
from app.decision.judging.catalogues import facts_on, rule_sets_of
from app.decision.kinds import kinds
from app.register.engine import Connection
from app.register.reads import pieces
from app.register.reads.due import shelf_rows
from app.register.reads.out import out_kept, out_now
from app.register.reads.site_rules import depot_rules
from app.usecases.desk import Desk
from app.usecases.entering import codes_of
from app.usecases.list_due import answered, list_due
from app.usecases.shelf_row import dated_kinds, row_of

# What is kept of a piece that is not out: book, entry, person, planned day.
_HERE = ("", 0, None, None)


def list_shelf(desk: Desk, question: DueQuestion, *, is_drawn: bool = False) -> DueAnswer:
    """Every piece, or those named, filtered by how soon they are due.

    Named ones are judged from their entries, and so is everything listed that is to be drawn: a picture shows more than
    a standing keeps.
    """

    def read(connection: Connection) -> DueAnswer:
        if question.pieces:
            return _judged(connection, question, codes_of(connection, question.pieces))
        depot = depot_rules(connection)
        facts = facts_on(question.on, depot.site, rule_sets_of(depot))
        kept, dated, away = shelf_rows(connection), dated_kinds(facts), out_kept(connection)
        rows = [
            row_of(row, question.on, facts, dated, away.get(row.piece, _HERE)[2:])
            for row in kept if row.kind in facts.kinds
        ]  # fmt: skip
        answer = answered(question, facts, rows, len(kept) - len(rows))
        if not is_drawn:
            return answer
        drawn = _judged(connection, question, [row.status.piece.code for row in answer.rows])
        return replace(drawn, left_out=answer.left_out)

    return desk.ask(read)


def _judged(connection: Connection, question: DueQuestion, codes: Collection[str]) -> DueAnswer:
    """These pieces alone, from their entries."""
    kept = pieces.pieces(connection, codes)
    asked = {code: piece_kept.piece for code, piece_kept in kept.items() if piece_kept.piece.kind in kinds()}
    register = Register(depot_rules(connection), asked, {code: piece_kept.crib for code, piece_kept in kept.items()})
    answer = list_due(register, replace(question, pieces=()), out_now(connection, kept))
    return replace(answer, question=question)
