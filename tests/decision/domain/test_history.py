"""A piece's records on one day: what is void, what came after what, what is open, and where the piece may be."""

from __future__ import annotations

from datetime import date, time
from typing import Any

import pytest

from app.decision.domain.calendar import Day
from app.decision.domain.history import History, has_defect
from app.decision.domain.piece import FirstIssue, Piece
from app.decision.domain.record import (
    AirTest,
    AnyRecord,
    ElectricalTest,
    Event,
    HandOver,
    Hold,
    Inspection,
    Issue,
    Release,
    Return,
)

TODAY = date(2026, 3, 2)
YESTERDAY = Day.of(date(2026, 3, 1))
NOW = Day.of(TODAY)
LONG_AGO = Day.of(date(2025, 3, 2))


def history(*records: AnyRecord, **keys: Any) -> History:
    return History.of(Piece(code="G1", kind="rubber-gloves", records=records, **keys), TODAY)


def air(at: str | None = None, left: str = "passed", on: Day = NOW) -> AirTest:
    return AirTest(on=on, at=None if at is None else time.fromisoformat(at), left=left, right="passed")


def clock(hour: int) -> time:
    return time(hour, 0)


def test_what_begins_later_is_absent_and_what_may_have_begun_is_there() -> None:
    tomorrow, this_month = Hold(on=Day.of(date(2026, 3, 3))), Hold(on=Day.parse("2026-03"))
    undated = ElectricalTest(result="failed")
    assert history(tomorrow, this_month, undated).records == (this_month, undated)


@pytest.mark.parametrize("on", [YESTERDAY, Day.parse("2026-03"), Day.parse("2026-W10")])
def test_a_check_of_another_or_a_vague_day_is_none_of_today(on: Day) -> None:
    assert history(air(on=on)).of_today(AirTest) == []


@pytest.mark.parametrize(
    ("record", "counts"),
    [
        (Return(on=NOW, at=clock(6)), True),
        (Return(on=NOW, at=clock(7)), False),
        (Return(on=NOW, at=clock(8)), False),
        (Return(on=NOW), False),
        (Return(on=YESTERDAY), True),
        (Return(on=Day.parse("2026-03"), at=clock(6)), False),  # this month may be today, then its time tells nothing
        (Return(on=Day.parse("2026-02")), True),
        (HandOver(on=NOW, at=clock(8), to="P2"), False),
        (HandOver(on=NOW, at=clock(6), to="P2"), True),
        (Event(on=NOW, at=clock(8), kind="dropped"), False),
        (Event(on=NOW, at=clock(6), kind="dropped"), True),
        (Issue(on=NOW, at=clock(8)), True),
        (Hold(on=NOW, at=clock(8)), True),
    ],
)
def test_what_makes_this_mornings_check_void(record: AnyRecord, counts: bool) -> None:
    assert bool(history(air("07:00"), record).of_today(AirTest)) is counts


def test_a_check_without_a_time_is_void_by_anything_that_day() -> None:
    assert history(air(), Return(on=NOW, at=clock(1))).of_today(AirTest) == []


def is_bad(test: AirTest) -> bool:
    return has_defect(test)


@pytest.mark.parametrize(
    ("checks", "left"),
    [
        ([], None),
        ([air()], "passed"),
        ([air(left="failed")], "failed"),
        ([air("07:00", "failed"), air("08:00")], "passed"),
        ([air("08:00"), air("07:00", "failed")], "passed"),
        ([air("08:00", "failed"), air("07:00")], "failed"),
        ([air("08:00", "failed"), air("08:00")], "failed"),
        ([air("07:00", "failed"), air()], "failed"),
        ([air(None, "failed"), air("23:00")], "failed"),
        ([air("07:00", "failed"), air("08:00"), air("09:00", "failed")], "failed"),
    ],
)
def test_a_bad_check_decides_unless_a_good_one_certainly_came_after(checks: list[AirTest], left: str | None) -> None:
    for order in (checks, checks[::-1]):
        decided = history(*order).deciding(AirTest, is_bad)
        assert (None if decided is None else decided.left) == left


@pytest.mark.parametrize(
    ("later", "earlier", "is_after"),
    [
        (Release(on=NOW), Hold(on=YESTERDAY), True),
        (Release(on=YESTERDAY), Hold(on=NOW), False),
        (Release(on=NOW), Hold(on=NOW), False),
        (Release(on=NOW, at=clock(9)), Hold(on=NOW, at=clock(8)), True),
        (Release(on=NOW, at=clock(8)), Hold(on=NOW, at=clock(8)), False),
        (Release(on=NOW, at=clock(9)), Hold(on=NOW), False),
        (Release(on=NOW), Hold(on=NOW, at=clock(8)), False),
        (Release(), Hold(on=YESTERDAY), False),
        (Release(on=NOW), Hold(), False),
        (Release(on=Day.parse("2026-02")), Hold(on=Day.parse("2026-02")), False),
        (Release(on=Day.parse("2026-02")), Hold(on=Day.of(date(2026, 1, 31))), True),
        (Release(on=Day.of(date(2026, 2, 28))), Hold(on=Day.parse("2026-02")), False),
        (Release(on=Day.of(date(2026, 3, 1))), Hold(on=Day.parse("2026-02")), True),
    ],
)
def test_certainly_after(later: Release, earlier: Hold, is_after: bool) -> None:
    assert history().is_after(later, earlier) is is_after


JUNE = Day.of(date(2025, 6, 1))


@pytest.mark.parametrize(
    ("stated", "records", "first"),
    [
        ("never", (), "never"),
        ("unknown", (), "unknown"),
        (JUNE, (), JUNE),
        ("never", (Issue(on=JUNE),), JUNE),
        ("never", (HandOver(on=JUNE, to="V7"),), JUNE),
        ("never", (HandOver(on=JUNE, to="crib"),), "never"),
        ("never", (Return(on=JUNE),), "never"),
        # A recorded issue is not the first one where nobody knows about earlier ones.
        ("unknown", (Issue(on=JUNE),), "unknown"),
        (JUNE, (Issue(on=LONG_AGO),), LONG_AGO),
        (LONG_AGO, (Issue(on=JUNE), Return(on=JUNE), Issue(on=NOW)), LONG_AGO),
        ("never", (Issue(on=Day.parse("2025-06")),), JUNE),
        # A day to come is not known on this one.
        (Day.of(date(2026, 3, 3)), (), "unknown"),
        (NOW, (), NOW),
    ],
)
def test_first_issue(stated: FirstIssue, records: tuple[AnyRecord, ...], first: FirstIssue) -> None:
    assert history(*records, first_issue=stated).first_issue() == first


@pytest.mark.parametrize(
    ("records", "places"),
    [
        ((), {"crib"}),
        ((HandOver(on=YESTERDAY, to="P1"),), {"crib", "P1"}),
        ((HandOver(on=YESTERDAY, to="P1"), HandOver(on=NOW, to="P2")), {"crib", "P2"}),
        ((HandOver(on=YESTERDAY, to="P1"), Return(on=NOW)), {"crib"}),
        ((HandOver(on=NOW, to="P1"), Return(on=NOW)), {"crib", "P1"}),
        ((HandOver(on=NOW, at=clock(7), to="P1"), Return(on=NOW, at=clock(8))), {"crib"}),
        ((HandOver(on=NOW, at=clock(8), to="P1"), Return(on=NOW, at=clock(7))), {"crib", "P1"}),
    ],
)
def test_places_are_every_place_it_may_be_in(records: tuple[AnyRecord, ...], places: set[str]) -> None:
    assert history(*records).places() == places


def test_custody_stated_and_moves_that_contradict_it_both_stand() -> None:
    assert history(HandOver(on=NOW, to="P2"), custody="P1").places() == {"P1", "P2"}


@pytest.mark.parametrize(
    ("records", "open_since"),
    [
        ((), None),
        ((Issue(on=YESTERDAY),), YESTERDAY),
        ((Issue(on=YESTERDAY), Return(on=NOW)), None),
        ((Issue(on=NOW), Return(on=NOW)), NOW),
        ((Issue(on=NOW, at=clock(7)), Return(on=NOW, at=clock(8))), None),
        ((Issue(on=LONG_AGO), Return(on=JUNE), Issue(on=YESTERDAY)), YESTERDAY),
        ((Issue(on=LONG_AGO), Return(on=JUNE), Issue(on=YESTERDAY), Return(on=NOW)), None),
    ],
)
def test_open_issue(records: tuple[AnyRecord, ...], open_since: Day | None) -> None:
    found = history(*records).open_issue()
    assert (None if found is None else found.on) == open_since


def passed_on(on: Day, after: str | None = None) -> ElectricalTest:
    return ElectricalTest(on=on, result="passed", after=after)


def event(kind: str = "dropped", on: Day = YESTERDAY) -> Event:
    return Event(on=on, kind=kind)


@pytest.mark.parametrize(
    ("passing", "is_open"),
    [
        ([], True),
        ([passed_on(JUNE)], True),
        ([passed_on(YESTERDAY)], True),
        ([passed_on(NOW)], False),
        ([passed_on(YESTERDAY, "dropped")], False),
        ([passed_on(YESTERDAY, "wet")], True),
        ([passed_on(JUNE, "dropped")], True),
        ([passed_on(YESTERDAY, "wet"), passed_on(YESTERDAY, "dropped")], False),
        ([ElectricalTest(result="passed", after="dropped")], True),
    ],
)
def test_open_events(passing: list[ElectricalTest], is_open: bool) -> None:
    happened = event()
    assert history(happened).open_events(passing) == ([happened] if is_open else [])


def test_a_vague_event_counts_from_its_latest_day() -> None:
    happened = event(on=Day.parse("2026-02"))
    assert history(happened).open_events([passed_on(Day.of(date(2026, 2, 27)))]) == [happened]
    assert history(happened).open_events([passed_on(Day.of(date(2026, 3, 1)))]) == []


CUT = Inspection(on=YESTERDAY, defects=("cut",))


@pytest.mark.parametrize(
    ("records", "passing", "is_open"),
    [
        ((), [], True),
        ((Release(on=NOW),), [], True),  # what a release lifts is the rule's to say
        ((event("repaired", NOW),), [], True),
        ((event("repaired", NOW),), [passed_on(NOW, "repaired")], False),
        ((event("patched", YESTERDAY),), [passed_on(YESTERDAY, "patched")], False),
        ((event("patched", YESTERDAY),), [passed_on(NOW)], True),  # the test must name the repair
        ((event("repaired", JUNE),), [passed_on(NOW, "repaired")], True),  # a repair before the defect mends nothing
        ((event("dropped", NOW),), [passed_on(NOW, "dropped")], True),
    ],
)
def test_a_defect_is_mended_by_a_repair_and_the_test_that_names_it(
    records: tuple[AnyRecord, ...], passing: list[ElectricalTest], is_open: bool
) -> None:
    assert history(CUT, *records).is_mended(CUT, passing) is not is_open


@pytest.mark.parametrize(
    ("check", "bad"),
    [
        (AirTest(left="passed", right="passed"), False),
        (AirTest(left="failed", right="passed"), True),
        (AirTest(left="passed", right="failed"), True),
        (AirTest(left="passed", right=None), False),
        (AirTest(left="passed", right="passed", defects=("hole",)), True),
        (Inspection(), False),
        (Inspection(notes=("scuffed",)), False),
        (Inspection(defects=("cracked",)), True),
    ],
)
def test_what_counts_as_a_defect(check: AirTest | Inspection, bad: bool) -> None:
    assert has_defect(check) is bad
