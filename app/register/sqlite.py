"""What only SQLite has: how its file is reached, set up, marked and looked over.

Every PRAGMA stands here, and nothing here needs the database library: a glance is taken before that is loaded.
"""

from __future__ import annotations

import sqlite3
from pathlib import Path
from typing import TYPE_CHECKING, Literal
from urllib.parse import quote

from app.register.driver import Row, fetched
from app.register.marks import APPLICATION_ID

if TYPE_CHECKING:
    from sqlalchemy.engine import Connection

WAIT_MS = 10_000
Mode = Literal["ro", "rw", "rwc", "ro&immutable=1"]
READING, WRITING = "BEGIN", "BEGIN IMMEDIATE"
INTERNAL = ("sqlite_sequence", "sqlite_stat1", "sqlite_stat4")
_SETTINGS = (
    "journal_mode=DELETE", "foreign_keys=ON", "recursive_triggers=ON", "cell_size_check=ON", "trusted_schema=OFF",
)  # fmt: skip


def reached(path: Path, mode: Mode, wait_ms: int | None = None) -> sqlite3.Connection:
    """A connection to the file. Transactions are begun by us, where we say how, and never by a statement."""
    where = f"file:{quote(str(path.resolve()))}?mode={mode}"
    waits_ms = WAIT_MS if wait_ms is None else wait_ms
    return sqlite3.connect(where, uri=True, isolation_level=None, timeout=waits_ms / 1000)


def prepare(connection: sqlite3.Connection, *, is_durable: bool = True) -> None:
    """Settings of every connection; waiting first, because the others may already meet a lock."""
    for setting in (f"busy_timeout={WAIT_MS}", *_SETTINGS, f"synchronous={'EXTRA' if is_durable else 'OFF'}"):
        connection.execute(f"PRAGMA {setting}")


def marks(connection: sqlite3.Connection) -> tuple[int, int]:
    """Application id and schema version."""
    application, version = (connection.execute(f"PRAGMA {name}") for name in ("application_id", "user_version"))
    return int(application.fetchone()[0]), int(version.fetchone()[0])


def marks_at_rest(path: Path) -> tuple[int, int]:
    """The same from the first page alone, read as if nobody could change the file.

    No lock is taken, no journal rolled back, and no handle of ours is closed on the file, which would drop the locks
    of a register open in this process.
    """
    connection = reached(path, "ro&immutable=1")
    try:
        # Lets a file be read that is not as long as it says: a write cut short may have left it so, to be taken back.
        connection.execute("PRAGMA writable_schema=ON")
        return marks(connection)
    finally:
        connection.close()


def mark_as_ours(connection: Connection) -> None:
    """Put our mark on a fresh file; before the transaction that fills it."""
    fetched(connection, f"PRAGMA application_id={APPLICATION_ID}")


def mark_version(connection: Connection, version: int) -> None:
    """Put the schema's version on the file."""
    fetched(connection, f"PRAGMA user_version={version}")


def without_references(connection: Connection) -> None:
    """References are off while tables are rebuilt, or a rebuilt table would take its children with it."""
    fetched(connection, "PRAGMA foreign_keys=OFF")


def unsound(connection: sqlite3.Connection | Connection, most: int = 20) -> list[str]:
    """What the database finds wrong with its own file; [] where it is sound."""
    question = f"PRAGMA integrity_check({most})"
    rows = connection.execute(question) if isinstance(connection, sqlite3.Connection) else fetched(connection, question)
    return [str(row[0]) for row in rows if row[0] != "ok"]


def broken_references(connection: Connection) -> list[tuple[str, str]]:
    """Table and place of every row that leans on one that is not there."""
    return [(str(row[0]), str(row[1])) for row in fetched(connection, "PRAGMA foreign_key_check")]


def schema(connection: Connection) -> list[Row]:
    """Sort, name and text of every table, index and guard."""
    rows = fetched(connection, "SELECT type, name, sql FROM sqlite_master ORDER BY type, name")
    return [row for row in rows if row[1] not in INTERNAL]


def version() -> str:
    """The database library's version."""
    return f"SQLite {sqlite3.sqlite_version}"
