"""A glance at a register by the driver alone, before the database library is loaded: the first list of a window.

It reads and never writes, and only what a whole register of this very version would be: with anything unusual about the
file, a write that was cut short or another schema, there is nothing to be seen and the register is opened as always.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from datetime import date, datetime, tzinfo
from pathlib import Path
from types import SimpleNamespace
from typing import TYPE_CHECKING, TypeVar, cast

from msgspec import MsgspecError

from app.decision.judging.catalogues import rule_sets_of
from app.register.derived import digest_kept, rules_digest
from app.register.marks import APPLICATION_ID, SCHEMA
from app.register.reads.site_rules import depot_rules
from app.register.sqlite import READING, marks, reached

if TYPE_CHECKING:
    from sqlalchemy.engine import Connection

T = TypeVar("T")
_WAIT_MS = 200


class Glance:
    """What a list asks of a desk, for one look. `connection` is the driver's own."""

    dialect = SimpleNamespace(name="sqlite")

    def __init__(self, connection: sqlite3.Connection, clock: Callable[[], datetime]) -> None:
        self.connection = connection
        depot = self.ask(depot_rules)
        self._today = depot.demo_day or clock().astimezone(_zone(depot.timezone)).date()
        self.is_current = self.ask(digest_kept) == rules_digest(depot.site, rule_sets_of(depot))

    def ask(self, read: Callable[[Connection], T]) -> T:
        """One question; it must be asked by the driver's cursor alone."""
        return read(cast("Connection", self))

    def today(self) -> date:
        """The day by the site's zone, or the demo's own."""
        return self._today


def _zone(name: str) -> tzinfo | None:
    """The zone of that name; None for "", which is this machine's own."""
    if not name:
        return None
    # To know zones takes long to load, and no more than a day is asked here.
    from zoneinfo import ZoneInfo  # noqa: PLC0415

    return ZoneInfo(name)


def glance_at(path: Path, clock: Callable[[], datetime], look: Callable[[Glance], T]) -> T | None:
    """What `look` finds in one reading transaction; None where the file is not plainly a register as it should be."""
    if path.with_name(f"{path.name}-journal").exists() or not path.is_file():
        return None
    try:
        connection = reached(path, "ro", _WAIT_MS)
    except sqlite3.Error:
        return None
    try:
        connection.execute(READING)
        if marks(connection) != (APPLICATION_ID, SCHEMA):
            return None
        glance = Glance(connection, clock)
        return look(glance) if glance.is_current else None
    except (sqlite3.Error, ValueError, MsgspecError):
        # Whatever is wrong with it is found and said when it is opened.
        return None
    finally:
        connection.close()
