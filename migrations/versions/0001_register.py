"""The register's first form: journal, the tables of which every row has a line, and what is derived from them."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

# In the order of SQLite everywhere: by code points.
TEXT = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")
WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")  # STRICT tables know INTEGER only, of 64 bits
BYTES = sa.LargeBinary()
APPEND_ONLY = (
    "journal", "crib", "person", "system", "circuit", "site_rule", "piece", "record", "decision", "bag", "alias",
    "stocktake",
)  # fmt: skip


def upgrade() -> None:
    """Make tables, indexes and guards."""
    _tables()
    guard = {"sqlite": _guard_sqlite, "postgresql": _guard_postgresql}[op.get_bind().dialect.name]
    guard()


def downgrade() -> None:
    """Never in place: a backup is what one goes back to."""
    raise NotImplementedError


def _guard_sqlite() -> None:
    for table in APPEND_ONLY:
        for act in ("UPDATE", "DELETE"):
            op.execute(
                f'CREATE TRIGGER {table}_no_{act.lower()} BEFORE {act} ON "{table}" '
                f"BEGIN SELECT RAISE(ABORT, 'append-only: {table}'); END"
            )
    op.execute(
        "CREATE TRIGGER journal_next BEFORE INSERT ON journal WHEN NOT EXISTS (SELECT 1 FROM journal AS last "
        "WHERE last.book = NEW.book AND last.number = NEW.number - 1 AND last.hash = NEW.previous) "
        "AND NOT (NEW.number = 1 AND NEW.previous = zeroblob(32)) "
        "BEGIN SELECT RAISE(ABORT, 'journal out of order'); END"
    )


def _guard_postgresql() -> None:
    op.execute(
        "CREATE FUNCTION append_only() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RAISE EXCEPTION 'append-only: %', TG_TABLE_NAME; END $$"
    )
    for table in APPEND_ONLY:
        op.execute(
            f'CREATE TRIGGER {table}_no_change BEFORE UPDATE OR DELETE OR TRUNCATE ON "{table}" '
            "FOR EACH STATEMENT EXECUTE FUNCTION append_only()"
        )


def _tables() -> None:
    op.create_table(
        "derived",
        sa.Column("key", TEXT, nullable=False),
        sa.Column("value", TEXT, nullable=False),
        sa.PrimaryKeyConstraint("key", name="derived_key"),
        sqlite_strict=True,
    )
    op.create_table(
        "journal",
        sa.Column("book", TEXT, nullable=False),
        sa.Column("number", WHOLE, nullable=False),
        sa.Column("at", TEXT, nullable=False),
        sa.Column("actor", TEXT, nullable=False),
        sa.Column("kind", TEXT, nullable=False),
        sa.Column("subject", TEXT, nullable=False),
        sa.Column("revision", WHOLE, nullable=False),
        sa.Column("content", TEXT, nullable=False),
        sa.Column("previous", BYTES, nullable=False),
        sa.Column("hash", BYTES, nullable=False),
        sa.PrimaryKeyConstraint("book", "number", name="journal_key"),
        sa.CheckConstraint("number >= 1", name="journal_from_one"),
        sqlite_strict=True,
    )
    op.create_index("journal_subject", "journal", ["subject", "book", "number"])
    op.create_table(
        "out_now",
        sa.Column("piece", TEXT, nullable=False),
        sa.Column("book", TEXT, nullable=False),
        sa.Column("entry", WHOLE, nullable=False),
        sa.Column("person", TEXT, nullable=False),
        sa.Column("until_day", TEXT, nullable=True),
        sa.PrimaryKeyConstraint("piece", name="out_now_key"),
        sqlite_strict=True,
    )
    op.create_table(
        "person_name",
        sa.Column("code", TEXT, nullable=False),
        sa.Column("name", TEXT, nullable=False),
        sa.Column("salt", BYTES, nullable=False),
        sa.PrimaryKeyConstraint("code", name="person_name_key"),
        sqlite_strict=True,
    )
    op.create_table(
        "standing",
        sa.Column("piece", TEXT, nullable=False),
        sa.Column("folded", TEXT, nullable=False),
        sa.Column("revision", WHOLE, nullable=False),
        sa.Column("crib", TEXT, nullable=False),
        sa.Column("kind", TEXT, nullable=False),
        sa.Column("state", TEXT, nullable=False),
        sa.Column("why", TEXT, nullable=False),
        sa.Column("due_on", TEXT, nullable=True),
        sa.Column("decides", TEXT, nullable=False),
        sa.Column("counted_from", TEXT, nullable=True),
        sa.Column("checked_on", TEXT, nullable=True),
        sa.Column("unchecked", TEXT, nullable=True),
        sa.Column("holder", TEXT, nullable=False),
        sa.Column("place", TEXT, nullable=False),
        sa.PrimaryKeyConstraint("piece", name="standing_key"),
        sa.UniqueConstraint("folded", name="standing_folded"),
        sqlite_strict=True,
    )
    op.create_index("standing_due", "standing", ["due_on", "piece"])
    op.create_index("standing_kind", "standing", ["kind", "crib", "state", "piece"])
    op.create_index("standing_state", "standing", ["state", "due_on", "piece"])
    op.create_table(
        "alias",
        sa.Column("book", TEXT, nullable=False),
        sa.Column("entry", WHOLE, nullable=False),
        sa.Column("label", TEXT, nullable=False),
        sa.Column("revision", WHOLE, nullable=False),
        sa.Column("piece", TEXT, nullable=False),
        sa.PrimaryKeyConstraint("label", "revision", name="alias_key"),
        sa.ForeignKeyConstraint(["book", "entry"], ["journal.book", "journal.number"], name="alias_in_journal"),
        sa.UniqueConstraint("book", "entry", name="alias_line"),
        sqlite_strict=True,
    )
    op.create_table(
        "bag",
        sa.Column("book", TEXT, nullable=False),
        sa.Column("entry", WHOLE, nullable=False),
        sa.Column("code", TEXT, nullable=False),
        sa.Column("revision", WHOLE, nullable=False),
        sa.Column("pieces", TEXT, nullable=False),
        sa.PrimaryKeyConstraint("code", "revision", name="bag_key"),
        sa.ForeignKeyConstraint(["book", "entry"], ["journal.book", "journal.number"], name="bag_in_journal"),
        sa.UniqueConstraint("book", "entry", name="bag_line"),
        sqlite_strict=True,
    )
    op.create_table(
        "circuit",
        sa.Column("book", TEXT, nullable=False),
        sa.Column("entry", WHOLE, nullable=False),
        sa.Column("system", TEXT, nullable=False),
        sa.Column("key", TEXT, nullable=False),
        sa.Column("revision", WHOLE, nullable=False),
        sa.Column("supply", TEXT, nullable=False),
        sa.Column("category", TEXT, nullable=True),
        sa.Column("cells_series", WHOLE, nullable=True),
        sa.Column("cells_chemistry", TEXT, nullable=True),
        sa.Column("cells_max_mv", WHOLE, nullable=True),
        sa.Column("plate_max_mv", WHOLE, nullable=True),
        sa.Column("maker_max_mv", WHOLE, nullable=True),
        sa.Column("boosted_mv", WHOLE, nullable=True),
        sa.Column("nominal_mv", WHOLE, nullable=True),
        sa.Column("reading_mv", WHOLE, nullable=True),
        sa.Column("phase_to_earth_mv", WHOLE, nullable=True),
        sa.Column("phase_to_earth_confirmed_by", TEXT, nullable=True),
        sa.Column("maker_names_multimeter", WHOLE, nullable=True),
        sa.PrimaryKeyConstraint("system", "key", "revision", name="circuit_key"),
        sa.ForeignKeyConstraint(["book", "entry"], ["journal.book", "journal.number"], name="circuit_in_journal"),
        sa.UniqueConstraint("book", "entry", name="circuit_line"),
        sqlite_strict=True,
    )
    op.create_table(
        "crib",
        sa.Column("book", TEXT, nullable=False),
        sa.Column("entry", WHOLE, nullable=False),
        sa.Column("code", TEXT, nullable=False),
        sa.PrimaryKeyConstraint("code", name="crib_key"),
        sa.ForeignKeyConstraint(["book", "entry"], ["journal.book", "journal.number"], name="crib_in_journal"),
        sa.UniqueConstraint("book", "entry", name="crib_line"),
        sqlite_strict=True,
    )
    op.create_table(
        "decision",
        sa.Column("book", TEXT, nullable=False),
        sa.Column("entry", WHOLE, nullable=False),
        sa.Column("decision", TEXT, nullable=False),
        sa.Column("person", TEXT, nullable=False),
        sa.Column("second", TEXT, nullable=True),
        sa.Column("system", TEXT, nullable=False),
        sa.Column("circuits", TEXT, nullable=False),
        sa.Column("task", TEXT, nullable=False),
        sa.Column("on_day", TEXT, nullable=False),
        sa.Column("until_day", TEXT, nullable=False),
        sa.Column("kit", TEXT, nullable=False),
        sa.Column("program", TEXT, nullable=False),
        sa.Column("proof", BYTES, nullable=False),
        sa.PrimaryKeyConstraint("book", "entry", name="decision_key"),
        sa.CheckConstraint("decision IN ('may-be-issued', 'refused')", name="decision_word"),
        sa.ForeignKeyConstraint(["book", "entry"], ["journal.book", "journal.number"], name="decision_in_journal"),
        sqlite_strict=True,
    )
    op.create_index("decision_person", "decision", ["person", "on_day"])
    op.create_table(
        "person",
        sa.Column("book", TEXT, nullable=False),
        sa.Column("entry", WHOLE, nullable=False),
        sa.Column("code", TEXT, nullable=False),
        sa.Column("revision", WHOLE, nullable=False),
        sa.Column("role_words", TEXT, nullable=True),
        sa.Column("scopes", TEXT, nullable=False),
        sa.Column("valid_until", TEXT, nullable=True),
        sa.Column("glove_sizes_c", TEXT, nullable=False),
        sa.Column("name_digest", BYTES, nullable=True),
        sa.PrimaryKeyConstraint("code", "revision", name="person_key"),
        sa.ForeignKeyConstraint(["book", "entry"], ["journal.book", "journal.number"], name="person_in_journal"),
        sa.UniqueConstraint("book", "entry", name="person_line"),
        sqlite_strict=True,
    )
    op.create_table(
        "piece",
        sa.Column("book", TEXT, nullable=False),
        sa.Column("entry", WHOLE, nullable=False),
        sa.Column("code", TEXT, nullable=False),
        sa.Column("revision", WHOLE, nullable=False),
        sa.Column("crib", TEXT, nullable=False),
        sa.Column("kind", TEXT, nullable=False),
        sa.Column("label", TEXT, nullable=False),
        sa.Column("batch", TEXT, nullable=False),
        sa.Column("custody", TEXT, nullable=False),
        sa.Column("is_lost", WHOLE, nullable=False),
        sa.Column("first_issue", TEXT, nullable=False),
        sa.Column("insulation_class", TEXT, nullable=True),
        sa.Column("class_system", TEXT, nullable=True),
        sa.Column("type", TEXT, nullable=True),
        sa.Column("categories", TEXT, nullable=False),
        sa.Column("length_um", WHOLE, nullable=True),
        sa.Column("size_c", WHOLE, nullable=True),
        sa.Column("hand", TEXT, nullable=True),
        sa.Column("dc_tested", WHOLE, nullable=True),
        sa.Column("material", TEXT, nullable=True),
        sa.Column("voltage_mark", TEXT, nullable=True),
        sa.Column("marks", TEXT, nullable=True),
        sa.Column("marks_cap_off", TEXT, nullable=True),
        sa.Column("fixed_leads", WHOLE, nullable=True),
        sa.Column("max_input_ac_mv", WHOLE, nullable=True),
        sa.Column("max_input_dc_mv", WHOLE, nullable=True),
        sa.Column("current_ma", WHOLE, nullable=True),
        sa.Column("tip_um", WHOLE, nullable=True),
        sa.Column("caps", TEXT, nullable=True),
        sa.Column("fuse", TEXT, nullable=True),
        sa.Column("max_altitude_m", WHOLE, nullable=True),
        sa.Column("threshold_dc_mv", WHOLE, nullable=True),
        sa.Column("threshold_ac_mv", WHOLE, nullable=True),
        sa.Column("leather_um", WHOLE, nullable=True),
        sa.Column("leather", TEXT, nullable=True),
        sa.Column("cut_for_class", TEXT, nullable=True),
        sa.Column("arc_rating_mcal", WHOLE, nullable=True),
        sa.Column("hood", WHOLE, nullable=True),
        sa.Column("balaclava", WHOLE, nullable=True),
        sa.Column("fabric_rating_mcal", WHOLE, nullable=True),
        sa.Column("window_rating_mcal", WHOLE, nullable=True),
        sa.Column("output_dc_mv", WHOLE, nullable=True),
        sa.Column("output_ac_mv", WHOLE, nullable=True),
        sa.Column("maker_interval_months", WHOLE, nullable=True),
        sa.PrimaryKeyConstraint("code", "revision", name="piece_key"),
        sa.ForeignKeyConstraint(["book", "entry"], ["journal.book", "journal.number"], name="piece_in_journal"),
        sa.UniqueConstraint("book", "entry", name="piece_line"),
        sqlite_strict=True,
    )
    op.create_table(
        "record",
        sa.Column("book", TEXT, nullable=False),
        sa.Column("entry", WHOLE, nullable=False),
        sa.Column("piece", TEXT, nullable=False),
        sa.Column("what", TEXT, nullable=False),
        sa.Column("strikes", WHOLE, nullable=True),
        sa.Column("strikes_in", TEXT, nullable=True),
        sa.Column("reason", TEXT, nullable=True),
        sa.Column("of_entry", WHOLE, nullable=True),
        sa.Column("of_in", TEXT, nullable=True),
        sa.Column("on_first", TEXT, nullable=True),
        sa.Column("on_last", TEXT, nullable=True),
        sa.Column("at", TEXT, nullable=True),
        sa.Column("result", TEXT, nullable=True),
        sa.Column("evidence", TEXT, nullable=True),
        sa.Column("occasion", TEXT, nullable=True),
        sa.Column("test_v", WHOLE, nullable=True),
        sa.Column("kind_of_current", TEXT, nullable=True),
        sa.Column("frequency_mhz", WHOLE, nullable=True),
        sa.Column("dwell_s", WHOLE, nullable=True),
        sa.Column("left_ua", WHOLE, nullable=True),
        sa.Column("right_ua", WHOLE, nullable=True),
        sa.Column("soaked", WHOLE, nullable=True),
        sa.Column("breakdown", WHOLE, nullable=True),
        sa.Column("after", TEXT, nullable=True),
        sa.Column("certificate_names_piece", WHOLE, nullable=True),
        sa.Column("lab", TEXT, nullable=True),
        sa.Column("certificate", TEXT, nullable=True),
        sa.Column("method", TEXT, nullable=True),
        sa.Column("confirmed_seen", WHOLE, nullable=True),
        sa.Column("left", TEXT, nullable=True),
        sa.Column("right", TEXT, nullable=True),
        sa.Column("inflation_c", WHOLE, nullable=True),
        sa.Column("defects", TEXT, nullable=True),
        sa.Column("harmless", TEXT, nullable=True),
        sa.Column("caps", TEXT, nullable=True),
        sa.Column("clearance_um", WHOLE, nullable=True),
        sa.Column("jack", TEXT, nullable=True),
        sa.Column("kind", TEXT, nullable=True),
        sa.Column("place", TEXT, nullable=True),
        sa.Column("repair", TEXT, nullable=True),
        sa.Column("remaining_mm", TEXT, nullable=True),
        sa.Column("to", TEXT, nullable=True),
        sa.Column("why", TEXT, nullable=True),
        sa.Column("by", TEXT, nullable=True),
        sa.Column("until_day", TEXT, nullable=True),
        sa.PrimaryKeyConstraint("book", "entry", name="record_key"),
        sa.CheckConstraint("on_first <= on_last", name="record_days"),
        sa.CheckConstraint("result IN ('passed', 'failed')", name="record_result"),
        sa.ForeignKeyConstraint(["book", "entry"], ["journal.book", "journal.number"], name="record_in_journal"),
        sqlite_strict=True,
    )
    op.create_index("record_piece", "record", ["piece", "book", "entry"])
    op.create_table(
        "site_rule",
        sa.Column("book", TEXT, nullable=False),
        sa.Column("entry", WHOLE, nullable=False),
        sa.Column("key", TEXT, nullable=False),
        sa.Column("revision", WHOLE, nullable=False),
        sa.Column("value", TEXT, nullable=True),
        sa.Column("approved_by", TEXT, nullable=True),
        sa.Column("reason", TEXT, nullable=True),
        sa.PrimaryKeyConstraint("key", "revision", name="site_rule_key"),
        sa.ForeignKeyConstraint(["book", "entry"], ["journal.book", "journal.number"], name="site_rule_in_journal"),
        sa.UniqueConstraint("book", "entry", name="site_rule_line"),
        sqlite_strict=True,
    )
    op.create_table(
        "stocktake",
        sa.Column("book", TEXT, nullable=False),
        sa.Column("entry", WHOLE, nullable=False),
        sa.Column("crib", TEXT, nullable=False),
        sa.Column("on_day", TEXT, nullable=False),
        sa.Column("scanned", TEXT, nullable=False),
        sa.Column("missing", TEXT, nullable=False),
        sa.Column("unexpected", TEXT, nullable=False),
        sa.PrimaryKeyConstraint("book", "entry", name="stocktake_key"),
        sa.ForeignKeyConstraint(["book", "entry"], ["journal.book", "journal.number"], name="stocktake_in_journal"),
        sqlite_strict=True,
    )
    op.create_table(
        "system",
        sa.Column("book", TEXT, nullable=False),
        sa.Column("entry", WHOLE, nullable=False),
        sa.Column("code", TEXT, nullable=False),
        sa.Column("revision", WHOLE, nullable=False),
        sa.Column("name", TEXT, nullable=False),
        sa.PrimaryKeyConstraint("code", "revision", name="system_key"),
        sa.ForeignKeyConstraint(["book", "entry"], ["journal.book", "journal.number"], name="system_in_journal"),
        sa.UniqueConstraint("book", "entry", name="system_line"),
        sqlite_strict=True,
    )
