"""Statuses exactly as they are kept, for whoever holds them against what they must be."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.engine import Connection

from app.register.columns import Stored
from app.register.statements import Question
from app.register.tables import STATUS

_KEPT = Question(select(STATUS))


def statuses_kept(connection: Connection) -> dict[str, tuple[Stored, ...]]:
    """Every standing as it stands in the file, by piece."""
    return {str(row[0]): tuple(row) for row in _KEPT.rows(connection)}
