"""Pieces with everything entered about them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, time
from functools import lru_cache
from typing import Any

import msgspec
from msgspec import Struct
from sqlalchemy.engine import Connection

from app.domain.calendar import Day
from app.domain.case.pieces import SORTS as SORTS_OF_A_CASE
from app.domain.entries import (
    AnyEntry,
    CertificateSeen,
    Correction,
    Entry,
    Found,
    Lost,
    Name,
    Reservation,
    Transfer,
    as_entered,
)
from app.domain.piece import FirstIssue, Piece
from app.store.columns import OwnType, own_type
from app.store.driver import fetched
from app.store.reads.order import in_order
from app.store.tables import PIECE, RECORD

#: what -> the value an entry of that sort is
SORTS: Mapping[str, type[AnyEntry]] = {
    **SORTS_OF_A_CASE, "certificate-seen": CertificateSeen, "correction": Correction, "transfer": Transfer,
    "reservation": Reservation, "lost": Lost, "found": Found,
}  # fmt: skip
WHATS: Mapping[type[AnyEntry], str] = {sort: what for what, sort in SORTS.items()}
MOST_AT_ONCE = 500
_SHARED = ("on", "at")
# What most records have stands in columns of its own; the rest of a row comes as one text, and only where any of it is
# there: a column that is asked of a row costs the same whether the row has it or not, and most have none of thirty.
_OFTEN = (
    "book", "entry", "piece", "what", "strikes", "strikes_in", "reason", "of_entry", "of_in", "on_first", "on_last",
    "at", "result", "left", "right",
)  # fmt: skip


class Kept(Struct, frozen=True):
    """One piece as it stands, with the crib whose book its entries go to and the entries themselves.

    `registered` is the piece as its newest revision has it, without what the entries make of it.
    """

    piece: Piece
    crib: str
    revision: int
    entries: tuple[Entry, ...]
    registered: Piece

    def with_entries(self, more: Iterable[Entry]) -> Kept:
        """The piece as it stands once these are entered as well; those it has already are left out."""
        there = {entry.name for entry in self.entries}
        entries = (*self.entries, *(entry for entry in more if entry.name not in there))
        return Kept(as_entered(self.registered, entries), self.crib, self.revision, entries, self.registered)


class _Reader:
    """How one sort of row becomes its value: which columns, and how each is loaded."""

    def __init__(self, make: type[Any], columns: Sequence[str], types: Mapping[str, OwnType]) -> None:
        self.make = make
        names = [one.name for one in msgspec.structs.fields(make) if one.name not in _SHARED]
        self.fields = [
            (name, columns.index(name), None if _is_plain(types[name]) else types[name].loaded)
            for name in names
            if name in columns
        ]

    def read(self, row: Sequence[Any], shared: dict[str, Any]) -> Any:  # noqa: ANN401  # one of the sorts
        self.take(row, shared)
        return self.make(**shared)

    def take(self, row: Sequence[Any], into: dict[str, Any]) -> None:
        """Put what the row has into the values a record is made of."""
        for name, index, load in self.fields:
            value = row[index]
            if value is not None:
                into[name] = value if load is None else load(value)


def _is_plain(kind: OwnType) -> bool:
    return type(kind).loaded is OwnType.loaded


_RECORD_COLUMNS = tuple(column.name for column in RECORD.columns)
_SELDOM = tuple(name for name in _RECORD_COLUMNS if name not in _OFTEN)
_OFTEN_AT = tuple(_RECORD_COLUMNS.index(name) for name in _OFTEN)
_SELDOM_AT = tuple(_RECORD_COLUMNS.index(name) for name in _SELDOM)
_RECORD_TYPES = {column.name: own_type(column.type) for column in RECORD.columns}
_PIECE_COLUMNS = tuple(column.name for column in PIECE.columns)
_PIECE_TYPES = {column.name: own_type(column.type) for column in PIECE.columns}
_SORTED = {
    what: (_Reader(make, _OFTEN, _RECORD_TYPES), _Reader(make, _SELDOM, _RECORD_TYPES)) for what, make in SORTS.items()
}
_PIECES = _Reader(Piece, _PIECE_COLUMNS, {**_PIECE_TYPES})
# Where in a row stands what every sort of record has; looked up once, because every row of every piece is read by it.
_BOOK, _ENTRY, _OF_PIECE, _WHAT, _STRIKES, _STRIKES_IN, _REASON, _OF, _OF_IN, _ON_FIRST, _ON_LAST, _MOMENT = (
    _OFTEN.index(name)
    for name in (
        "book", "entry", "piece", "what", "strikes", "strikes_in", "reason", "of_entry", "of_in", "on_first",
        "on_last", "at",
    )
)  # fmt: skip
_UNPACKED = msgspec.json.Decoder(list[Any]).decode


def _columns(of: str, names: Sequence[str]) -> str:
    return ", ".join(f'{of}."{name}"' for name in names)


_RECORD_SELECT = (
    f"SELECT {_columns('r', _OFTEN)}, CASE WHEN coalesce({_columns('r', _SELDOM)}) IS NULL THEN NULL "
    f"ELSE json_array({_columns('r', _SELDOM)}) END FROM record AS r"
)
_PIECE_SELECT = (
    f"SELECT {_columns('p', _PIECE_COLUMNS)}, s.crib FROM standing AS s "
    "JOIN piece AS p ON p.code = s.piece AND p.revision = s.revision"
)


def pieces(connection: Connection, codes: Iterable[str]) -> dict[str, Kept]:
    """The pieces of these exact codes; a code that is not there is left out."""
    wanted = list(dict.fromkeys(codes))
    found: dict[str, Kept] = {}
    for first in range(0, len(wanted), MOST_AT_ONCE):
        found.update(_some(connection, wanted[first : first + MOST_AT_ONCE]))
    return {code: found[code] for code in wanted if code in found}


def _some(connection: Connection, codes: list[str]) -> Iterator[tuple[str, Kept]]:
    marks = ", ".join("?" * len(codes))
    rows = fetched(connection, f"{_PIECE_SELECT} WHERE s.piece IN ({marks})", tuple(codes))
    entries: dict[str, list[Entry]] = {row[2]: [] for row in rows}
    for row in fetched(
        connection, f"{_RECORD_SELECT} WHERE r.piece IN ({marks}) ORDER BY r.piece, r.book, r.entry", tuple(codes)
    ):
        # A standing that names no revision there is has no piece to give entries to; verification names it.
        if row[_OF_PIECE] in entries:
            entries[row[_OF_PIECE]].append(_entry_of(row))
    for row in rows:
        code = row[2]
        made = tuple(_in_order(connection, code, entries[code]))
        registered = piece_of(row)
        yield code, Kept(as_entered(registered, made), row[-1], row[3], made, registered)


def _in_order(connection: Connection, code: str, entries: list[Entry]) -> list[Entry]:
    """In one book numbers are the order; a piece that has moved is in several, and the moment of entry decides."""
    if len({entry.name.book for entry in entries}) < 2:
        return entries
    rows = connection.exec_driver_sql(
        "SELECT r.book, r.entry, j.at FROM record AS r JOIN journal AS j ON j.book = r.book AND j.number = r.entry "
        "WHERE r.piece = ?",
        (code,),
    )
    moments = {Name(book, number): at for book, number, at in rows}
    return in_order((entry.name.book, entry.name.number, moments[entry.name], entry) for entry in entries)


def piece_of(row: Sequence[Any]) -> Piece:
    """The piece of one row, without records."""
    values: dict[str, Any] = {}
    piece: Piece = _PIECES.read(row, values)
    return msgspec.structs.replace(piece, first_issue=first_issue_of(str(piece.first_issue)))


def first_issue_of(stored: str) -> FirstIssue:
    """F from its stored form: never, unknown, a day, or the first and last day it may have been."""
    if stored in ("never", "unknown"):
        return "never" if stored == "never" else "unknown"
    first, _, last = stored.partition("/")
    return Day(date.fromisoformat(first), date.fromisoformat(last or first))


def entry_of(row: Sequence[Any]) -> Entry:
    """The entry of one row of records, its columns in the order of the table."""
    return _entry([row[at] for at in _OFTEN_AT], [row[at] for at in _SELDOM_AT])


def _entry_of(row: Sequence[Any]) -> Entry:
    """The entry of one row as it is asked for here, what it seldom has as one text at its end."""
    packed = row[-1]
    return _entry(row, None if packed is None else _UNPACKED(packed))


def _entry(row: Sequence[Any], seldom: Sequence[Any] | None) -> Entry:
    shared: dict[str, Any] = {}
    if row[_ON_FIRST] is not None:
        shared["on"] = _day_of(row[_ON_FIRST], row[_ON_LAST])
    if row[_MOMENT] is not None:
        shared["at"] = time.fromisoformat(row[_MOMENT])
    often, more = _SORTED[row[_WHAT]]
    if seldom is not None:
        more.take(seldom, shared)
    record: AnyEntry = often.read(row, shared)
    strikes, of = row[_STRIKES], row[_OF]
    return Entry(
        name=Name(row[_BOOK], row[_ENTRY]), record=record,
        strikes=None if strikes is None else Name(row[_STRIKES_IN], strikes), reason=row[_REASON],
        of=None if of is None else Name(row[_OF_IN], of),
    )  # fmt: skip


@lru_cache(maxsize=8192)
def _day_of(first: str, last: str) -> Day:
    """Days come again and again: a whole shelf is tested, looked over and issued on the same few."""
    return Day(date.fromisoformat(first), date.fromisoformat(last))


def entry(connection: Connection, name: Name) -> tuple[str, Entry] | None:
    """One entry about a piece, with the piece's code; None where the line is about something else or not there."""
    rows = fetched(connection, f"{_RECORD_SELECT} WHERE r.book = ? AND r.entry = ?", (name.book, name.number))
    return None if not rows else (rows[0][_OF_PIECE], _entry_of(rows[0]))


def all_codes(connection: Connection, crib: str | None = None) -> list[str]:
    """Every piece's code in order, or those of one crib."""
    if crib is None:
        rows = connection.exec_driver_sql("SELECT piece FROM standing ORDER BY piece")
    else:
        rows = connection.exec_driver_sql("SELECT piece FROM standing WHERE crib = ? ORDER BY piece", (crib,))
    return [str(row[0]) for row in rows]


def newest_pieces(connection: Connection) -> list[tuple[str, int, str]]:
    """Code, newest revision and crib of every piece, from the rows themselves and not from standings."""
    rows = connection.exec_driver_sql(
        "SELECT p.code, p.revision, p.crib FROM piece AS p WHERE p.revision = "
        "(SELECT max(q.revision) FROM piece AS q WHERE q.code = p.code) ORDER BY p.code"
    )
    return [(str(code), int(revision), str(crib)) for code, revision, crib in rows]
