"""The driver's own cursor, for questions asked so often that a result of the library costs more than the rows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sqlalchemy.engine import Connection


Row = tuple[Any, ...]


def fetched(connection: Connection, statement: str, values: Sequence[object] = ()) -> list[Row]:
    """Every row of a question, as it stands in the file; placeholders are the driver's own."""
    cursor = connection.connection.cursor()
    # Not closed by hand: it goes with the last row, and every row is fetched here.
    cursor.execute(statement, values)
    rows: Any = cursor.fetchall()
    return rows  # type: ignore[no-any-return]  # a list of tuples, of both drivers


def many(connection: Connection, statement: str, rows: Sequence[Row]) -> None:
    """One statement for each of these rows."""
    connection.connection.cursor().executemany(statement, rows)


def begin(connection: Connection, statement: str) -> None:
    """Begin a transaction by the driver itself, which costs an act at the counter less than a statement's result."""
    fetched(connection, statement)


def commit(connection: Connection) -> None:
    """End it, kept; whatever the library has begun on its own side ends with it."""
    connection.connection.commit()
    if connection.in_transaction():
        connection.commit()


def roll_back(connection: Connection) -> None:
    """End it, taken back."""
    connection.connection.rollback()
    if connection.in_transaction():
        connection.rollback()
