"""Is every line, row and derived standing what it must be? Read in slices, so that nobody waits to write meanwhile."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from functools import cache
from hashlib import sha256
from typing import TypeVar

from msgspec import Struct
from sqlalchemy import bindparam, select
from sqlalchemy.engine import Connection

from app.decision.domain.errors import StoreTrouble
from app.register.canonical import canonical
from app.register.driver import Row
from app.register.journal import DOMAIN, START
from app.register.marks import SCHEMA
from app.register.sqlite import broken_references, unsound
from app.register.statements import Question
from app.register.tables import JOURNAL, JOURNALED, PERSON, PERSON_NAME
from app.register.unit import content_of, shape
from app.register.upcasts import upcast

T = TypeVar("T")
Ask = Callable[[Callable[[Connection], T]], T]
SLICE = 2_000
MOST_NAMED = 20
_BOOK = JOURNAL.c.book == bindparam("book")
_FROM = JOURNAL.c.number >= bindparam("first")
_LINES = Question(
    select(*(column for column in JOURNAL.columns if column.name != "book"))
    .where(_BOOK, _FROM)
    .order_by(JOURNAL.c.number)
    .limit(bindparam("most"))
)
_CONTENTS = Question(
    select(JOURNAL.c.number, JOURNAL.c.kind, JOURNAL.c.revision, JOURNAL.c.content).where(
        _BOOK, _FROM, JOURNAL.c.number < bindparam("after")
    )
)
_DIGEST = select(PERSON.c.name_digest).where(PERSON.c.code == PERSON_NAME.c.code).order_by(PERSON.c.revision.desc())
_NAMES = select(
    PERSON_NAME.c.code, PERSON_NAME.c.name, PERSON_NAME.c.salt, _DIGEST.limit(1).scalar_subquery().label("digest")
)


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
    def references(connection: Connection) -> list[str]:
        return [" ".join(where) for where in broken_references(connection)[:MOST_NAMED]]

    for fault in _all(ask, lambda connection: unsound(connection, MOST_NAMED)):
        yield Damage("file", fault, "verify.integrity")
    for reference in _all(ask, references):
        table, _, row = reference.partition(" ")
        yield Damage(table, row, "verify.reference")


def _all(ask: Callable[[Callable[[Connection], object]], object], read: Callable[[Connection], list[str]]) -> list[str]:
    answer = ask(read)
    assert isinstance(answer, list)
    return answer


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
    return _LINES.rows(connection, book=book, first=first, most=SLICE)


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
            compared = ask(lambda connection, book=book, first=first: _compare(connection, book, first))  # type: ignore[misc]
            assert isinstance(compared, tuple)
            count, damaged = compared
            if not count:
                break
            yield from damaged
            first += SLICE
    for compared in _all(ask, _rows_without_lines):
        table, _, place = compared.partition(" ")
        yield Damage(table, place, "verify.no-line")


def _compare(connection: Connection, book: str, first: int) -> tuple[int, list[Damage]]:
    lines = _CONTENTS.rows(connection, book=book, first=first, after=first + SLICE)
    rows = {kind: _contents(connection, kind, book, first) for kind in {line[1] for line in lines} if kind in JOURNALED}
    wrong: list[Damage] = []
    for number, kind, revision, content in lines:
        row = rows.get(kind, {}).get(number)
        if row is None:
            wrong.append(Damage(kind, f"{book}:{number}", "verify.no-row"))
        elif row != content and row != _upcast(kind, revision, content):
            wrong.append(Damage(kind, f"{book}:{number}", "verify.row"))
    return len(lines) or len(_LINES.rows(connection, book=book, first=first, most=1)), wrong


def _upcast(kind: str, revision: int, content: str) -> str:
    if revision == SCHEMA:
        return content
    try:
        return canonical(upcast(kind, revision, json.loads(content), SCHEMA))
    except ValueError:
        return ""


def _contents(connection: Connection, kind: str, book: str, first: int) -> dict[int, str]:
    own = shape(kind).columns[2:]
    return {
        row[1]: content_of(kind, {name: value for name, value in zip(own, row[2:], strict=True) if value is not None})
        for row in _rows_of(kind).rows(connection, book=book, first=first, after=first + SLICE)
    }


@cache
def _rows_of(kind: str) -> Question:
    table = JOURNALED[kind]
    in_slice = (table.c.entry >= bindparam("first"), table.c.entry < bindparam("after"))
    return Question(select(table).where(table.c.book == bindparam("book"), *in_slice))


def _rows_without_lines(connection: Connection) -> list[str]:
    rows: list[str] = []
    for kind, table in JOURNALED.items():
        its_line = (JOURNAL.c.book == table.c.book) & (JOURNAL.c.number == table.c.entry) & (JOURNAL.c.kind == kind)
        asked = select(table.c.book, table.c.entry).outerjoin(JOURNAL, its_line).where(JOURNAL.c.number.is_(None))
        rows += [f"{kind} {book}:{entry}" for book, entry in connection.execute(asked.limit(MOST_NAMED))]
    return rows


def name_digest(salt: bytes, code: str, name: str) -> bytes:
    """What the journal holds of a name: enough to notice a change, nothing once name and salt are erased."""
    return sha256(salt + f"{code}\n{name}".encode()).digest()


def _name_damage(ask: Callable[[Callable[[Connection], object]], object]) -> Iterator[Damage]:
    def read(connection: Connection) -> list[str]:
        rows = connection.execute(_NAMES)
        return [str(code) for code, name, salt, digest in rows if name_digest(salt, code, name) != digest]

    for code in _all(ask, read):
        yield Damage("person_name", code, "verify.name")
