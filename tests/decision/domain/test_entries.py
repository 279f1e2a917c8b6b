"""A piece read from its entries: corrections, certificates seen, lost and found, and a first issue never given back."""

from __future__ import annotations

from datetime import date, time

import pytest

from app.decision.domain.calendar import Day
from app.decision.domain.entries import (
    AnyEntry,
    CertificateSeen,
    Correction,
    Entry,
    Found,
    Lost,
    Name,
    Reservation,
    Transfer,
    as_entered,
    speaks_against,
    unstruck,
)
from app.decision.domain.piece import FirstIssue, Piece
from app.decision.domain.record import (
    AirTest,
    ElectricalTest,
    Event,
    HandOver,
    Hold,
    Inspection,
    Issue,
    Release,
    Return,
    SelfTest,
    Withdrawal,
)

MARCH = Day.of(date(2026, 3, 2))
PASSED = ElectricalTest(on=Day.of(date(2026, 1, 15)), result="passed", evidence="sheet-only")


def piece(first: FirstIssue = "never") -> Piece:
    return Piece(code="G1", kind="rubber-gloves", first_issue=first)


def entries(*records: AnyEntry | tuple[AnyEntry, int]) -> list[Entry]:
    """Numbered from 1; a pair strikes the number it names."""
    made = []
    for number, one in enumerate(records, start=1):
        record, strikes = one if isinstance(one, tuple) else (one, None)
        made.append(
            Entry(name=Name("main", number), record=record, strikes=None if strikes is None else Name("main", strikes))
        )
    return made


def out(day: int) -> Issue:
    return Issue(on=Day.of(date(2026, 2, day)), at=time(8))


def test_records_stand_in_the_order_they_were_entered() -> None:
    look = Inspection(on=MARCH)
    assert as_entered(piece(), entries(PASSED, look)).records == (PASSED, look)


def test_a_struck_entry_is_gone_and_what_took_its_place_stands() -> None:
    right = ElectricalTest(on=PASSED.on, result="failed")
    assert as_entered(piece(), entries(PASSED, (right, 1))).records == (right,)
    assert as_entered(piece(), entries(PASSED, (Correction(on=MARCH), 1))).records == ()


def test_what_the_rules_do_not_read_is_no_record() -> None:
    kept = entries(Transfer(on=MARCH, to="other"), Reservation(on=MARCH, to="P1"), Lost(on=MARCH), Found(on=MARCH))
    assert as_entered(piece(), kept).records == ()


def test_a_certificate_seen_counts_for_tests_entered_before_it_only() -> None:
    found = as_entered(piece(), entries(PASSED, CertificateSeen(on=MARCH), PASSED)).records
    assert [one.confirmed_seen for one in found if isinstance(one, ElectricalTest)] == [True, False]


def test_the_last_look_at_a_certificate_counts_for_every_test_before_it() -> None:
    seen = CertificateSeen(on=MARCH)
    found = as_entered(piece(), entries(PASSED, seen, PASSED, seen, PASSED)).records
    assert [one.confirmed_seen for one in found if isinstance(one, ElectricalTest)] == [True, True, False]


def test_a_struck_confirmation_counts_for_nothing() -> None:
    found = as_entered(piece(), entries(PASSED, CertificateSeen(on=MARCH), (Correction(on=MARCH), 2))).records
    assert [one.confirmed_seen for one in found if isinstance(one, ElectricalTest)] == [False]


@pytest.mark.parametrize(("made", "is_lost"), [((Lost(on=MARCH),), True), ((Lost(on=MARCH), Found(on=MARCH)), False)])
def test_lost_until_found(made: tuple[AnyEntry, ...], is_lost: bool) -> None:
    assert as_entered(piece(), entries(*made)).is_lost is is_lost


def test_striking_an_issue_never_gives_back_never() -> None:
    assert as_entered(piece("never"), entries(out(2), (Correction(on=MARCH), 1))).first_issue == "unknown"
    handed = HandOver(on=MARCH, to="P1")
    assert as_entered(piece("never"), entries(handed, (Correction(on=MARCH), 1))).first_issue == "unknown"


def test_striking_a_return_to_the_crib_says_nothing_of_a_first_issue() -> None:
    back = HandOver(on=MARCH, to="crib")
    assert as_entered(piece("never"), entries(back, (Correction(on=MARCH), 1))).first_issue == "never"
    assert as_entered(piece("never"), entries(Return(on=MARCH), (Correction(on=MARCH), 1))).first_issue == "never"


def test_an_issue_that_stands_before_the_struck_one_still_decides() -> None:
    struck_later = entries(out(2), out(9), (Correction(on=MARCH), 2))
    assert as_entered(piece("never"), struck_later).first_issue == "never"
    struck_first = entries(out(2), out(9), (Correction(on=MARCH), 1))
    assert as_entered(piece("never"), struck_first).first_issue == "unknown"


def test_a_first_issue_stated_before_it_all_stands() -> None:
    stated = Day.of(date(2025, 6, 1))
    assert as_entered(piece(stated), entries(out(2), (Correction(on=MARCH), 1))).first_issue == stated


def test_unstruck_are_those_nobody_struck() -> None:
    made = entries(PASSED, (Correction(on=MARCH), 1), Inspection(on=MARCH))
    assert [one.name.number for one in unstruck(made)] == [2, 3]


@pytest.mark.parametrize(
    ("record", "is_against"),
    [
        (Issue(on=MARCH), True), (Event(on=MARCH, kind="wet"), True), (Hold(on=MARCH), True), (Lost(on=MARCH), True),
        (Withdrawal(on=MARCH), True), (ElectricalTest(on=MARCH, result="failed"), True),
        (ElectricalTest(on=MARCH, result="passed", breakdown=True), True), (ElectricalTest(on=MARCH), True),
        (ElectricalTest(on=MARCH, result="passed"), False), (AirTest(on=MARCH, left="failed", right="passed"), True),
        (AirTest(on=MARCH, left="passed", right="passed"), False), (Inspection(on=MARCH, defects=("cut",)), True),
        (Inspection(on=MARCH), False), (SelfTest(on=MARCH, result="failed"), True),
        (SelfTest(on=MARCH, result="passed"), False), (Return(on=MARCH), False), (Release(on=MARCH, by="P9"), False),
        (HandOver(on=MARCH, to="P1"), False), (CertificateSeen(on=MARCH), False), (Found(on=MARCH), False),
    ],
)  # fmt: skip
def test_what_speaks_against_a_piece(record: AnyEntry, is_against: bool) -> None:
    assert speaks_against(record) is is_against
