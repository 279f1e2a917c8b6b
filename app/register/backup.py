"""A copy of a register, made by the database itself and looked over before anybody relies on it."""

from __future__ import annotations

import os
from contextlib import closing, suppress
from pathlib import Path

from app.decision.domain.errors import StoreTrouble
from app.register.sqlite import reached, unsound
from app.register.trouble import in_words

PAGES_AT_ONCE = 256


def copy_of(path: Path, why: str) -> Path:
    """Copy the register at `path` beside itself; answers the copy. StoreTrouble where the copy is not sound.

    The file may be in use; it is never copied as bytes, which would tear it.
    """
    target = _free_name(path, why)
    beside = target.with_name(f".{target.name}.part")
    try:
        with in_words(path), closing(reached(path, "ro")) as source, closing(reached(beside, "rwc")) as copy:
            source.backup(copy, pages=PAGES_AT_ONCE)
            faults = unsound(copy)
        if faults:
            raise StoreTrouble("store.copy-unsound", file=str(path), thing=str(path), reason=faults[0])
        _sync(beside)
        beside.replace(target)
        sync_folder(target)
    except OSError as fault:
        raise StoreTrouble(
            "store.copy-failed", file=str(path), thing=str(target), reason=str(fault.strerror)
        ) from fault
    finally:
        with suppress(OSError):
            beside.unlink(missing_ok=True)
    return target


def _free_name(path: Path, why: str) -> Path:
    number = 1
    while (target := path.with_name(f"{path.name}.{why}-{number}")).exists():
        number += 1
    return target


def _sync(path: Path) -> None:
    with path.open("rb") as handle:
        os.fsync(handle.fileno())


def sync_folder(path: Path) -> None:
    """Put the name of a new file on the disk; where a folder cannot be opened as a file, the system sees to that."""
    try:
        handle = os.open(path.parent, os.O_RDONLY)
    except PermissionError:
        return
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
