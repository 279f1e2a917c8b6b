"""What a piece went out for, issue by issue: the decisions its issues belong to, without their long proofs."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from msgspec import Struct
from sqlalchemy import select

from app.decision.domain.entries import Name
from app.register.tables import DECISION, RECORD

if TYPE_CHECKING:
    from sqlalchemy.engine import Connection


class Given(Struct, frozen=True):
    """One decision that gave a kit out; `kit` are the codes of all its pieces."""

    person: str
    second: str | None
    system: str
    task: str
    until: date
    kit: tuple[str, ...]


def given_out(connection: Connection, piece: str) -> dict[Name, Given]:
    """By the name of the decision; {} for what is no piece."""
    went = DECISION.c
    asked = (
        select(went.book, went.entry, went.person, went.second, went.system, went.task, went.until_day, went.kit)
        .join(RECORD, (RECORD.c.of_in == went.book) & (RECORD.c.of_entry == went.entry))
        .where(RECORD.c.piece == piece)
        .distinct()
    )
    return {
        Name(row.book, row.entry): Given(row.person, row.second, row.system, row.task, row.until_day, row.kit)
        for row in connection.execute(asked)
    }
