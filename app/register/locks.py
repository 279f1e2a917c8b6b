"""The kernel's lock beside a register: shared by everybody who works in it, alone for whoever rebuilds it.

The lock lies on a file of its own, because closing any handle on the register would drop the database's own locks.
What stands in that file means nothing; a lock left by a process that died is gone with the process.
"""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import IO, Self

import portalocker

from app.decision.domain.errors import StoreTrouble

_NO_WAIT = getattr(os, "O_NONBLOCK", 0)


class FileLock:
    """Held from making to `close`; StoreTrouble if somebody else has it in a way that excludes us."""

    def __init__(self, store: Path, *, alone: bool) -> None:
        self._handle: IO[bytes] | None = None
        try:
            handle = open_lock(store)
        except OSError:
            if alone:
                raise StoreTrouble("store.folder-read-only", file=str(store), thing=str(store.parent)) from None
            # Nobody can rebuild a register in a folder nobody can write to, so reading needs no lock there.
            return
        flags = portalocker.LockFlags.EXCLUSIVE if alone else portalocker.LockFlags.SHARED
        try:
            portalocker.lock(handle, flags | portalocker.LockFlags.NON_BLOCKING)
        except portalocker.exceptions.LockException:
            handle.close()
            key = "store.in-use" if alone else "store.being-rebuilt"
            raise StoreTrouble(key, file=str(store), thing=store.name) from None
        self._handle = handle

    def close(self) -> None:
        """Give it back; doing so twice is harmless."""
        if self._handle is not None:
            # The file holds nothing that could be lost, and the lock is gone even where closing complains.
            with suppress(OSError):
                self._handle.close()
            self._handle = None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def open_lock(store: Path) -> IO[bytes]:
    """The file the lock lies on, beside the register itself whatever link led to it; OSError where it cannot be."""
    real = store.resolve()
    # Never waiting: what stands there under that name need not be a file.
    handle = os.open(real.with_name(f"{real.name}.lock"), os.O_WRONLY | os.O_APPEND | os.O_CREAT | _NO_WAIT, 0o666)
    return os.fdopen(handle, "ab")
