"""Opening a register's file: what may be opened, with which settings, and reading and writing inside a transaction."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import TypeVar

from sqlalchemy import create_engine
from sqlalchemy.engine import Connection, Engine
from sqlalchemy.pool import StaticPool

from app.decision.domain.errors import BadInput, StoreTrouble
from app.register.driver import begin, commit, roll_back
from app.register.locks import FileLock, open_lock
from app.register.marks import APPLICATION_ID, SCHEMA
from app.register.sqlite import READING, WRITING, Mode, marks, marks_at_rest, prepare, reached, version
from app.register.trouble import in_words, trouble

__all__ = [
    "APPLICATION_ID",
    "SCHEMA",
    "Connection",
    "Store",
    "look_at",
    "make_engine",
    "open_store",
    "prepare",
    "version",
]

T = TypeVar("T")


class Store:
    """One open register. One thread owns it; `ask` reads, `writing` is one transaction that is there or is not."""

    def __init__(self, engine: Engine, path: Path, lock: FileLock | None, *, is_read_only: bool) -> None:
        self.path = path
        self.is_read_only = is_read_only
        self._engine = engine
        self._lock = lock
        self._connection = engine.connect()

    def ask(self, read: Callable[[Connection], T]) -> T:
        """One question in one short transaction; StoreTrouble where the file cannot be read."""
        with in_words(self.path):
            try:
                begin(self._connection, READING)
                return read(self._connection)
            finally:
                roll_back(self._connection)

    @contextmanager
    def writing(self, *, is_kept: bool = True) -> Iterator[Connection]:
        """BEGIN IMMEDIATE, then all of it or nothing; StoreTrouble where it cannot be written.

        Nothing as well where it is not to be kept: a trial waits for writers and is refused as a write is.
        """
        if self.is_read_only:
            raise StoreTrouble("store.read-only", file=str(self.path), thing=str(self.path))
        with in_words(self.path):
            connection = self._connection
            try:
                begin(connection, WRITING)
                yield connection
                if is_kept:
                    commit(connection)
                else:
                    roll_back(connection)
            except BaseException:
                roll_back(connection)
                raise

    def close(self) -> None:
        """Let go of file and lock."""
        self._connection.close()
        self._engine.dispose()
        if self._lock is not None:
            self._lock.close()


def look_at(path: Path) -> int:
    """The schema version of the register at `path`; nothing that is refused is changed by a byte.

    BadInput for anything that is no register of ours, or one made by a newer version. A write of ours that was cut
    short is taken back first: until then the file may show a version it never had.
    """
    try:
        _is_a_file(path)
    except OSError as fault:
        reason = str(fault.strerror)
        raise StoreTrouble("store.cannot-open", file=str(path), thing=str(path), reason=reason) from fault
    application, version = _marks_of(path)
    if application != APPLICATION_ID:
        raise BadInput("store.foreign", file=str(path), thing=str(path))
    if version > SCHEMA:
        raise BadInput("store.newer", file=str(path), thing=str(path), found=str(version), known=str(SCHEMA))
    return _settled(path) if _journal_of(path).exists() else version


def _is_a_file(path: Path) -> None:
    if not path.exists():
        raise BadInput("store.not-found", file=str(path), thing=str(path))
    if not path.is_file():
        raise BadInput("store.not-a-file", file=str(path), thing=str(path))
    if path.stat().st_size == 0:
        raise BadInput("store.empty", file=str(path), thing=str(path))


def _journal_of(path: Path) -> Path:
    """Where the database keeps what it must take back after a write that was cut short."""
    real = path.resolve()
    return real.with_name(f"{real.name}-journal")


def _settled(path: Path) -> int:
    """The version after the database has taken back, or waited for, whatever is being written."""
    with in_words(path), closing(reached(path, "rw")) as connection:
        return marks(connection)[1]


def _marks_of(path: Path) -> tuple[int, int]:
    """Application id and schema version; BadInput where it is another's file or none of a database."""
    try:
        return marks_at_rest(path)
    except sqlite3.Error as fault:
        if getattr(fault, "sqlite_errorname", "") == "SQLITE_NOTADB":
            raise BadInput("store.foreign", file=str(path), thing=str(path)) from fault
        raise trouble(fault, path) from fault


def open_store(path: Path, *, is_durable: bool = True) -> Store:
    """Open a register of this version; a file nobody may write to is opened for reading."""
    _is_of_this_version(path)
    lock = FileLock(path, alone=False)
    try:
        # Again, because somebody may have rebuilt it before we had the lock; now nobody can.
        _is_of_this_version(path)
        with in_words(path):
            is_read_only = not _is_writable(path)
            return Store(
                make_engine(path, is_read_only=is_read_only, is_durable=is_durable),
                path,
                lock,
                is_read_only=is_read_only,
            )
    except BaseException:
        lock.close()
        raise


def _is_of_this_version(path: Path) -> None:
    version = look_at(path)
    if version < SCHEMA:
        raise StoreTrouble("store.older", file=str(path), thing=str(path), found=str(version), known=str(SCHEMA))


def _is_writable(path: Path) -> bool:
    """Whether file and folder can be written: the database keeps its own journal beside the file."""
    # Asked of the system: a file that may only be read begins a transaction as if it could be written.
    if not os.access(path, os.W_OK):
        return False
    try:
        open_lock(path).close()
        connection = reached(path, "rw")
    except (OSError, sqlite3.Error):
        return False
    try:
        connection.execute(WRITING)
        connection.rollback()
    except sqlite3.OperationalError as fault:
        return not str(getattr(fault, "sqlite_errorname", "")).startswith("SQLITE_READONLY")
    finally:
        connection.close()
    return True


def make_engine(path: Path | None, *, is_read_only: bool = False, is_durable: bool = True) -> Engine:
    """An engine with one connection, every transaction of which is begun by us. `path` None lives in memory."""

    def connect() -> sqlite3.Connection:
        mode: Mode = "ro" if is_read_only else "rwc"
        connection = sqlite3.connect(":memory:", isolation_level=None) if path is None else reached(path, mode)
        prepare(connection, is_durable=is_durable)
        return connection

    return create_engine("sqlite://", creator=connect, poolclass=StaticPool)
