"""Issue: the days it is good for, the first hand-over, what others did in between, and what a refusal leaves behind."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from app.decision.case.case import read_case
from app.decision.judging.answers import DueQuestion
from app.decision.judging.judge import judge
from app.decision.judging.worked_cases import facts_of
from app.outputs.documents.decision import case_text
from app.register.reads import out
from app.register.reads.pieces import pieces
from app.usecases.add_alias import add_alias
from app.usecases.add_person import add_person
from app.usecases.add_piece import add_piece
from app.usecases.check_store import check_store
from app.usecases.desk import Desk
from app.usecases.hold_piece import hold_piece
from app.usecases.issue_kit import issue_kit
from app.usecases.list_shelf import list_shelf
from app.usecases.load_register import close_to_entries
from app.usecases.log_check import log_check
from app.usecases.make_bag import make_bag
from app.usecases.release_piece import release_piece
from app.usecases.reserve_pieces import reserve_pieces
from app.usecases.return_kit import return_kit
from app.usecases.set_rule import set_rule
from tests.build import DAY, gloves, world
from tests.fakes import KIT, FixedClock, desk_on, question
from tests.usecases.conftest import Refused

NEXT = DAY + timedelta(days=1)
PERSON = world()["person"]


@pytest.fixture
def other(path: Path) -> Iterator[Desk]:
    """A second desk on the same file."""
    opened = desk_on(path, FixedClock())
    yield opened
    opened.store.close()


def rules_against(desk: Desk, **changes: object) -> set[str]:
    answer, _ = issue_kit(desk, "P0", question(**changes))
    return {one.rule for one in answer.verdict.stops}


def due(desk: Desk, code: str) -> date | None:
    return list_shelf(desk, DueQuestion(desk.today(), None, (code,))).rows[0].status.due_on


def new_pair(desk: Desk) -> tuple[str, ...]:
    """G2 with T 2026-01-15, taken in new and never out; answers the kit with it."""
    add_piece(desk, "P0", {**gloves("G2", first_issue="never"), "records": gloves()["records"][:1]})
    log_check(desk, "P1", "air-test", "G2", {"left": "passed", "right": "passed", "inflation": 1.2})
    return ("G2", *KIT[1:])


# ------------------------------------------------------------------------------------------------- the days


@pytest.mark.parametrize(
    ("until", "stops"), [(date(2026, 7, 14), set()), (date(2026, 7, 15), {"electrical-test-in-date"})]
)
def test_the_test_has_to_reach_the_last_day(until: date, stops: set[str], desk: Desk) -> None:
    # Tested 2026-01-15 after the first issue: six months, and the due day itself no longer counts.
    assert rules_against(desk, until=until) == stops


@pytest.mark.parametrize(
    ("until", "stops"), [(date(2026, 9, 1), set()), (date(2026, 9, 2), {"electrical-test-in-date"})]
)
def test_a_pair_never_out_is_judged_as_first_issued_on_the_first_day(until: date, stops: set[str], desk: Desk) -> None:
    assert rules_against(desk, kit=new_pair(desk), until=until) == stops


def test_the_first_issue_is_that_day_and_no_return_or_later_issue_moves_it(desk: Desk, clock: FixedClock) -> None:
    kit = new_pair(desk)
    assert due(desk, "G2") == date(2027, 1, 15)
    issue_kit(desk, "P0", question(kit=kit))
    assert due(desk, "G2") == date(2026, 9, 2)
    return_kit(desk, "P0", kit, {})
    clock.at(DAY + timedelta(days=30))
    log_check(desk, "P1", "air-test", "G2", {"left": "passed", "right": "passed", "inflation": 1.2})
    assert due(desk, "G2") == date(2026, 9, 2)
    assert desk.ask(lambda connection: pieces(connection, ["G2"]))["G2"].registered.first_issue == "never"


@pytest.mark.parametrize(("until", "stops"), [(DAY, set()), (NEXT, {"person-authorised"})])
def test_the_authorisation_covers_its_end_day_and_no_later_one(until: date, stops: set[str], desk: Desk) -> None:
    add_person(desk, "P0", {**PERSON, "valid_until": DAY})
    assert rules_against(desk, until=until) == stops


def test_kit_back_from_a_job_wants_its_checks_again(desk: Desk) -> None:
    issue_kit(desk, "P0", question())
    return_kit(desk, "P0", KIT, {})
    assert rules_against(desk) == {"air-test-done", "inspected", "self-test-done"}


# ----------------------------------------------------------------------------------- what others did meanwhile


def test_a_scope_taken_away_at_the_other_desk_counts(desk: Desk, other: Desk) -> None:
    assert check_store(desk, question()).verdict.may_be_issued
    add_person(other, "P9", {**PERSON, "scopes": []})
    assert rules_against(desk) == {"person-authorised"}


def test_a_rule_tightened_at_the_other_desk_counts(desk: Desk, other: Desk) -> None:
    assert check_store(desk, question()).verdict.may_be_issued
    set_rule(other, "P9", {"margin_percent": 50})
    # 831.6 V and half of it is more than the 1,000 V the detector's mark offers.
    assert rules_against(desk) == {"chain-stands-voltage"}


def test_a_register_closed_at_the_other_desk_takes_nothing_more(desk: Desk, other: Desk, refused: Refused) -> None:
    assert desk.demo_day is None
    close_to_entries(other, "P9", DAY)
    assert refused(lambda: issue_kit(desk, "P0", question())).key == "demo.no-entries"


def test_kit_issued_at_the_other_desk_is_out(desk: Desk, other: Desk, refused: Refused) -> None:
    assert check_store(desk, question()).verdict.may_be_issued
    _, name = issue_kit(other, "P9", question())
    told = refused(lambda: issue_kit(desk, "P0", question()))
    assert (told.key, told.values["person"], told.values["entry"]) == ("issue.same", "P1", str(name))


def test_what_the_other_desk_released_may_go(desk: Desk, other: Desk) -> None:
    hold_piece(desk, "P0", ["D1"], "recall")
    assert rules_against(desk) == {"not-held"}
    release_piece(other, "P9", ["D1"])
    answer, name = issue_kit(desk, "P0", question())
    assert answer.verdict.may_be_issued
    assert name is not None


# ---------------------------------------------------------------------------------------------------- refusals


def test_a_refusal_keeps_its_findings_and_can_be_judged_again(desk: Desk) -> None:
    answer, name = issue_kit(desk, "P0", question(person="P9"))
    assert name is not None
    kept = desk.ask(lambda connection: out.decision(connection, name))
    assert kept is not None
    not_met = {one["rule"] for one in kept.proof.answer["findings"] if one["outcome"] != "met"}
    assert not_met == {one.rule for one in answer.verdict.stops} == {"person-authorised", "glove-fits-wearer"}
    case = tomllib.loads(case_text(kept.proof, "decision"))["case"][0]
    again = judge(facts_of(read_case(case)))
    assert {one.rule for one in again.stops} == not_met


def test_once_for_each_person_kit_and_day(desk: Desk, clock: FixedClock) -> None:
    less = KIT[:-1]
    asked: list[dict[str, object]] = [{"person": "P9"}, {"person": "P9", "kit": less}, {"kit": less}]
    assert all(issue_kit(desk, "P0", question(**one))[1] is not None for one in asked)
    before = desk.anchors()
    assert all(issue_kit(desk, "P0", question(**one))[1] is None for one in asked)
    assert desk.anchors() == before
    clock.at(NEXT)
    assert all(issue_kit(desk, "P0", question(on=NEXT, until=NEXT, **one))[1] is not None for one in asked)


def test_no_kit_is_refused_and_nothing_is_on_record(desk: Desk) -> None:
    before = desk.anchors()
    answer, name = issue_kit(desk, "P0", question(kit=()))
    assert "task-roles-filled" in {one.rule for one in answer.verdict.stops}
    assert name is None
    assert desk.anchors() == before


def test_one_piece_scanned_twice_is_named(desk: Desk) -> None:
    add_alias(desk, "P0", "0815", "G1")
    make_bag(desk, "P0", "BAG", ("L1", "D1"))
    assert "no-piece-twice" in rules_against(desk, kit=(*KIT, "0815"))
    assert "no-piece-twice" in rules_against(desk, kit=(*KIT, "BAG"))


def test_a_second_person_nobody_knows(desk: Desk, refused: Refused) -> None:
    told = refused(lambda: issue_kit(desk, "P0", question(second="P8")))
    assert (told.key, told.thing) == ("unknown.person", "P8")


# ------------------------------------------------------------------------------------------------ reservations


def test_a_reservation_counts_on_its_days_and_on_no_others(desk: Desk, refused: Refused) -> None:
    reserve_pieces(desk, "P0", ["G1"], "P9", NEXT, NEXT)
    assert refused(lambda: issue_kit(desk, "P0", question(until=NEXT))).key == "piece.reserved"
    answer, _ = issue_kit(desk, "P0", question())
    assert answer.verdict.may_be_issued


def test_whoever_it_is_kept_for_takes_it(desk: Desk) -> None:
    reserve_pieces(desk, "P0", KIT, "P1", DAY, NEXT)
    answer, _ = issue_kit(desk, "P0", question())
    assert answer.verdict.may_be_issued


def test_two_may_not_both_have_it(desk: Desk, refused: Refused) -> None:
    reserve_pieces(desk, "P0", ["G1"], "P9", DAY, NEXT)
    told = refused(lambda: reserve_pieces(desk, "P0", ["L1", "G1"], "P1", NEXT, NEXT + timedelta(days=9)))
    assert (told.key, told.thing, told.values["person"]) == ("piece.reserved", "G1", "P9")
    told = refused(lambda: reserve_pieces(desk, "P0", ["L1"], "P00", DAY, DAY))
    assert (told.key, told.values["nearest"]) == ("store.unknown-person", "P0")
    assert refused(lambda: reserve_pieces(desk, "P0", ["G1"], "P9", DAY, NEXT)).key == "entry.twice"
