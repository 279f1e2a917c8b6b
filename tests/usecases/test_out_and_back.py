"""Issue, return, keeping, reservation, transfer: the good act, and everything that must be turned down."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from app.decision.judging.answers import DueQuestion
from app.register.reads import out
from app.register.reads.lines import lines_about
from app.usecases.add_piece import add_piece
from app.usecases.check_store import check_store
from app.usecases.correct_entry import correct_entry
from app.usecases.desk import Desk
from app.usecases.enter_taken import enter_taken
from app.usecases.hand_over import hand_over
from app.usecases.hold_piece import hold_piece
from app.usecases.issue_kit import issue_kit
from app.usecases.list_shelf import list_shelf
from app.usecases.log_check import inspect_list, log_check
from app.usecases.make_bag import make_bag
from app.usecases.release_piece import release_piece
from app.usecases.reserve_pieces import reserve_pieces
from app.usecases.return_kit import return_kit
from app.usecases.transfer_pieces import transfer_pieces
from app.usecases.withdraw_piece import withdraw_piece
from tests.build import DAY, plain
from tests.fakes import KIT, FixedClock, desk_on, question
from tests.usecases.conftest import Refused


def standing(desk: Desk, code: str) -> str:
    return list_shelf(desk, DueQuestion(desk.today(), None, (code,))).rows[0].status.state


def test_an_issue_is_a_decision_and_a_line_for_each_piece(desk: Desk) -> None:
    answer, name = issue_kit(desk, "P0", question())
    assert answer.verdict.may_be_issued
    assert name is not None
    found = desk.ask(out.out_now)
    assert {(one.piece, one.person, one.entry) for one in found.values()} == {(code, "P1", name) for code in KIT}
    lines = desk.ask(lambda connection: lines_about(connection, "G1"))
    assert (lines[-1].content["what"], lines[-1].actor, lines[-1].content["of_entry"]) == ("issue", "P0", name.number)
    assert standing(desk, "G1") == "out"


def test_the_same_issue_twice_writes_nothing(desk: Desk, refused: Refused) -> None:
    issue_kit(desk, "P0", question())
    assert refused(lambda: issue_kit(desk, "P0", question())).key == "issue.same"


def test_never_before_today(desk: Desk, refused: Refused, clock: FixedClock) -> None:
    clock.at(DAY + timedelta(days=1))
    assert refused(lambda: issue_kit(desk, "P0", question())).key == "issue.before-today"


def test_a_job_of_a_day_to_come_is_refused_because_that_days_checks_are_missing(desk: Desk) -> None:
    ahead = DAY + timedelta(days=1)
    answer, _ = issue_kit(desk, "P0", question(on=ahead, until=ahead))
    assert {one.rule for one in answer.verdict.stops} >= {"inspected", "air-test-done", "self-test-done"}


def test_a_person_without_the_scope_is_refused_and_it_is_on_record(desk: Desk) -> None:
    answer, name = issue_kit(desk, "P0", question(person="P9"))
    assert "person-authorised" in {one.rule for one in answer.verdict.stops}
    assert name is not None
    decided = desk.ask(lambda connection: out.decision(connection, name))
    assert decided is not None
    assert (decided.decision, decided.person, sorted(decided.kit)) == ("refused", "P9", sorted(KIT))
    assert desk.ask(out.out_now) == {}


def test_a_refusal_is_recorded_once_until_something_changes(desk: Desk, clock: FixedClock) -> None:
    kit = tuple(reversed(KIT))
    assert issue_kit(desk, "P0", question(person="P9"))[1] is not None
    assert issue_kit(desk, "P0", question(person="P9", kit=kit))[1] is None
    hold_piece(desk, "P0", ["G1"], "suspect")
    assert issue_kit(desk, "P0", question(person="P9"))[1] is not None
    assert issue_kit(desk, "P0", question(person="P9"))[1] is None
    clock.at(DAY + timedelta(days=1))
    tomorrow = DAY + timedelta(days=1)
    assert issue_kit(desk, "P0", question(person="P9", on=tomorrow, until=tomorrow))[1] is not None


def test_it_is_judged_again_inside_the_write(desk: Desk, path: Path) -> None:
    assert check_store(desk, question()).verdict.may_be_issued
    other = desk_on(path, FixedClock())
    hold_piece(other, "P9", ["D1"], "recall")
    other.store.close()
    answer, _ = issue_kit(desk, "P0", question())
    assert [(one.rule, one.subject) for one in answer.verdict.stops] == [("not-held", "D1")]


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        ({"kit": ("G1", "NO")}, "store.unknown-piece"), ({"person": "P7"}, "unknown.person"),
        ({"system": "VAN"}, "unknown.system"), ({"task": "wash"}, "unknown.task"),
        ({"circuits": ("aux",)}, "unknown.circuit"), ({"until": date(2026, 3, 1)}, "job.until-before-on"),
    ],
)  # fmt: skip
def test_what_nobody_knows_is_named(changes: dict[str, object], key: str, desk: Desk, refused: Refused) -> None:
    assert refused(lambda: issue_kit(desk, "P0", question(**changes))).key == key


def test_somebody_nobody_knows_enters_nothing(desk: Desk, refused: Refused) -> None:
    fault = refused(lambda: hold_piece(desk, "P00", ["G1"], "suspect"))
    assert (fault.key, fault.values["nearest"]) == ("by.unknown", "P0")


def test_a_return_ends_the_checks_of_the_day(desk: Desk, refused: Refused) -> None:
    issue_kit(desk, "P0", question())
    return_kit(desk, "P0", KIT, {})
    assert desk.ask(out.out_now) == {}
    assert standing(desk, "G1") == "inspect-today"
    assert refused(lambda: return_kit(desk, "P0", ["G1"], {})).key == "return.not-out"


def test_what_was_found_at_the_return_holds(desk: Desk) -> None:
    issue_kit(desk, "P0", question())
    told = return_kit(desk, "P0", KIT, {"D1": ("cracked", "damp")}).told
    assert [one.values["piece"] for one in told] == ["D1"]
    assert standing(desk, "D1") == "on-hold"


def test_keeping_is_not_issue(desk: Desk, refused: Refused) -> None:
    hand_over(desk, "P0", ["G1"], "P9")
    assert "at-hand" in {one.rule for one in check_store(desk, question()).verdict.stops}
    assert refused(lambda: hand_over(desk, "P0", ["L1"], "P8")).key == "hand-over.unknown"
    return_kit(desk, "P0", ["G1"], {})
    hand_over(desk, "P0", ["G1"], "P1")
    assert "at-hand" not in {one.rule for one in check_store(desk, question()).verdict.stops}
    hold_piece(desk, "P0", ["L1"], "suspect")
    assert refused(lambda: hand_over(desk, "P0", ["L1"], "P1")).key == "hand-over.held"


def test_taken_at_night_is_held_until_inspected(desk: Desk, refused: Refused, clock: FixedClock) -> None:
    clock.at(DAY + timedelta(days=1))
    enter_taken(desk, "P0", ["G1", "L1"], "P1", DAY)
    assert desk.ask(out.out_now)["G1"].person == "P1"
    assert standing(desk, "L1") == "on-hold"
    return_kit(desk, "P0", ["G1", "L1"], {})
    assert refused(lambda: release_piece(desk, "P0", ["L1"])).key == "release.no-evidence"
    inspect_list(desk, "P1", ["L1"], {}, {})
    log_check(desk, "P1", "air-test", "G1", {"left": "passed", "right": "passed", "inflation": 1.2})
    release_piece(desk, "P0", ["L1", "G1"])
    assert {standing(desk, "L1"), standing(desk, "G1")} == {"ready"}


def test_what_was_taken_before_a_return_is_back_and_is_not_entered_as_out(
    desk: Desk, refused: Refused, clock: FixedClock
) -> None:
    enter_taken(desk, "P0", ["L1", "B1"], "P9")
    clock.at(DAY + timedelta(days=3))
    back = return_kit(desk, "P0", ["L1", "B1"], {}).entries
    clock.at(DAY + timedelta(days=5))
    told = refused(lambda: enter_taken(desk, "P0", ["K1", "L1"], "P1", DAY + timedelta(days=2)))
    assert (told.key, told.thing, told.values["entry"]) == ("taken.returned-since", "L1", str(back[0]))
    # On the day of the return, whose hour is known and that of the taking is not, it may be out.
    enter_taken(desk, "P0", ["L1"], "P1", DAY + timedelta(days=3))
    enter_taken(desk, "P0", ["B1"], "P1")
    inspect_list(desk, "P9", ["L1", "B1"], {}, {})
    release_piece(desk, "P9", ["L1", "B1"])
    assert {standing(desk, code) for code in desk.ask(out.out_now)} == {"out"} == {standing(desk, "L1")}


def test_nor_is_it_the_other_way_round(desk: Desk, refused: Refused, clock: FixedClock) -> None:
    """Struck, the return leaves the piece out, and both the list and the card say so."""
    clock.at(DAY + timedelta(days=3))
    enter_taken(desk, "P0", ["L1"], "P9", DAY)
    back = str(return_kit(desk, "P0", ["L1"], {}).entries[0])
    assert refused(lambda: enter_taken(desk, "P0", ["L1"], "P1", DAY + timedelta(days=1))).key == "taken.returned-since"
    correct_entry(desk, "P0", back, "it never came back")
    inspect_list(desk, "P9", ["L1"], {}, {})
    release_piece(desk, "P9", ["L1"])
    assert set(desk.ask(out.out_now)) == {"L1"}
    assert standing(desk, "L1") == "out"


@pytest.mark.parametrize("back", [[], [{"what": "return", "on": DAY - timedelta(days=4)}]], ids=["never", "before"])
def test_a_piece_is_not_added_as_out(back: list[dict[str, object]], desk: Desk, refused: Refused) -> None:
    issued = {"what": "issue", "on": DAY - timedelta(days=3)}
    new = plain("K2", "lock-off-set", records=[issued, *back])
    assert refused(lambda: add_piece(desk, "P0", new)).key == "piece.added-out"
    add_piece(desk, "P0", plain("K2", "lock-off-set", records=[issued, {"what": "return", "on": DAY}]))


def test_what_is_withdrawn_and_was_taken_all_the_same_is_entered(
    desk: Desk, refused: Refused, clock: FixedClock
) -> None:
    withdraw_piece(desk, "P0", ["L1"], "worn")
    clock.at(DAY + timedelta(days=1))
    saved = enter_taken(desk, "P0", ["L1", "B1"], "P1", DAY)
    assert [(one.key, one.values["piece"]) for one in saved.told] == [
        ("saved.taken-withdrawn", "L1"), ("saved.held", "B1"),
    ]  # fmt: skip
    assert len(saved.entries) == 4
    assert desk.ask(out.out_now)["L1"].person == "P1"
    assert refused(lambda: enter_taken(desk, "P0", ["L1"], "P9")).key == "piece.out"
    return_kit(desk, "P0", ["L1"], {})
    assert set(desk.ask(out.out_now)) == {"B1"}
    assert standing(desk, "L1") == "withdrawn"
    assert refused(lambda: release_piece(desk, "P9", ["L1"])).key == "entry.withdrawn"


def test_kept_for_another(desk: Desk, refused: Refused) -> None:
    reserve_pieces(desk, "P0", ["G1"], "P9", DAY, DAY + timedelta(days=2))
    fault = refused(lambda: issue_kit(desk, "P0", question()))
    assert (fault.key, fault.values["person"]) == ("piece.reserved", "P9")
    gone = DAY - timedelta(days=1)
    assert refused(lambda: reserve_pieces(desk, "P0", ["L1"], "P9", gone, gone)).key == "reserve.gone-by"
    assert refused(lambda: reserve_pieces(desk, "P0", ["L1"], "P9", DAY, gone)).key == "job.until-before-on"


def test_a_transfer_stands_in_both_books(desk: Desk, refused: Refused) -> None:
    from app.usecases.add_crib import add_crib

    add_crib(desk, "P0", "other")
    assert refused(lambda: add_crib(desk, "P0", "other")).key == "crib.there"
    assert refused(lambda: transfer_pieces(desk, "P0", ["G1"], "othr")).key == "crib.unknown"
    saved = transfer_pieces(desk, "P0", ["G1"], "other")
    assert {one.book for one in saved.entries} == {"main", "other"}
    assert refused(lambda: transfer_pieces(desk, "P0", ["G1"], "other")).key == "transfer.already-there"
    assert check_store(desk, question()).verdict.may_be_issued
    _, name = issue_kit(desk, "P0", question())
    assert refused(lambda: transfer_pieces(desk, "P0", ["G1"], "main")).key == "piece.out"
    assert name is not None
    return_kit(desk, "P0", KIT, {})
    assert desk.ask(out.out_now) == {}


def test_a_bag_is_scanned_as_one(desk: Desk, refused: Refused) -> None:
    make_bag(desk, "P0", "BAG", KIT)
    assert check_store(desk, question(kit=("BAG",))).verdict.may_be_issued
    assert refused(lambda: make_bag(desk, "P0", "g1", KIT)).key == "bag.is-a-piece"
    assert refused(lambda: log_check(desk, "P0", "self-test", "BAG", {"result": "passed"})).key == "entry.one-piece"
