"""Show one piece's card, or the history of anything the register knows."""

from __future__ import annotations

from app.domain.case.reading import nearest
from app.domain.entries import Name
from app.domain.errors import BadInput
from app.judging.answers import DueQuestion
from app.reports.history import Card
from app.store.engine import Connection
from app.store.reads import lines, names, out, pieces
from app.store.reads.lines import Line
from app.store.reads.out import Decided
from app.usecases.desk import Desk
from app.usecases.entering import codes_of
from app.usecases.list_shelf import list_shelf


def show_piece(desk: Desk, written: str) -> Card:
    """The card of one piece; BadInput where the code means none, or several."""
    codes = desk.ask(lambda connection: codes_of(connection, [written]))
    if len(codes) != 1:
        raise BadInput("entry.one-piece", thing=written)
    code = codes[0]
    rows = list_shelf(desk, DueQuestion(desk.today(), None, (code,))).rows

    def read(connection: Connection) -> Card:
        kept = pieces.pieces(connection, [code])[code]
        if not rows:
            raise BadInput("kind.not-yet", thing=code, kind=kept.piece.kind)
        return Card(
            kept.piece, rows[0], out.out_now(connection, [code]).get(code),
            tuple(names.labels_of(connection, code)), tuple(lines.lines_about(connection, code)),
        )  # fmt: skip

    return desk.ask(read)


def show_history(desk: Desk, written: str) -> tuple[str, list[Line]]:
    """Every line about a piece, person, system, site rule, bag or crib; BadInput where nothing is entered about it."""

    def read(connection: Connection) -> tuple[str, list[Line]]:
        subject = names.piece_meant(connection, written) or names.bag_named(connection, written)[0]
        found = lines.lines_about(connection, subject)
        if not found:
            near = names.nearest_code(connection, written) or nearest(written, lines.subjects(connection))
            raise BadInput("history.nothing", thing=written, nearest=near)
        return subject, found

    return desk.ask(read)


def decision_named(desk: Desk, written: str) -> Decided | None:
    """The decision of BOOK:NUMBER as it was taken; None where what is written names none."""
    book, _, number = written.rpartition(":")
    if not book or not number.isdigit() or len(number) > 15:
        return None
    return desk.ask(lambda connection: out.decision(connection, Name(book, int(number))))
