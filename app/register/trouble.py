"""The database's and the disk's complaints as ours: the true cause and a next step, never a bare code."""

from __future__ import annotations

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from app.decision.domain.errors import StoreTrouble

_KEYS = (
    ("SQLITE_FULL", "store.disk-full"),
    ("SQLITE_BUSY", "store.busy"),
    ("SQLITE_LOCKED", "store.busy"),
    ("SQLITE_READONLY", "store.read-only"),
    ("SQLITE_PERM", "store.read-only"),
    ("SQLITE_CANTOPEN", "store.cannot-open"),
    ("SQLITE_NOTADB", "store.foreign"),
    ("SQLITE_CORRUPT", "store.damaged"),
    ("SQLITE_IOERR", "store.disk-fault"),
    ("SQLITE_NOMEM", "store.no-memory"),
    ("SQLITE_TOOBIG", "store.too-big"),
)
# What the database says of a schema or a text that this program cannot have written.
_DAMAGE = ("no such", "foreign key mismatch", "has no column", "Could not decode", "malformed")
_SYSTEM_KEYS = {
    errno.ENOSPC: "store.disk-full",
    errno.EDQUOT: "store.disk-full",
    errno.EROFS: "store.read-only",
    errno.EACCES: "store.read-only",
    errno.EPERM: "store.read-only",
    errno.EIO: "store.disk-fault",
}


@contextmanager
def in_words(path: Path | str) -> Iterator[None]:
    """Turn what the database says inside into StoreTrouble naming the file."""
    try:
        yield
    except DBAPIError as fault:
        raise trouble(fault.orig if fault.orig is not None else fault, path) from fault
    except sqlite3.Error as fault:
        raise trouble(fault, path) from fault
    except UnicodeDecodeError as fault:
        # The driver cannot even read what the database says about a damaged schema.
        raise StoreTrouble("store.damaged", file=str(path), thing=str(path), reason=str(fault)) from fault
    except MemoryError as fault:
        raise StoreTrouble("store.no-memory", file=str(path), thing=str(path)) from fault


def trouble(fault: BaseException, path: Path | str) -> StoreTrouble:
    """The complaint as an error of ours; what is not known keeps the database's own words."""
    name = str(getattr(fault, "sqlite_errorname", ""))
    if name == "SQLITE_IOERR_WRITE" and "full" in str(fault):
        name = "SQLITE_FULL"
    key = next((key for start, key in _KEYS if name.startswith(start)), None)
    if isinstance(fault, OSError):
        name, key = "", _SYSTEM_KEYS.get(fault.errno or 0)
    if key is None and isinstance(fault, sqlite3.DatabaseError) and any(words in str(fault) for words in _DAMAGE):
        key = "store.damaged"
    return StoreTrouble(key or "store.unknown", file=str(path), thing=str(path), reason=f"{name} {fault}".strip())
