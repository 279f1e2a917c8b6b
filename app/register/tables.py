"""The tables as they are in this version; migrations make them, and a test holds the two against each other.

Every journaled table begins with `book` and `entry`, the number of the journal line that holds the same row. Things
that change (people, systems, circuits, site rules, pieces, bags, labels) change by a new row with the next revision.
"""

from __future__ import annotations

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
    _col("role_words", Words()), _col("scopes", _list(), needed=True), _col("valid_until", IsoDay()),
    _col("glove_sizes_c", _numbers(), needed=True), _col("name_digest", Bytes32()), key=("code", "revision"),
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
    _col("revision", WholeNumber(), needed=True), _col("supply", Words(), needed=True), _col("category", Words()),
    _col("cells_series", WholeNumber()), _col("cells_chemistry", Words()), _col("cells_max_mv", Millivolts()),
    _col("plate_max_mv", Millivolts()), _col("maker_max_mv", Millivolts()), _col("boosted_mv", Millivolts()),
    _col("nominal_mv", Millivolts()), _col("reading_mv", Millivolts()), _col("phase_to_earth_mv", Millivolts()),
    _col("phase_to_earth_confirmed_by", Words()), _col("maker_names_multimeter", YesNo()),
    key=("system", "key", "revision"),
)  # fmt: skip
SITE_RULE = _journaled(
    "site_rule", _col("key", Words(), needed=True), _col("revision", WholeNumber(), needed=True),
    _col("value", Words()), _col("approved_by", Words()), _col("reason", Words()), key=("key", "revision"),
)  # fmt: skip
PIECE = _journaled(
    "piece", _col("code", Words(), needed=True), _col("revision", WholeNumber(), needed=True),
    _col("crib", Words(), needed=True), _col("kind", Words(), needed=True), _col("label", Words(), needed=True),
    _col("batch", Words(), needed=True), _col("custody", Words(), needed=True),
    _col("is_lost", YesNo(), needed=True), _col("first_issue", Words(), needed=True),
    _col("insulation_class", Words()), _col("class_system", Words()), _col("type", Words()),
    _col("categories", _list(), needed=True), _col("length_um", Micrometres()), _col("size_c", Hundredths()),
    _col("hand", Words()), _col("dc_tested", YesNo()), _col("material", Words()),
    _col("voltage_mark", Canonical(VoltageMark)), _col("marks", Canonical(tuple[Mark, ...])),
    _col("marks_cap_off", Canonical(tuple[Mark, ...])), _col("fixed_leads", YesNo()),
    _col("max_input_ac_mv", Millivolts()), _col("max_input_dc_mv", Millivolts()), _col("current_ma", Milliamperes()),
    _col("tip_um", Micrometres()), _col("caps", Words()), _col("fuse", Canonical(Fuse)),
    _col("max_altitude_m", WholeNumber()), _col("threshold_dc_mv", Millivolts()), _col("threshold_ac_mv", Millivolts()),
    _col("leather_um", Micrometres()), _col("leather", Words()), _col("cut_for_class", Words()),
    _col("arc_rating_mcal", Millicalories()), _col("hood", YesNo()), _col("balaclava", YesNo()),
    _col("fabric_rating_mcal", Millicalories()), _col("window_rating_mcal", Millicalories()),
    _col("output_dc_mv", Millivolts()), _col("output_ac_mv", Millivolts()),
    _col("maker_interval_months", WholeNumber()), key=("code", "revision"),
)  # fmt: skip
RECORD = _journaled(
    "record", _col("piece", Words(), needed=True), _col("what", Words(), needed=True),
    _col("strikes", WholeNumber()), _col("strikes_in", Words()), _col("reason", Words()),
    _col("of_entry", WholeNumber()), _col("of_in", Words()),
    _col("on_first", IsoDay()), _col("on_last", IsoDay()), _col("at", ClockTime()), _col("result", Words()),
    _col("evidence", Words()), _col("occasion", Words()), _col("test_v", Volts()), _col("kind_of_current", Words()),
    _col("frequency_mhz", Millihertz()), _col("dwell_s", Seconds()), _col("left_ua", Microamperes()),
    _col("right_ua", Microamperes()), _col("soaked", YesNo()), _col("breakdown", YesNo()), _col("after", Words()),
    _col("certificate_names_piece", YesNo()), _col("lab", Words()), _col("certificate", Words()),
    _col("method", Words()), _col("confirmed_seen", YesNo()), _col("left", Words()), _col("right", Words()),
    _col("inflation_c", Hundredths()), _col("defects", _list()), _col("notes", _list()), _col("caps", Words()),
    _col("clearance_um", Micrometres()), _col("jack", Words()), _col("kind", Words()), _col("place", Words()),
    _col("repair", Words()), _col("remaining_mm", _numbers()), _col("to", Words()), _col("why", Words()),
    _col("by", Words()), _col("until_day", IsoDay()),
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
