"""The driver's own cursor, for questions asked so often that a result of the library costs more than the rows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sqlalchemy.engine import Connection


Row = tuple[Any, ...]


def fetched(connection: Connection, statement: str, values: Sequence[object] = ()) -> list[Row]:
    """Every row of a question, as it stands in the file; placeholders are the driver's own."""
    rows: list[Row] = _cursor(connection).execute(statement, values).fetchall()
    return rows


def first(connection: Connection, statement: str, values: Sequence[object] = ()) -> Row | None:
    """The first row of a question, None where there is none."""
    rows = fetched(connection, statement, values)
    return rows[0] if rows else None


def many(connection: Connection, statement: str, rows: Sequence[Row]) -> None:
    """One statement for each of these rows."""
    _cursor(connection).executemany(statement, rows)


def _cursor(connection: Connection) -> Any:  # noqa: ANN401  # the driver's own, which the library does not describe
    """A cursor without the library's wrapping; it goes with its last answer, which has every row fetched."""
    driver: Any = connection.connection.dbapi_connection
    return driver.cursor()


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
