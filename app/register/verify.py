"""Is every line, row and derived standing what it must be? Read in slices, so that nobody waits to write meanwhile."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from hashlib import sha256
from typing import TypeVar

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.engine import Connection

from app.decision.domain.errors import StoreTrouble
from app.register.canonical import canonical
from app.register.driver import Row, fetched
from app.register.journal import DOMAIN, START
from app.register.marks import SCHEMA
from app.register.tables import JOURNAL, JOURNALED
from app.register.unit import content_of, shape
from app.register.upcasts import upcast

T = TypeVar("T")
Ask = Callable[[Callable[[Connection], T]], T]
SLICE = 2_000
_LINE = "number, at, actor, kind, subject, revision, content, previous, hash"


class Damage(Struct, frozen=True):
    """One thing that is not as it was written: the table, where in it, and the key of the sentence that says why."""

    table: str
    place: str
    key: str

    @property
    def says(self) -> str:
        """Table, place and key in one line, for a log."""
        return f"{self.table} {self.place} {self.key}"


class Verified(Struct, frozen=True):
    """What a verification found. `lines`: how many were read; `anchors`: book -> last number and hash begin."""

    lines: int
    anchors: dict[str, str]
    damage: tuple[Damage, ...]


def verify(ask: Callable[[Callable[[Connection], object]], object]) -> Iterator[Damage]:
    """Everything that is not as it was written, named; nothing where all is whole."""
    yield from _guarded("file", "", lambda: _file_damage(ask))
    yield from _guarded("journal", "", lambda: chain_damage(ask))
    yield from _guarded("journal", "", lambda: row_damage(ask))
    yield from _guarded("person_name", "", lambda: _name_damage(ask))


def _guarded(table: str, place: str, look: Callable[[], Iterator[Damage]]) -> Iterator[Damage]:
    """A page that cannot be read is damage like any other, and the rest is still looked at."""
    try:
        yield from look()
    except StoreTrouble as fault:
        if fault.key not in ("store.damaged", "store.disk-fault"):
            raise
        yield Damage(table, place or str(fault.values.get("reason", "")), "verify.unreadable")


def _file_damage(ask: Callable[[Callable[[Connection], object]], object]) -> Iterator[Damage]:
    def integrity(connection: Connection) -> list[str]:
        return [str(row[0]) for row in connection.exec_driver_sql("PRAGMA integrity_check(20)")]

    def references(connection: Connection) -> list[str]:
        return [f"{row[0]} {row[1]}" for row in connection.exec_driver_sql("PRAGMA foreign_key_check").fetchmany(20)]

    for found in _all(ask, integrity):
        if found != "ok":
            yield Damage("file", found, "verify.integrity")
    for found in _all(ask, references):
        table, _, row = found.partition(" ")
        yield Damage(table, row, "verify.reference")


def _all(ask: Callable[[Callable[[Connection], object]], object], read: Callable[[Connection], list[str]]) -> list[str]:
    found = ask(read)
    assert isinstance(found, list)
    return found


def books(connection: Connection) -> list[str]:
    """The books there are, in order."""
    return list(connection.execute(select(JOURNAL.c.book).distinct().order_by(JOURNAL.c.book)).scalars())


def chain_damage(ask: Callable[[Callable[[Connection], object]], object]) -> Iterator[Damage]:
    """Numbers without gaps and every hash what its line and its forerunner make it."""
    for book in _all(ask, books):
        number, previous = 0, START
        while True:
            first = number + 1
            lines = ask(lambda connection, book=book, first=first: _slice(connection, book, first))  # type: ignore[misc]
            assert isinstance(lines, list)
            if not lines:
                break
            damaged, number, previous = _walk(book, number, previous, lines)
            yield from damaged


def _slice(connection: Connection, book: str, first: int) -> list[Row]:
    return fetched(
        connection,
        f"SELECT {_LINE} FROM journal WHERE book = ? AND number >= ? ORDER BY number LIMIT {SLICE}",
        (book, first),
    )


def _walk(book: str, number: int, previous: bytes, lines: list[Row]) -> tuple[list[Damage], int, bytes]:
    """One slice: what is wrong in it, and where the next one goes on."""
    wrong: list[Damage] = []
    for at_number, at, actor, kind, subject, revision, content, before, digest in lines:
        number += 1
        # The text is put together here and not by a function: this loop runs for every line there ever was.
        text = f"{book}\n{at_number}\n{at}\n{actor}\n{kind}\n{subject}\n{revision}\n{content}"
        worked_out = sha256(DOMAIN.get(kind, b"") + before + text.encode()).digest()
        if at_number == number and before == previous and worked_out == digest:
            previous = digest
            continue
        place = f"{book}:{at_number}"
        if at_number != number:
            wrong.append(Damage("journal", f"{book}:{number}", "verify.gap"))
            number = at_number
        elif before != previous:
            wrong.append(Damage("journal", place, "verify.chain"))
        if worked_out != digest:
            wrong.append(Damage("journal", place, "verify.line"))
        previous = digest
    return wrong, number, previous


def row_damage(ask: Callable[[Callable[[Connection], object]], object]) -> Iterator[Damage]:
    """Every row is what its line says, every line has its row, and no row is without a line."""
    for book in _all(ask, books):
        first = 1
        while True:
            found = ask(lambda connection, book=book, first=first: _compare(connection, book, first))  # type: ignore[misc]
            assert isinstance(found, tuple)
            count, damaged = found
            if not count:
                break
            yield from damaged
            first += SLICE
    for found in _all(ask, _rows_without_lines):
        table, _, place = found.partition(" ")
        yield Damage(table, place, "verify.no-line")


def _compare(connection: Connection, book: str, first: int) -> tuple[int, list[Damage]]:
    lines = connection.exec_driver_sql(
        "SELECT number, kind, subject, revision, content FROM journal WHERE book = ? AND number >= ? AND number < ?",
        (book, first, first + SLICE),
    ).fetchall()
    rows = {kind: _contents(connection, kind, book, first) for kind in {line[1] for line in lines} if kind in JOURNALED}
    wrong: list[Damage] = []
    for number, kind, _, revision, content in lines:
        row = rows.get(kind, {}).get(number)
        if row is None:
            wrong.append(Damage(kind, f"{book}:{number}", "verify.no-row"))
        elif row != content and row != _upcast(kind, revision, content):
            wrong.append(Damage(kind, f"{book}:{number}", "verify.row"))
    more = connection.exec_driver_sql(
        "SELECT 1 FROM journal WHERE book = ? AND number >= ? LIMIT 1", (book, first)
    ).fetchone()
    return len(lines) or int(more is not None), wrong


def _upcast(kind: str, revision: int, content: str) -> str:
    if revision == SCHEMA:
        return content
    try:
        return canonical(upcast(kind, revision, json.loads(content), SCHEMA))
    except ValueError:
        return ""


def _contents(connection: Connection, kind: str, book: str, first: int) -> dict[int, str]:
    columns = shape(kind).columns
    quoted = ", ".join(f'"{name}"' for name in columns)
    rows = fetched(
        connection,
        f'SELECT {quoted} FROM "{kind}" WHERE book = ? AND entry >= ? AND entry < ?',
        (book, first, first + SLICE),
    )
    own = columns[2:]
    return {
        row[1]: content_of(kind, {name: value for name, value in zip(own, row[2:], strict=True) if value is not None})
        for row in rows
    }


def _rows_without_lines(connection: Connection) -> list[str]:
    found: list[str] = []
    for table in JOURNALED:
        rows = connection.exec_driver_sql(
            f'SELECT r.book, r.entry FROM "{table}" AS r LEFT JOIN journal AS j ON j.book = r.book '
            "AND j.number = r.entry AND j.kind = ? WHERE j.number IS NULL LIMIT 20",
            (table,),
        )
        found += [f"{table} {book}:{entry}" for book, entry in rows]
    return found


def name_digest(salt: bytes, code: str, name: str) -> bytes:
    """What the journal holds of a name: enough to notice a change, nothing once name and salt are erased."""
    return sha256(salt + f"{code}\n{name}".encode()).digest()


def _name_damage(ask: Callable[[Callable[[Connection], object]], object]) -> Iterator[Damage]:
    def read(connection: Connection) -> list[str]:
        rows = connection.exec_driver_sql(
            "SELECT n.code, n.name, n.salt, (SELECT p.name_digest FROM person AS p WHERE p.code = n.code "
            "ORDER BY p.revision DESC LIMIT 1) FROM person_name AS n"
        )
        return [str(code) for code, name, salt, digest in rows if name_digest(salt, code, name) != digest]

    for code in _all(ask, read):
        yield Damage("person_name", code, "verify.name")
