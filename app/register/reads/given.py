"""What a piece went out for, issue by issue: the decisions its issues belong to, without their long proofs."""

from __future__ import annotations

import json
from datetime import date
from typing import TYPE_CHECKING

from msgspec import Struct

from app.decision.domain.entries import Name
from app.register.driver import fetched

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


_SELECT = (
    "SELECT DISTINCT d.book, d.entry, d.person, d.second, d.system, d.task, d.until_day, d.kit FROM record AS r "
    "JOIN decision AS d ON d.book = r.of_in AND d.entry = r.of_entry WHERE r.piece = ?"
)


def given_out(connection: Connection, piece: str) -> dict[Name, Given]:
    """By the name of the decision; {} for what is no piece."""
    return {
        Name(book, entry): Given(person, second, system, task, date.fromisoformat(until), tuple(json.loads(kit)))
        for book, entry, person, second, system, task, until, kit in fetched(connection, _SELECT, (piece,))
    }
