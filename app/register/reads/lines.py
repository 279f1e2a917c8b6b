"""The journal as people look at it: what was entered, when, by whom."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from msgspec import Struct
from sqlalchemy.engine import Connection

from app.decision.domain.entries import Entry, Name
from app.decision.domain.piece import Piece
from app.register.journal import Head
from app.register.marks import SCHEMA
from app.register.reads.order import in_order
from app.register.reads.pieces import entry_of, piece_of
from app.register.tables import PIECE
from app.register.unit import head_of
from app.register.upcasts import upcast
from app.register.verify import books

_SELECT = "SELECT book, number, at, actor, kind, subject, content, revision FROM journal"


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
    rows = connection.exec_driver_sql(f"{_SELECT} WHERE subject = ?", (subject,))
    return in_order((str(row[0]), int(row[1]), str(row[2]), _line(row)) for row in rows)


def line(connection: Connection, name: Name) -> Line | None:
    """One line, None where there is none."""
    row = connection.exec_driver_sql(f"{_SELECT} WHERE book = ? AND number = ?", (name.book, name.number)).fetchone()
    return None if row is None else _line(row)


def books_with(connection: Connection, number: int) -> list[str]:
    """The books that have a line of this number."""
    return [str(row[0]) for row in connection.exec_driver_sql(
        "SELECT book FROM journal WHERE number = ? ORDER BY book", (number,)
    )]  # fmt: skip


def heads(connection: Connection) -> dict[str, Head]:
    """The last line of every book."""
    return {book: head_of(connection, book) for book in books(connection)}


def _line(row: Sequence[Any]) -> Line:
    content = upcast(row[4], row[7], json.loads(row[6]), SCHEMA)
    return Line(Name(row[0], row[1]), datetime.fromisoformat(row[2]), row[3], row[4], row[5], content)


def subjects(connection: Connection) -> list[str]:
    """What the site's book speaks of: people, systems, site rules, bags, cribs."""
    rows = connection.exec_driver_sql("SELECT DISTINCT subject FROM journal WHERE book = 'site' ORDER BY subject")
    return [str(row[0]) for row in rows]


def last_entry(connection: Connection, actor: str) -> Name:
    """The last entry about a piece that somebody made; the site's book is left out."""
    row = connection.exec_driver_sql(
        "SELECT book, number FROM journal WHERE actor = ? AND book != 'site' ORDER BY at DESC, number DESC LIMIT 1",
        (actor,),
    ).fetchone()
    return Name("", 0) if row is None else Name(str(row[0]), int(row[1]))


def entry_of_line(one: Line) -> Entry | None:
    """The entry about a piece that a line holds; None where it holds something else."""
    if one.kind != "record":
        return None
    row = {**one.content, "book": one.name.book, "entry": one.name.number}
    return entry_of(row)


def piece_of_line(one: Line) -> Piece | None:
    """The piece, without records, that a line holds; None where it holds something else."""
    if one.kind != "piece":
        return None
    row = {**one.content, "book": one.name.book, "entry": one.name.number}
    return piece_of([row.get(column.name) for column in PIECE.columns])
