"""List what is due from the register: standings as kept, the day's part worked out for today."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from app.domain.calendar import last_good_day
from app.domain.facts import Facts, Job
from app.domain.piece import Piece
from app.judging.answers import DueAnswer, DueQuestion, DueRow
from app.judging.catalogues import catalogues, rule_sets_of
from app.judging.standing import Lasting, Standing, is_dated, standing, state_on
from app.store.derived import noted
from app.store.engine import Connection
from app.store.reads import pieces
from app.store.reads.due import ShelfRow, shelf_rows
from app.store.reads.register import depot_without_kit
from app.usecases.desk import Desk
from app.usecases.entering import codes_of
from app.usecases.list_due import is_listed, urgency


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
            found = shelf_rows(connection)
            rows = [_row(one, question.on, facts) for one in found if one.kind in known.kinds]
            left_out = len(found) - len(rows)
        listed = [row for row in rows if is_listed(row.standing, question)]
        if is_drawn and not question.pieces:
            listed = _named(connection, facts, [row.standing.piece.code for row in listed])
        return DueAnswer(question, facts, tuple(sorted(listed, key=urgency)), left_out)

    return desk.ask(read)


def _named(connection: Connection, facts: Facts, codes: Iterable[str]) -> list[DueRow]:
    kept = pieces.pieces(connection, codes)
    pieces_asked = tuple(one.piece for one in kept.values() if one.piece.kind in facts.kinds)
    asked = facts.with_pieces(pieces_asked)
    return [DueRow(standing(asked, one), kept[one.code].crib) for one in pieces_asked]


def _row(row: ShelfRow, today: date, facts: Facts) -> DueRow:
    due_on = None if row.due_on is None else date.fromisoformat(row.due_on)
    kept = Lasting(
        row.state, noted(row.why), due_on, row.decides,
        None if row.counted_from is None else date.fromisoformat(row.counted_from), (), row.holder, row.place,
        "unknown", is_dated(facts, row.kind),
        None if row.checked_on is None else date.fromisoformat(row.checked_on),
        None if row.unchecked is None else noted(row.unchecked),
    )  # fmt: skip
    state, why = state_on(kept, today, facts.site.warning_days)
    piece = Piece(code=row.piece, kind=row.kind)
    use_until = None if due_on is None else last_good_day(due_on)
    place = row.crib if not row.holder else row.place
    return DueRow(
        Standing(
            piece, state, due_on, use_until, why, row.holder, place, row.decides, kept.counted_from, (), today,
            is_dated=kept.is_dated,
        ),
        row.crib,
    )  # fmt: skip
