"""A standing kept on the last day anything is known of says on every later day what judging the piece on it says.

Held over generated kits of every kind and set with further records; days known as a month or a week alone, which make a
kept standing stricter, are left to tests/register/test_standings.py.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from app.decision.domain.facts import Facts
from app.decision.domain.piece import Piece
from app.decision.judging.status import lasting, state_on, status_of
from app.register.writes.statuses import last_day
from tests.properties.drawn import Table, facts, kits, proven


def on(asked: Facts, piece: Piece, day: date) -> Facts:
    return replace(asked.with_pieces((piece,)), on=day, until=day, rest_in_order=False)


def days(last: date, due_on: date | None, far: int) -> Iterator[date]:
    yield from {last, last + timedelta(days=1), last + timedelta(days=far)}
    if due_on is not None and due_on > last:
        yield from (due_on - timedelta(days=1), due_on, due_on + timedelta(days=far))


def is_exact(piece: Piece) -> bool:
    return all(record.on is None or record.on.is_exact for record in piece.records)


def test_from_its_last_record_on_it_is_the_same_on_every_day() -> None:
    seen: Counter[str] = Counter()

    @proven
    @given(kits(), st.integers(2, 500))
    def each(case: Table, far: int) -> None:
        asked = facts(case)
        for piece in filter(is_exact, asked.pieces):
            last = last_day(piece)
            lasts = lasting(on(asked, piece, last), piece)
            for day in days(last, lasts.due_on, far):
                kept = state_on(lasts, day, asked.site.warning_days)[0]
                assert kept == status_of(on(asked, piece, day), piece).state, (piece.code, day)
                seen[kept] += 1

    each()
    assert set(seen) >= {"ready", "inspect-today", "due-soon", "overdue", "not-tested", "cannot-tell", "on-hold"}
