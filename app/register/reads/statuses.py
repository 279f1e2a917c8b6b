"""Statuses exactly as they are kept, for whoever holds them against what they must be."""

from __future__ import annotations

from sqlalchemy.engine import Connection

from app.register.columns import Stored
from app.register.writes.statuses import COLUMNS


def statuses_kept(connection: Connection) -> dict[str, tuple[Stored, ...]]:
    """Every standing as it stands in the file, by piece."""
    rows = connection.exec_driver_sql(f"SELECT {', '.join(COLUMNS)} FROM status")
    return {str(row[0]): tuple(row) for row in rows}
