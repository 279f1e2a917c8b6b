"""Names of people: the one table outside the journal that may be erased."""

from __future__ import annotations

from sqlalchemy.engine import Connection

from app.register.statements import upsert
from app.register.tables import PERSON_NAME

_PUT = upsert(PERSON_NAME, "code", ("code", "name", "salt"))


def keep_name(connection: Connection, code: str, name: str, salt: bytes) -> None:
    """Keep a name in the place of the one before it."""
    _PUT.each(connection, [(code, name, salt)])
