"""The tables as they are in this version; migrations make them, and a test holds the two against each other.

Every journaled table begins with `book` and `entry`, the number of the journal line that holds the same row. Things
that change (people, systems, circuits, site rules, pieces, bags, labels) change by a new row with the next revision.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

from sqlalchemy import (
    CheckConstraint,
    Column,
    ForeignKeyConstraint,
    Index,
    MetaData,
    PrimaryKeyConstraint,
    Table,
    UniqueConstraint,
)

from app.decision.domain.chain import Fuse, Mark
from app.decision.domain.piece import VoltageMark
from app.decision.fields.circuits import PLAIN
from app.decision.fields.field import Field
from app.decision.fields.pieces import FIELDS
from app.decision.fields.records import SORTS
from app.register.columns import (
    Bytes32,
    Canonical,
    ClockTime,
    Hundredths,
    Instant,
    IsoDay,
    Microamperes,
    Micrometres,
    Milliamperes,
    Millicalories,
    Millihertz,
    Millivolts,
    OwnType,
    Packed,
    Seconds,
    VagueDay,
    Volts,
    WholeNumber,
    Words,
    YesNo,
)

METADATA = MetaData()


def _list() -> Canonical:
    return Canonical(tuple[str, ...])


def _numbers() -> Canonical:
    return Canonical(tuple[int, ...])


def _col(name: str, kind: OwnType, *, needed: bool = False) -> Column[object]:
    return Column(name, kind, nullable=not needed)


#: sort of a field -> the type of its column
_TYPES: Mapping[str, Callable[[], OwnType]] = {
    "text": Words, "choice": Words, "first-issue": VagueDay, "day-or-month": VagueDay, "day": IsoDay, "time": ClockTime,
    "yes-no": YesNo, "count": WholeNumber, "seconds": Seconds, "test-volts": Volts, "volts": Millivolts,
    "length": Micrometres, "amperes": Milliamperes, "milliamperes": Microamperes, "hertz": Millihertz,
    "calories": Millicalories, "hundredths": Hundredths, "ratio": Hundredths, "list": _list, "numbers": _numbers,
    "marks": partial(Canonical, tuple[Mark, ...]), "voltage-mark": partial(Canonical, VoltageMark),
    "fuse": partial(Canonical, Fuse),
}  # fmt: skip
# These are never missing: the value has them from its beginning.
_NEEDED = ("label", "batch", "custody", "is_lost", "first_issue", "categories", "supply")


def _field(field: Field, *, may_lack: bool = False) -> Column[object]:
    """The column of a declared field."""
    return _col(field.name, _TYPES[field.sort.name](), needed=field.name in _NEEDED and not may_lack)


_OF_RECORDS = {field.name: field for sort in SORTS.values() for field in sort.fields.values()}


def _journaled(
    name: str, *columns: Column[object] | CheckConstraint, key: tuple[str, ...] = ("book", "entry")
) -> Table:
    """A table whose every row has its line: same book and number."""
    same = () if key == ("book", "entry") else (UniqueConstraint("book", "entry", name=f"{name}_line"),)
    return Table(
        name, METADATA, _col("book", Words(), needed=True), _col("entry", WholeNumber(), needed=True), *columns,
        PrimaryKeyConstraint(*key, name=f"{name}_key"), *same,
        ForeignKeyConstraint(["book", "entry"], ["journal.book", "journal.number"], name=f"{name}_in_journal"),
        sqlite_strict=True,
    )  # fmt: skip


JOURNAL = Table(
    "journal", METADATA, _col("book", Words(), needed=True), _col("number", WholeNumber(), needed=True),
    _col("at", Instant(), needed=True), _col("actor", Words(), needed=True), _col("kind", Words(), needed=True),
    _col("subject", Words(), needed=True), _col("revision", WholeNumber(), needed=True),
    _col("content", Words(), needed=True), _col("previous", Bytes32(), needed=True),
    _col("hash", Bytes32(), needed=True),
    PrimaryKeyConstraint("book", "number", name="journal_key"),
    CheckConstraint("number >= 1", name="journal_from_one"),
    sqlite_strict=True,
)  # fmt: skip
Index("journal_subject", JOURNAL.c.subject, JOURNAL.c.book, JOURNAL.c.number)

CRIB = _journaled("crib", _col("code", Words(), needed=True), key=("code",))
PERSON = _journaled(
    "person", _col("code", Words(), needed=True), _col("revision", WholeNumber(), needed=True),
    _col("role_words", Words()), _col("roles", _list()), _col("scopes", _list(), needed=True),
    _col("valid_until", IsoDay()), _col("glove_sizes_c", _numbers(), needed=True),
    _col("name_digest", Bytes32()), key=("code", "revision"),
)  # fmt: skip
PERSON_NAME = Table(
    "person_name", METADATA, _col("code", Words(), needed=True), _col("name", Words(), needed=True),
    _col("salt", Bytes32(), needed=True), PrimaryKeyConstraint("code", name="person_name_key"), sqlite_strict=True,
)  # fmt: skip
SYSTEM = _journaled(
    "system", _col("code", Words(), needed=True), _col("revision", WholeNumber(), needed=True),
    _col("name", Words(), needed=True), key=("code", "revision"),
)  # fmt: skip
CIRCUIT = _journaled(
    "circuit", _col("system", Words(), needed=True), _col("key", Words(), needed=True),
    _col("revision", WholeNumber(), needed=True), _col("cells_series", WholeNumber()), _col("cells_chemistry", Words()),
    _col("cells_max_mv", Millivolts()), *(_field(field) for field in PLAIN),
    key=("system", "key", "revision"),
)  # fmt: skip
SITE_RULE = _journaled(
    "site_rule", _col("key", Words(), needed=True), _col("revision", WholeNumber(), needed=True),
    _col("value", Words()), _col("approved_by", Words()), _col("reason", Words()), key=("key", "revision"),
)  # fmt: skip
PIECE = _journaled(
    "piece", _col("code", Words(), needed=True), _col("revision", WholeNumber(), needed=True),
    _col("crib", Words(), needed=True), _col("kind", Words(), needed=True),
    *(_field(field) for field in FIELDS.values() if field.key not in ("code", "kind")), key=("code", "revision"),
)  # fmt: skip
RECORD = _journaled(
    "record", _col("piece", Words(), needed=True), _col("what", Words(), needed=True),
    _col("strikes", WholeNumber()), _col("strikes_in", Words()), _col("reason", Words()),
    _col("of_entry", WholeNumber()), _col("of_in", Words()),
    _col("on_first", IsoDay()), _col("on_last", IsoDay()), _col("at", ClockTime()),
    *(_field(field, may_lack=True) for field in _OF_RECORDS.values()),
    _col("confirmed_seen", YesNo()), _col("until_day", IsoDay()),
    CheckConstraint("result IN ('passed', 'failed')", name="record_result"),
    CheckConstraint("on_first <= on_last", name="record_days"),
)  # fmt: skip
Index("record_piece", RECORD.c.piece, RECORD.c.book, RECORD.c.entry)
DECISION = _journaled(
    "decision", _col("decision", Words(), needed=True), _col("person", Words(), needed=True), _col("second", Words()),
    _col("system", Words(), needed=True), _col("circuits", _list(), needed=True), _col("task", Words(), needed=True),
    _col("on_day", IsoDay(), needed=True), _col("until_day", IsoDay(), needed=True),
    _col("kit", _list(), needed=True), _col("program", Words(), needed=True), _col("proof", Packed(), needed=True),
    CheckConstraint("decision IN ('may-be-issued', 'refused')", name="decision_word"),
)  # fmt: skip
Index("decision_person", DECISION.c.person, DECISION.c.on_day)
BAG = _journaled(
    "bag", _col("code", Words(), needed=True), _col("revision", WholeNumber(), needed=True),
    _col("pieces", _list(), needed=True), key=("code", "revision"),
)  # fmt: skip
ALIAS = _journaled(
    "alias", _col("label", Words(), needed=True), _col("revision", WholeNumber(), needed=True),
    _col("piece", Words(), needed=True), key=("label", "revision"),
)  # fmt: skip
STOCKTAKE = _journaled(
    "stocktake", _col("crib", Words(), needed=True), _col("on_day", IsoDay(), needed=True),
    _col("scanned", _list(), needed=True), _col("missing", _list(), needed=True),
    _col("unexpected", _list(), needed=True),
)  # fmt: skip

# Derived from the rows above and never journaled; verify works them out again.
STATUS = Table(
    "status", METADATA, _col("piece", Words(), needed=True), _col("folded", Words(), needed=True),
    _col("revision", WholeNumber(), needed=True), _col("crib", Words(), needed=True),
    _col("kind", Words(), needed=True), _col("state", Words(), needed=True), _col("why", Words(), needed=True),
    _col("due_on", IsoDay()), _col("decides", Words(), needed=True), _col("counted_from", IsoDay()),
    _col("checked_on", IsoDay()), _col("unchecked", Words()), _col("holder", Words(), needed=True),
    _col("place", Words(), needed=True),
    PrimaryKeyConstraint("piece", name="status_key"), UniqueConstraint("folded", name="status_folded"),
    sqlite_strict=True,
)  # fmt: skip
Index("status_due", STATUS.c.due_on, STATUS.c.piece)
Index("status_state", STATUS.c.state, STATUS.c.due_on, STATUS.c.piece)
Index("status_kind", STATUS.c.kind, STATUS.c.crib, STATUS.c.state, STATUS.c.piece)
OUT_NOW = Table(
    "out_now", METADATA, _col("piece", Words(), needed=True), _col("book", Words(), needed=True),
    _col("entry", WholeNumber(), needed=True), _col("person", Words(), needed=True), _col("until_day", IsoDay()),
    PrimaryKeyConstraint("piece", name="out_now_key"), sqlite_strict=True,
)  # fmt: skip
DERIVED = Table(
    "derived", METADATA, _col("key", Words(), needed=True), _col("value", Words(), needed=True),
    PrimaryKeyConstraint("key", name="derived_key"), sqlite_strict=True,
)  # fmt: skip

JOURNALED: dict[str, Table] = {
    table.name: table
    for table in (
        CRIB, PERSON, SYSTEM, CIRCUIT, SITE_RULE, PIECE, RECORD, DECISION, BAG, ALIAS, STOCKTAKE,
    )
}  # fmt: skip
