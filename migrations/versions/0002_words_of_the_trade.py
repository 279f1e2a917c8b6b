"""Inspection, notes and status, as the trade says them: rows of records say so too, and statuses are worked out anew."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

# In the order of SQLite everywhere: by code points.
TEXT = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")
WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
STATUS = (
    ("piece", TEXT, False), ("folded", TEXT, False), ("revision", WHOLE, False), ("crib", TEXT, False),
    ("kind", TEXT, False), ("state", TEXT, False), ("why", TEXT, False), ("due_on", TEXT, True),
    ("decides", TEXT, False), ("counted_from", TEXT, True), ("checked_on", TEXT, True), ("unchecked", TEXT, True),
    ("holder", TEXT, False), ("place", TEXT, False),
)  # fmt: skip
GUARD = (
    "CREATE TRIGGER record_no_update BEFORE UPDATE ON \"record\" BEGIN SELECT RAISE(ABORT, 'append-only: record'); END"
)


def upgrade() -> None:
    """Rename a column, a sort of record and the table of statuses."""
    op.execute("ALTER TABLE record RENAME COLUMN harmless TO notes")
    rename = "UPDATE record SET what = 'inspection' WHERE what = 'look-over'"
    if op.get_bind().dialect.name == "sqlite":
        op.execute("DROP TRIGGER record_no_update")
        op.execute(rename)
        op.execute(GUARD)
    else:
        op.execute("ALTER TABLE record DISABLE TRIGGER record_no_change")
        op.execute(rename)
        op.execute("ALTER TABLE record ENABLE TRIGGER record_no_change")
    op.create_table(
        "status",
        *(sa.Column(name, kind, nullable=may_lack) for name, kind, may_lack in STATUS),
        sa.PrimaryKeyConstraint("piece", name="status_key"),
        sa.UniqueConstraint("folded", name="status_folded"),
        sqlite_strict=True,
    )
    names = ", ".join(name for name, _, _ in STATUS)
    op.execute(f"INSERT INTO status ({names}) SELECT {names} FROM standing")
    op.drop_table("standing")
    op.create_index("status_due", "status", ["due_on", "piece"])
    op.create_index("status_kind", "status", ["kind", "crib", "state", "piece"])
    op.create_index("status_state", "status", ["state", "due_on", "piece"])
    # What they were worked out under no longer holds: they are worked out anew before the first list.
    op.execute("DELETE FROM derived")


def downgrade() -> None:
    """Never in place: a backup is what one goes back to."""
    raise NotImplementedError
