"""Names of people: the one table outside the journal that may be erased."""

from __future__ import annotations

from sqlalchemy.engine import Connection


def keep_name(connection: Connection, code: str, name: str, salt: bytes) -> None:
    """Keep a name in the place of the one before it."""
    connection.exec_driver_sql(
        "INSERT INTO person_name (code, name, salt) VALUES (?, ?, ?) "
        "ON CONFLICT (code) DO UPDATE SET name = excluded.name, salt = excluded.salt", (code, name, salt),
    )  # fmt: skip
