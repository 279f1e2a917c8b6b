"""A check of the day that finds nothing changes of a standing what is missing today, and nothing else.

The register counts on it: such a check is entered without judging the rest of the piece anew. Held here over generated
kits of every kind and set, good and spoiled, each piece with each check its kind has and some it has not.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from app.decision.domain.calendar import Day
from app.decision.domain.facts import Facts
from app.decision.domain.piece import Piece
from app.decision.domain.record import AirTest, AnyRecord, Inspection, SelfTest
from app.decision.judging.status import Lasting, checked, lasting, moves_the_day_alone
from app.register.writes.statuses import last_day
from tests import build
from tests.properties.drawn import Table, facts, kits, proven

SOUND = (AirTest, Inspection, SelfTest)


def checks(day: date) -> Iterator[AnyRecord]:
    on = Day.of(day)
    yield AirTest(on=on, left="passed", right="passed", inflation_c=120)
    yield AirTest(on=on, left="passed", right="passed", inflation_c=190)
    yield AirTest(on=on, left="passed", inflation_c=120)
    yield AirTest(on=on, left="passed", right="failed")
    yield Inspection(on=on)
    yield Inspection(on=on, caps="missing", jack="current", notes=("dust",))
    yield Inspection(on=on, defects=("cut",))
    yield SelfTest(on=on, result="passed")
    yield SelfTest(on=on, result="failed")


def days(last: date, due_on: date | None, far: int) -> set[date]:
    """Around what is known of the piece, and around its due day."""
    around = {last - timedelta(days=far), last, last + timedelta(days=1), last + timedelta(days=far)}
    return around if due_on is None else around | {due_on - timedelta(days=1), due_on}


def stands(asked: Facts, piece: Piece) -> tuple[Facts, Lasting]:
    """As a register keeps it: judged on the last day anything is known of."""
    day = last_day(piece)
    alone = replace(asked.with_pieces((piece,)), on=day, until=day, rest_in_order=False)
    return alone, lasting(alone, piece)


def test_a_clean_check_moves_the_day_alone() -> None:
    moved: Counter[type] = Counter()
    others: Counter[type] = Counter()

    @proven
    @given(kits(), st.integers(2, 400), st.integers(0, 100))
    def each(case: Table, far: int, chosen: int) -> None:
        asked = facts(case)
        piece = asked.pieces[chosen % len(asked.pieces)]
        _, before = stands(asked, piece)
        for record in (record for day in days(last_day(piece), before.due_on, far) for record in checks(day)):
            made = replace(piece, records=(*piece.records, record))
            after_facts, after = stands(asked, made)
            assert checked(after_facts, made) == (after.checked_on, after.unchecked)
            if moves_the_day_alone(record, after_facts, piece, before.state):
                assert after == replace(before, checked_on=after.checked_on, unchecked=after.unchecked), record
                moved[type(record)] += 1
            else:
                others[type(record)] += 1

    each()
    assert all(moved[sort] > 50 and others[sort] > 20 for sort in SOUND), (moved, others)


TESTED = build.gloves()["records"][0]
SEEN_TO = (
    {"what": "hold", "on": "2026-02-01", "at": "07:00", "why": "lost"},
    {"what": "release", "on": "2026-02-03", "at": "07:00", "by": "P8"},
)
AIR = AirTest(on=Day.of(date(2026, 2, 2)), left="passed", right="passed", inflation_c=120)
EXEMPT = {
    "rule_sets": ["en-60903-2003"],
    "site": {"altitude_m": 140, "dielectric_exempt_00_0": {"approved_by": "P9", "reason": "annex E.5"}},
}


@pytest.mark.parametrize(
    ("piece", "record", "more"),
    [
        # Entered late: the test that was wanting between hold and release.
        (build.gloves(records=[TESTED, *SEEN_TO]), AIR, {}),
        # Where the air test stands for the electrical one it moves the due day.
        (build.gloves(records=[TESTED]), AIR, EXEMPT),
        (build.plain("H1", "rescue-hook"), Inspection(on=Day.of(date(2026, 3, 9))), {}),
        (build.gloves(records=[TESTED]), replace(AIR, right="failed"), {}),
        (build.plain("B1", "barrier-set"), Inspection(on=Day.of(date(2026, 3, 9)), defects=("cut",)), {}),
    ],
)
def test_what_a_check_may_move(piece: Table, record: AnyRecord, more: Table) -> None:
    asked = build.facts(build.world(pieces=[piece], **more))
    one = asked.pieces[0]
    _, before = stands(asked, one)
    made = replace(one, records=(*one.records, record))
    after_facts, after = stands(asked, made)
    assert not moves_the_day_alone(record, after_facts, one, before.state)
    assert after != replace(before, checked_on=after.checked_on, unchecked=after.unchecked)


def test_a_check_of_no_day_is_judged_whole() -> None:
    asked = build.facts(build.world(pieces=[build.gloves(records=[TESTED])]))
    one, before = stands(asked, asked.pieces[0])
    assert moves_the_day_alone(AIR, one, asked.pieces[0], before.state)
    assert not moves_the_day_alone(replace(AIR, on=None), one, asked.pieces[0], before.state)
