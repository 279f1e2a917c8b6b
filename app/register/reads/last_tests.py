"""The newest electrical test of every piece, as a list that is written to a file names it."""

from __future__ import annotations

from typing import NamedTuple

from sqlalchemy import select
from sqlalchemy.engine import Connection

from app.register.reads.order import in_order
from app.register.statements import Question
from app.register.tables import JOURNAL, RECORD


class LastTest(NamedTuple):
    """Day (ISO text, the first it may have been), laboratory and certificate as entered; "" where none is."""

    on: str
    lab: str
    certificate: str


NONE = LastTest("", "", "")
_TEST, _STRIKE = RECORD.alias("test"), RECORD.alias("strike")
_STRUCK = (
    select(_STRIKE.c.entry)
    .where(_STRIKE.c.piece == _TEST.c.piece, _STRIKE.c.strikes == _TEST.c.entry, _STRIKE.c.strikes_in == _TEST.c.book)
    .exists()
)
_TESTS = Question(
    select(_TEST.c.piece, _TEST.c.on_first, _TEST.c.lab, _TEST.c.certificate, _TEST.c.book, _TEST.c.entry, JOURNAL.c.at)
    .join(JOURNAL, (JOURNAL.c.book == _TEST.c.book) & (JOURNAL.c.number == _TEST.c.entry))
    .where(_TEST.c.what == "electrical-test", _TEST.c.on_first.is_not(None), ~_STRUCK)
)


def last_tests(connection: Connection) -> dict[str, LastTest]:
    """By piece; struck tests left out, and of two on one day the one entered later. Whatever its result is."""
    tests: dict[str, LastTest] = {}
    for piece, on, lab, certificate in in_order(
        (str(row[4]), int(row[5]), str(row[6]), row[:4]) for row in _TESTS.rows(connection)
    ):
        if piece not in tests or on >= tests[piece].on:
            tests[piece] = LastTest(on, lab or "", certificate or "")
    return tests
