"""The shelf as somebody looks over it: standings with the marks people know pieces by."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from app.register.texts import CRIBS, FIRST_OF_SHELF, PIECES_COUNTED, SHELF, asked

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


class Shelved(NamedTuple):
    """One line: what is kept of its standing, and its marks; size in hundredths of an inch.

    `out_with` and `out_until` (ISO text): to whom and until when it is issued, None where it is not.
    """

    kept: ShelfRow
    label: str
    insulation_class: str | None
    size_c: int | None
    out_with: str | None = None
    out_until: str | None = None


_WIDE = len(ShelfRow._fields)


def shelved(connection: Connection, most: int | None = None) -> Iterator[Shelved]:
    """Every piece by code, or the first so many; put in form one at a time, as each is asked for."""
    for row in asked(connection, SHELF) if most is None else asked(connection, FIRST_OF_SHELF, most):
        yield Shelved(ShelfRow._make(row[:_WIDE]), row[_WIDE] or "", *row[_WIDE + 1 :])


def cribs_there(connection: Connection) -> tuple[str, ...]:
    """The cribs in the order they were set up, those without a piece too."""
    return tuple(str(row[0]) for row in asked(connection, CRIBS))


def how_many(connection: Connection) -> int:
    """How many pieces there are."""
    return int(asked(connection, PIECES_COUNTED)[0][0])
