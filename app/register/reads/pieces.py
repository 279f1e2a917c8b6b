"""Pieces with everything entered about them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, time
from functools import lru_cache
from typing import Any

import msgspec
from msgspec import Struct
from sqlalchemy import ColumnElement, bindparam, case, func, select
from sqlalchemy.engine import Connection

from app.decision.domain.calendar import Day
from app.decision.domain.entries import (
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
from app.decision.domain.piece import Piece
from app.decision.fields.records import SORTS as SORTS_OF_A_CASE
from app.register.columns import OwnType, own_type
from app.register.reads.order import in_order
from app.register.statements import Question, packed
from app.register.tables import JOURNAL, PIECE, RECORD, STATUS

#: what -> the value an entry of that sort is
SORTS: Mapping[str, type[AnyEntry]] = {
    **{what: sort.make for what, sort in SORTS_OF_A_CASE.items()}, "certificate-seen": CertificateSeen,
    "correction": Correction, "transfer": Transfer, "reservation": Reservation, "lost": Lost, "found": Found,
}  # fmt: skip
WHATS: Mapping[type[AnyEntry], str] = {sort: what for what, sort in SORTS.items()}
MOST_AT_ONCE = 500
_SHARED = ("on", "at", "entry")
# What every record has stands in columns of its own. The rest comes as one text, a list of what a record of its sort
# can have and no more: a column that is asked of a row costs the same whether the row has it or not, and the table has
# thirty that most sorts never fill. So do the few words of an entry that strikes or follows another.
_EVERY = ("book", "entry", "piece", "what", "on_first", "on_last", "at")
_LEANING = ("strikes", "strikes_in", "reason", "of_entry", "of_in")


class Kept(Struct, frozen=True):
    """One piece as it stands, with the crib whose book its entries go to and the entries themselves.

    `registered` is the piece as its newest revision has it, without what the entries make of it. `state`: of the
    standing kept when it was read; "" once more has been entered, until it is read again.
    """

    piece: Piece
    crib: str
    revision: int
    entries: tuple[Entry, ...]
    registered: Piece
    state: str = ""

    def with_entries(self, more: Iterable[Entry]) -> Kept:
        """The piece as it stands once these are entered as well; those it has already are left out."""
        there = {entry.name for entry in self.entries}
        entries = (*self.entries, *(entry for entry in more if entry.name not in there))
        return Kept(as_entered(self.registered, entries), self.crib, self.revision, entries, self.registered)


class _Reader:
    """How a row becomes its value: what stands in its columns, and how each is loaded."""

    def __init__(self, make: type[Any], columns: Sequence[str], types: Mapping[str, OwnType]) -> None:
        self.make = make
        self.columns = columns
        named = {field.name for field in msgspec.structs.fields(make)}
        self._fields = [
            (name, at, None if _is_plain(types[name]) else types[name].loaded)
            for at, name in enumerate(columns)
            if name in named
        ]

    def values(self, row: Sequence[Any]) -> dict[str, Any]:
        """What the value is made of; what does not stand in the row is left out."""
        values: dict[str, Any] = {}
        for name, at, load in self._fields:
            value = row[at]
            if value is not None:
                values[name] = value if load is None else load(value)
        return values


def _is_plain(kind: OwnType) -> bool:
    return type(kind).loaded is OwnType.loaded


def _own_columns(make: type[Any]) -> tuple[str, ...]:
    """What a record of this sort can have beside what every record has."""
    named = {field.name for field in msgspec.structs.fields(make)}.difference(_SHARED)
    return tuple(column.name for column in RECORD.columns if column.name in named)


_RECORD_TYPES = {column.name: own_type(column.type) for column in RECORD.columns}
_SORTED = {what: _Reader(make, _own_columns(make), _RECORD_TYPES) for what, make in SORTS.items()}
_PIECES = _Reader(
    Piece, [column.name for column in PIECE.columns], {column.name: own_type(column.type) for column in PIECE.columns}
)
_CODE, _REVISION = _PIECES.columns.index("code"), _PIECES.columns.index("revision")
# Where in a row stands what every record has; looked up once, because every row of every piece is read by it.
_BOOK, _ENTRY, _OF_PIECE, _WHAT, _ON_FIRST, _ON_LAST, _MOMENT, _OWN, _LEANS = range(len(_EVERY) + 2)
_NOTHING: Mapping[str, Any] = {}
_UNPACKED = msgspec.json.Decoder(list[Any]).decode


def _own_of_each() -> ColumnElement[str | None]:
    """What a record of its sort has, for the sorts that can have anything of their own."""
    sorts = {what: sort.columns for what, sort in _SORTED.items() if sort.columns}
    own = {what: packed([RECORD.c[name] for name in columns]) for what, columns in sorts.items()}
    return case(own, value=RECORD.c.what)


_NEWEST = (PIECE.c.code == STATUS.c.piece) & (PIECE.c.revision == STATUS.c.revision)
_PIECES_OF = Question(
    select(*PIECE.columns, STATUS.c.crib, STATUS.c.state)
    .join(STATUS, _NEWEST)
    .where(STATUS.c.piece.in_(bindparam("codes")))
)
_RECORDS = select(*(RECORD.c[name] for name in _EVERY), _own_of_each(), packed([RECORD.c[name] for name in _LEANING]))
_RECORDS_OF = Question(
    _RECORDS.where(RECORD.c.piece.in_(bindparam("codes"))).order_by(RECORD.c.piece, RECORD.c.book, RECORD.c.entry)
)
_RECORD_NAMED = Question(_RECORDS.where(RECORD.c.book == bindparam("book"), RECORD.c.entry == bindparam("number")))
_MOMENTS = Question(
    select(RECORD.c.book, RECORD.c.entry, JOURNAL.c.at)
    .join(JOURNAL, (JOURNAL.c.book == RECORD.c.book) & (JOURNAL.c.number == RECORD.c.entry))
    .where(RECORD.c.piece == bindparam("code"))
)
_EVERY_CODE = Question(select(STATUS.c.piece).order_by(STATUS.c.piece))
_CODES_IN = Question(select(STATUS.c.piece).where(STATUS.c.crib == bindparam("crib")).order_by(STATUS.c.piece))
_LATER = PIECE.alias("later")
_NEWEST_PIECES = Question(
    select(PIECE.c.code, PIECE.c.revision, PIECE.c.crib)
    .where(
        PIECE.c.revision == select(func.max(_LATER.c.revision)).where(_LATER.c.code == PIECE.c.code).scalar_subquery()
    )
    .order_by(PIECE.c.code)
)


def pieces(connection: Connection, codes: Iterable[str]) -> dict[str, Kept]:
    """The pieces of these exact codes; a code that is not there is left out."""
    wanted = list(dict.fromkeys(codes))
    kept: dict[str, Kept] = {}
    for first in range(0, len(wanted), MOST_AT_ONCE):
        kept.update(_some(connection, wanted[first : first + MOST_AT_ONCE]))
    return {code: kept[code] for code in wanted if code in kept}


def _some(connection: Connection, codes: list[str]) -> Iterator[tuple[str, Kept]]:
    rows = _PIECES_OF.rows(connection, codes=codes)
    entries: dict[str, list[Entry]] = {row[_CODE]: [] for row in rows}
    for row in _RECORDS_OF.rows(connection, codes=codes):
        # A standing that names no revision there is has no piece to give entries to; verification names it.
        if row[_OF_PIECE] in entries:
            entries[row[_OF_PIECE]].append(_entry_of(row))
    for row in rows:
        code = row[_CODE]
        entries_of_piece = tuple(_in_order(connection, code, entries[code]))
        registered = piece_of(row)
        crib, state = row[-2:]
        yield (
            code,
            Kept(as_entered(registered, entries_of_piece), crib, row[_REVISION], entries_of_piece, registered, state),
        )


def _in_order(connection: Connection, code: str, entries: list[Entry]) -> list[Entry]:
    """In one book numbers are the order; a piece that has moved is in several, and the moment of entry decides."""
    # They come by book, so that the first and the last tell whether there is another.
    if not entries or entries[0].name.book == entries[-1].name.book:
        return entries
    moments = {Name(book, number): at for book, number, at in _MOMENTS.rows(connection, code=code)}
    return in_order((entry.name.book, entry.name.number, moments[entry.name], entry) for entry in entries)


def piece_of(row: Sequence[Any]) -> Piece:
    """The piece of one row, without records; its columns stand in the order of the table."""
    return Piece(**_PIECES.values(row))


def entry_of(row: Mapping[str, Any]) -> Entry:
    """The entry of one row of records by the names of its columns; what is not there is not known."""
    sort = _SORTED[row["what"]]
    own = sort.values([row.get(name) for name in sort.columns])
    return _entry([row.get(name) for name in _EVERY], own, [row.get(name) for name in _LEANING])


def _entry_of(row: Sequence[Any]) -> Entry:
    """The entry of one row as it is asked for here."""
    own, leaning = row[_OWN], row[_LEANS]
    return _entry(
        row, _NOTHING if own is None else _own_of(row[_WHAT], own), None if leaning is None else _UNPACKED(leaning)
    )


@lru_cache(maxsize=8192)
def _own_of(what: str, packed: str) -> Mapping[str, Any]:
    """Most records of a sort say the same of themselves: passed, passed, 1.2."""
    return _SORTED[what].values(_UNPACKED(packed))


def _entry(every: Sequence[Any], own: Mapping[str, Any], leaning: Sequence[Any] | None) -> Entry:
    values = {**own}
    if every[_ON_FIRST] is not None:
        values["on"] = _day_of(every[_ON_FIRST], every[_ON_LAST])
    if every[_MOMENT] is not None:
        values["at"] = time.fromisoformat(every[_MOMENT])
    name, record = Name(every[_BOOK], every[_ENTRY]), _SORTED[every[_WHAT]].make(**values)
    if leaning is None:
        return Entry(name=name, record=record)
    strikes, strikes_in, reason, of_entry, of_in = leaning
    return Entry(
        name=name, record=record, strikes=None if strikes is None else Name(strikes_in, strikes), reason=reason,
        of=None if of_entry is None else Name(of_in, of_entry),
    )  # fmt: skip


@lru_cache(maxsize=8192)
def _day_of(first: str, last: str) -> Day:
    """Days come again and again: a whole shelf is tested, inspected and issued on the same few."""
    return Day(date.fromisoformat(first), date.fromisoformat(last))


def entry(connection: Connection, name: Name) -> tuple[str, Entry] | None:
    """One entry about a piece, with the piece's code; None where the line is about something else or not there."""
    row = _RECORD_NAMED.first(connection, book=name.book, number=name.number)
    return None if row is None else (row[_OF_PIECE], _entry_of(row))


def all_codes(connection: Connection, crib: str | None = None) -> list[str]:
    """Every piece's code in order, or those of one crib."""
    rows = _EVERY_CODE.rows(connection) if crib is None else _CODES_IN.rows(connection, crib=crib)
    return [str(row[0]) for row in rows]


def newest_pieces(connection: Connection) -> list[tuple[str, int, str]]:
    """Code, newest revision and crib of every piece, from the rows themselves and not from standings."""
    return [(str(code), int(revision), str(crib)) for code, revision, crib in _NEWEST_PIECES.rows(connection)]
