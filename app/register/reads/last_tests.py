"""The newest electrical test of every piece, as a list that is written to a file names it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from app.register.driver import fetched
from app.register.reads.order import in_order

if TYPE_CHECKING:
    from sqlalchemy.engine import Connection


class LastTest(NamedTuple):
    """Day (ISO text, the first it may have been), laboratory and certificate as entered; "" where none is."""

    on: str
    lab: str
    certificate: str


NONE = LastTest("", "", "")
_SELECT = (
    "SELECT r.piece, r.on_first, r.lab, r.certificate, r.book, r.entry, j.at FROM record AS r "
    "JOIN journal AS j ON j.book = r.book AND j.number = r.entry "
    "WHERE r.what = 'electrical-test' AND r.on_first IS NOT NULL AND NOT EXISTS "
    "(SELECT 1 FROM record AS c WHERE c.piece = r.piece AND c.strikes = r.entry AND c.strikes_in = r.book)"
)


def last_tests(connection: Connection) -> dict[str, LastTest]:
    """By piece; struck tests left out, and of two on one day the one entered later. Whatever its result is."""
    found: dict[str, LastTest] = {}
    for piece, on, lab, certificate in in_order(
        (str(row[4]), int(row[5]), str(row[6]), row[:4]) for row in fetched(connection, _SELECT)
    ):
        if piece not in found or on >= found[piece].on:
            found[piece] = LastTest(on, lab or "", certificate or "")
    return found
