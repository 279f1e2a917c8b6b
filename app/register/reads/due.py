"""The shelf as a list: every piece with what lasts of its standing, the most pressing first."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from app.register.driver import fetched

if TYPE_CHECKING:
    from sqlalchemy.engine import Connection


class ShelfRow(NamedTuple):
    """One line of a list; days as ISO text, `why` and `unchecked` as kept (key and values, JSON)."""

    piece: str
    kind: str
    crib: str
    state: str
    due_on: str | None
    decides: str
    counted_from: str | None
    checked_on: str | None
    unchecked: str | None
    why: str
    holder: str
    place: str


_COLUMNS = ", ".join(f"s.{name}" for name in ShelfRow._fields)
_OVERDUE = "s.state = 'ready' AND s.due_on <= ?"


def shelf_rows(connection: Connection, crib: str | None = None) -> list[ShelfRow]:
    """Every piece, by code."""
    where, values = ("", ()) if crib is None else (" WHERE s.crib = ?", (crib,))
    return _rows(connection, f"SELECT {_COLUMNS} FROM status AS s{where} ORDER BY s.piece", values)


def overdue_rows(connection: Connection, today: date, most: int | None = None) -> list[ShelfRow]:
    """Pieces whose last good day is past and that nothing else keeps back, the longest overdue first."""
    return _due_rows(connection, _OVERDUE, today, most)


def due_rows(connection: Connection, last: date, most: int | None = None) -> list[ShelfRow]:
    """Pieces due on or before `last`, and those that are held, untested or cannot be told; by due day."""
    return _due_rows(
        connection, "s.state NOT IN ('lost', 'withdrawn') AND (s.due_on <= ? OR s.state IN "
        "('held', 'not-tested', 'cannot-tell'))", last, most,
    )  # fmt: skip


def _due_rows(connection: Connection, where: str, last: date, most: int | None) -> list[ShelfRow]:
    limit = "" if most is None else f" LIMIT {int(most)}"
    return _rows(
        connection,
        f"SELECT {_COLUMNS} FROM status AS s WHERE {where} ORDER BY s.due_on, s.piece{limit}",
        (last.isoformat(),),
    )


def candidates(connection: Connection, kinds: Iterable[str], until: date, most_of_each: int) -> list[str]:
    """Codes of pieces that could be offered instead: on the shelf, nothing known against them, and in date.

    The nearest due comes first, so that what runs out soonest is used soonest.
    """
    found: list[str] = []
    for kind in kinds:
        rows = connection.exec_driver_sql(
            "SELECT s.piece FROM status AS s WHERE s.kind = ? AND s.holder = '' "
            "AND s.state IN ('ready', 'certificate-not-seen') AND (s.due_on IS NULL OR s.due_on > ?) "
            "ORDER BY s.due_on IS NULL, s.due_on, s.piece LIMIT ?",
            (kind, until.isoformat(), most_of_each),
        )
        found += [str(row[0]) for row in rows]
    return found


def _rows(connection: Connection, statement: str, values: tuple[object, ...]) -> list[ShelfRow]:
    return list(map(ShelfRow._make, fetched(connection, statement, values)))
