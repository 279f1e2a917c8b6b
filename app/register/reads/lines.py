"""The journal as people look at it: what was entered, when, by whom."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.engine import Connection

from app.decision.domain.entries import Entry, Name
from app.decision.domain.piece import Piece
from app.register.columns import Instant
from app.register.journal import SITE_BOOK, Head
from app.register.marks import SCHEMA
from app.register.reads.order import in_order
from app.register.reads.pieces import entry_of, piece_of
from app.register.tables import JOURNAL, PIECE
from app.register.unit import head_of
from app.register.upcasts import upcast
from app.register.verify import books

_SELECT = select(
    JOURNAL.c.book, JOURNAL.c.number, JOURNAL.c.at, JOURNAL.c.actor, JOURNAL.c.kind, JOURNAL.c.subject,
    JOURNAL.c.content, JOURNAL.c.revision,
)  # fmt: skip
_INSTANT = Instant()


class Line(Struct, frozen=True):
    """One line: its name, moment (UTC), actor, kind of row, subject, and the row as plain values.

    A line of an older schema is told in the columns of today.
    """

    name: Name
    at: datetime
    actor: str
    kind: str
    subject: str
    content: Mapping[str, Any]


def lines_about(connection: Connection, subject: str) -> list[Line]:
    """Every line about one subject, in the order of entry."""
    rows = connection.execute(_SELECT.where(JOURNAL.c.subject == subject))
    return in_order((row.book, row.number, _INSTANT.stored(row.at), _line(row)) for row in rows)


def line(connection: Connection, name: Name) -> Line | None:
    """One line, None where there is none."""
    asked = _SELECT.where(JOURNAL.c.book == name.book, JOURNAL.c.number == name.number)
    row = connection.execute(asked).first()
    return None if row is None else _line(row)


def books_with(connection: Connection, number: int) -> list[str]:
    """The books that have a line of this number."""
    asked = select(JOURNAL.c.book).where(JOURNAL.c.number == number).order_by(JOURNAL.c.book)
    return list(connection.execute(asked).scalars())


def heads(connection: Connection) -> dict[str, Head]:
    """The last line of every book."""
    return {book: head_of(connection, book) for book in books(connection)}


def _line(row: Any) -> Line:  # noqa: ANN401  # a row of the library, which stays in this room
    content = upcast(row.kind, row.revision, json.loads(row.content), SCHEMA)
    return Line(Name(row.book, row.number), row.at, row.actor, row.kind, row.subject, content)


def subjects(connection: Connection) -> list[str]:
    """What the site's book speaks of: people, systems, site rules, bags, cribs."""
    of_site = select(JOURNAL.c.subject).where(JOURNAL.c.book == SITE_BOOK)
    return list(connection.execute(of_site.distinct().order_by(JOURNAL.c.subject)).scalars())


def last_entry(connection: Connection, actor: str) -> Name:
    """The last entry about a piece that somebody made; the site's book is left out."""
    asked = select(JOURNAL.c.book, JOURNAL.c.number).where(JOURNAL.c.actor == actor, JOURNAL.c.book != SITE_BOOK)
    row = connection.execute(asked.order_by(JOURNAL.c.at.desc(), JOURNAL.c.number.desc()).limit(1)).first()
    return Name("", 0) if row is None else Name(row.book, row.number)


def entry_of_line(journal_line: Line) -> Entry | None:
    """The entry about a piece that a line holds; None where it holds something else."""
    if journal_line.kind != "record":
        return None
    row = {**journal_line.content, "book": journal_line.name.book, "entry": journal_line.name.number}
    return entry_of(row)


def piece_of_line(journal_line: Line) -> Piece | None:
    """The piece, without records, that a line holds; None where it holds something else."""
    if journal_line.kind != "piece":
        return None
    row = {**journal_line.content, "book": journal_line.name.book, "entry": journal_line.name.number}
    return piece_of([row.get(column.name) for column in PIECE.columns])
