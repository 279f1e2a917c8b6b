"""One unit of writing: rows and their journal lines, numbered and chained, all of it in one transaction."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from functools import cache
from typing import TYPE_CHECKING, Any, TypeVar

from sqlalchemy import Table, bindparam, insert, select
from sqlalchemy.engine import Connection

from app.decision.domain.entries import Name
from app.decision.domain.errors import BadInput
from app.register.canonical import canonical
from app.register.columns import Bytes32, Instant, Packed, Stored, own_type
from app.register.journal import START, Head, hash_of, text_of
from app.register.marks import SCHEMA
from app.register.statements import Change, Question
from app.register.tables import JOURNAL, JOURNALED

if TYPE_CHECKING:
    from app.decision.domain.entries import Entry
    from app.register.reads.pieces import Kept

T = TypeVar("T")
_INSTANT = Instant()
_HEAD = Question(
    select(JOURNAL.c.number, JOURNAL.c.hash)
    .where(JOURNAL.c.book == bindparam("book"))
    .order_by(JOURNAL.c.number.desc())
    .limit(1)
)


class Shape:
    """A table as the writer needs it: column names, how each value is stored, and the statements."""

    def __init__(self, table: Table) -> None:
        self.name = table.name
        self.columns = tuple(column.name for column in table.columns)
        self.stored: dict[str, Callable[[Any], Stored]] = {
            column.name: own_type(column.type).stored for column in table.columns
        }
        self._at = {name: at for at, name in enumerate(self.columns[2:])}
        self._empty: list[Stored] = [None] * len(self._at)
        self.has_bytes = any(isinstance(column.type, (Bytes32, Packed)) for column in table.columns)
        self._insert = Change(insert(table).inline())

    def insert(self, connection: Connection, rows: Sequence[tuple[Stored, ...]]) -> None:
        """Put stored rows into the table."""
        self._insert.each(connection, rows)

    def own_columns(self, row: Mapping[str, Stored]) -> list[Stored]:
        """A stored row as all columns behind book and entry; most of a wide row is empty."""
        columns = self._empty.copy()
        for name, value in row.items():
            columns[self._at[name]] = value
        return columns


@cache
def shape(name: str) -> Shape:
    """The shape of a journaled table, or of the journal itself."""
    return Shape(JOURNAL if name == "journal" else JOURNALED[name])


def stored_row(name: str, values: Mapping[str, object]) -> dict[str, Stored]:
    """A row's values as they stand in the file; what is not known is left out."""
    stored = shape(name).stored
    return {key: stored[key](value) for key, value in values.items() if value is not None}


def content_of(name: str, row: Mapping[str, Stored]) -> str:
    """The canonical text of a stored row that holds neither its entry's name nor what is not known; bytes as hex."""
    if shape(name).has_bytes:
        row = {key: value.hex() if isinstance(value, bytes) else value for key, value in row.items()}
    return canonical(row)


def head_of(connection: Connection, book: str) -> Head:
    """The last line of a book."""
    row = _HEAD.first(connection, book=book)
    return Head(0, START) if row is None else Head(int(row[0]), bytes(row[1]))


class Unit:
    """What one act writes, in the books it has declared and no other.

    Rows wait until something is read, or the act is done, and then go in together.
    """

    def __init__(self, connection: Connection, actor: str, now: datetime, books: Iterable[str]) -> None:
        self.connection = connection
        self.actor = printable(actor)
        self.now = now
        self.at = _INSTANT.stored(now)
        self.names: list[Name] = []
        # In sorted order by everybody, so that two acts never wait for each other.
        self._heads = {book: head_of(connection, book) for book in sorted(books)}
        self._lines: list[tuple[Stored, ...]] = []
        self._rows: dict[str, list[tuple[Stored, ...]]] = {}
        self.touched: dict[str, None] = {}
        self._entered: dict[str, tuple[Kept, list[Entry]]] = {}
        self._revised: set[str] = set()

    def add(self, book: str, table: str, subject: str, values: Mapping[str, object]) -> Name:
        """One row and its line; answers the entry's name. KeyError for a book the act has not declared."""
        head = self._heads[book]
        row = stored_row(table, values)
        number = head.number + 1
        content = content_of(table, row)
        line = text_of(book, number, self.at, self.actor, table, printable(subject), SCHEMA, content)
        digest = hash_of(head.hash, table, line)
        self._lines.append(
            (book, number, self.at, self.actor, table, subject, SCHEMA, content, head.hash, digest)
        )  # fmt: skip
        self._rows.setdefault(table, []).append((book, number, *shape(table).own_columns(row)))
        self._heads[book] = Head(number, digest)
        name = Name(book, number)
        self.names.append(name)
        return name

    def read(self, question: Callable[[Connection], T]) -> T:
        """Ask within this unit: what it has written so far is seen."""
        self.flush()
        return question(self.connection)

    def touch(self, pieces: Iterable[str]) -> None:
        """Pieces whose standing has to be worked out again before the unit ends."""
        self.touched.update(dict.fromkeys(pieces))

    def enter(self, kept: Kept, entry: Entry) -> None:
        """Remember an entry about a piece that was read in this unit, so that the piece need not be read again."""
        code = kept.piece.code
        entries = self._entered.get(code, (kept, []))[1]
        entries.append(entry)
        self._entered[code] = (kept, entries)
        self.touch([code])

    def forget(self, code: str) -> None:
        """The piece itself was revised: what was read of it no longer holds."""
        self._revised.add(code)

    def known(self) -> Iterator[Kept]:
        """Touched pieces as they now stand, where that is known without reading them again.

        In one book what is entered last stands last; a piece that is in several is read again, in their order.
        """
        for code in self.touched:
            if code in self._revised:
                continue
            kept, entries = self._entered.get(code, (None, []))
            if kept is not None and _is_in_one_book(kept, entries):
                yield kept.with_entries(entries)

    def lone_entry(self) -> tuple[Kept, Entry] | None:
        """The entry this unit consists of, with its piece as it was read before; None where it wrote anything else."""
        if len(self.names) != 1 or len(self._entered) != 1 or len(self.touched) != 1:
            return None
        ((kept, entries),) = self._entered.values()
        return (kept, entries[0]) if _is_in_one_book(kept, entries) and entries[0].strikes is None else None

    def flush(self) -> None:
        """Send what waits, lines first: a row leans on its line."""
        if not self._lines:
            return
        shape("journal").insert(self.connection, self._lines)
        for table, rows in self._rows.items():
            shape(table).insert(self.connection, rows)
        self._lines, self._rows = [], {}


def _is_in_one_book(kept: Kept, entries: Iterable[Entry]) -> bool:
    return {entry.name.book for entry in (*kept.entries, *entries)} == {kept.crib}


def printable(code: str) -> str:
    """A code as it may stand in a line: not empty, and nothing a terminal or a file would obey instead of show."""
    if not code.strip() or not code.isprintable():
        raise BadInput("code.not-printable", thing=code)
    return code
