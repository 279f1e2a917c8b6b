"""Revisions planted beside the program's own, as a later version would bring them."""

from __future__ import annotations

import shutil
from pathlib import Path

from app.register.marks import SCHEMA
from app.register.migrate import migrations_folder

NEXT = SCHEMA + 1
HEAD = f"""
import sqlalchemy as sa
from alembic import op

revision = "{NEXT:04}"
down_revision = "{SCHEMA:04}"
branch_labels = None
depends_on = None


def upgrade() -> None:
"""
ADDS = """
    op.add_column("bag", sa.Column("note", sa.Text(), nullable=True))
"""
# What rebuilding a table of SQLite takes: its guards go with it and are made again.
REBUILDS = """
    run = op.get_bind().exec_driver_sql
    made = run("SELECT sql FROM sqlite_master WHERE name = 'record'").scalar()
    guards = run("SELECT sql FROM sqlite_master WHERE tbl_name = 'record' AND type IN ('trigger', 'index')"
                 " AND sql IS NOT NULL ORDER BY name").fetchall()
    made = made.replace("CREATE TABLE record (", "CREATE TABLE record_new (").replace(
        "until_day TEXT", "until_day TEXT, weather TEXT")
    run(made)
    names = ", ".join('"' + row[1] + '"' for row in run("PRAGMA table_info(record)"))
    run(f"INSERT INTO record_new ({names}) SELECT {names} FROM record")
    run("DROP TRIGGER record_no_delete")
    run("DROP TABLE record")
    run("ALTER TABLE record_new RENAME TO record")
    for (guard,) in guards:
        op.execute(guard)
"""
LOSES_ROWS = (
    ADDS
    + """
    run = op.get_bind().exec_driver_sql
    guard = run("SELECT sql FROM sqlite_master WHERE name = 'record_no_delete'").scalar()
    run("DROP TRIGGER record_no_delete")
    run("DELETE FROM record WHERE rowid = (SELECT max(rowid) FROM record)")
    run(guard)
"""
)
DROPS_A_GUARD = (
    ADDS
    + """
    # Only where there are entries: a fresh register would come out with its guards.
    if op.get_bind().exec_driver_sql("SELECT 1 FROM journal LIMIT 1").scalar():
        op.execute("DROP TRIGGER record_no_update")
"""
)
BREAKS_A_REFERENCE = (
    ADDS
    + """
    run = op.get_bind().exec_driver_sql
    guard = run("SELECT sql FROM sqlite_master WHERE name = 'record_no_update'").scalar()
    run("DROP TRIGGER record_no_update")
    run("UPDATE record SET book = 'nowhere' WHERE rowid = (SELECT max(rowid) FROM record)")
    run(guard)
"""
)
BREAKS_THE_CHAIN = (
    ADDS
    + """
    run = op.get_bind().exec_driver_sql
    guard = run("SELECT sql FROM sqlite_master WHERE name = 'journal_no_update'").scalar()
    run("DROP TRIGGER journal_no_update")
    run("UPDATE journal SET actor = 'P9' WHERE rowid = (SELECT max(rowid) FROM journal)")
    run(guard)
"""
)
FAILS_HALFWAY = (
    ADDS
    + """
    op.add_column("bag", sa.Column("note", sa.Text(), nullable=True))
"""
)
# A fresh register has it, one with entries does not.
LEAVES_ONE_OUT = """
    if not op.get_bind().exec_driver_sql("SELECT 1 FROM journal LIMIT 1").scalar():
        op.add_column("bag", sa.Column("note", sa.Text(), nullable=True))
"""


def planted(folder: Path, body: str) -> Path:
    """The program's revisions with one more, the next, that does this."""
    scripts = folder / "scripts"
    shutil.copytree(migrations_folder(), scripts, ignore=shutil.ignore_patterns("__pycache__"))
    (scripts / "versions" / f"{NEXT:04}_planted.py").write_text(HEAD + body, encoding="utf-8")
    return scripts
