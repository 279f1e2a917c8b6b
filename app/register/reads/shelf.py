"""The shelf as somebody looks over it: standings with the marks people know pieces by."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from app.register.driver import fetched
from app.register.reads.due import ShelfRow

if TYPE_CHECKING:
    from sqlalchemy.engine import Connection


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


_KEPT = ", ".join(f"s.{name}" for name in ShelfRow._fields)
_SELECT = (
    f"SELECT {_KEPT}, p.label, p.insulation_class, p.size_c, o.person, o.until_day FROM status AS s "
    "JOIN piece AS p ON p.code = s.piece AND p.revision = s.revision "
    "LEFT JOIN out_now AS o ON o.piece = s.piece ORDER BY s.piece"
)
_WIDE = len(ShelfRow._fields)


def shelved(connection: Connection, most: int | None = None) -> Iterator[Shelved]:
    """Every piece by code, or the first so many; put in form one at a time, as each is asked for."""
    for row in fetched(connection, _SELECT if most is None else f"{_SELECT} LIMIT {int(most)}"):
        yield Shelved(ShelfRow._make(row[:_WIDE]), row[_WIDE] or "", *row[_WIDE + 1 :])


def cribs_there(connection: Connection) -> tuple[str, ...]:
    """The cribs in the order they were set up, those without a piece too."""
    return tuple(str(row[0]) for row in fetched(connection, "SELECT code FROM crib ORDER BY entry"))


def how_many(connection: Connection) -> int:
    """How many pieces there are."""
    return int(fetched(connection, "SELECT count(*) FROM status")[0][0])
