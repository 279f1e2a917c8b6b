"""Corrections: what stands afterwards, what falls with it, and that no slip of one pen frees a piece."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import pytest

from app.decision.domain.errors import BadInput
from app.decision.judging.answers import DueQuestion
from app.register.reads import out
from app.register.reads.pieces import pieces
from app.usecases.add_crib import add_crib
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
from app.usecases.log_electrical_test import log_electrical_test
from app.usecases.release_piece import release_piece
from app.usecases.reserve_pieces import reserve_pieces
from app.usecases.return_kit import return_kit
from app.usecases.take_stock import take_stock
from app.usecases.transfer_pieces import transfer_pieces
from app.usecases.verify_register import verify_register
from app.usecases.withdraw_piece import withdraw_piece
from tests.build import DAY, gloves
from tests.fakes import KIT, FixedClock, question
from tests.usecases.acts import FIGURES
from tests.usecases.conftest import Refused


def state(desk: Desk, code: str) -> str:
    return list_shelf(desk, DueQuestion(desk.today(), None, (code,))).rows[0].status.state


def due(desk: Desk, code: str) -> date | None:
    return list_shelf(desk, DueQuestion(desk.today(), None, (code,))).rows[0].status.due_on


def are_out(desk: Desk) -> set[str]:
    return set(desk.ask(out.out_now))


def entry_of(desk: Desk, code: str, back: int = 1) -> str:
    return str(desk.ask(lambda connection: pieces(connection, [code]))[code].entries[-back].name)


# ------------------------------------------------------------------------------------------------ out and back


def test_a_return_that_never_was_leaves_the_piece_out(desk: Desk, refused: Refused) -> None:
    _, name = issue_kit(desk, "P0", question())
    back = return_kit(desk, "P0", ["B1"], {}).entries[0]
    correct_entry(desk, "P0", str(back), "B1 is still on the bus")
    assert are_out(desk) == set(KIT)
    found = desk.ask(out.out_now)["B1"]
    assert (found.person, found.until, found.entry) == ("P1", DAY, name)
    assert state(desk, "B1") == "out"
    assert refused(lambda: issue_kit(desk, "P0", question())).key == "issue.same"
    return_kit(desk, "P0", KIT, {})
    assert are_out(desk) == set()


def test_so_does_one_of_what_was_taken_without_issue(desk: Desk) -> None:
    taken = enter_taken(desk, "P0", ["L1"], "P1").entries[0]
    back = return_kit(desk, "P0", ["L1"], {}).entries[0]
    correct_entry(desk, "P0", str(back), "another pair")
    found = desk.ask(out.out_now)["L1"]
    assert (found.person, found.until, found.entry) == ("P1", None, taken)


def test_a_return_from_keeping_struck_makes_nothing_out(desk: Desk) -> None:
    hand_over(desk, "P0", ["L1"], "P9")
    back = return_kit(desk, "P0", ["L1"], {}).entries[0]
    correct_entry(desk, "P0", str(back), "P9 has it still")
    assert are_out(desk) == set()
    assert "at-hand" in {one.rule for one in check_store(desk, question()).verdict.stops}


def test_the_later_issue_decides_in_whatever_book_it_stands(desk: Desk, refused: Refused) -> None:
    add_crib(desk, "P0", "a-crib")
    enter_taken(desk, "P0", ["L1"], "P1")
    early = return_kit(desk, "P0", ["L1"], {}).entries[0]
    transfer_pieces(desk, "P0", ["L1"], "a-crib")
    taken = enter_taken(desk, "P0", ["L1"], "P1").entries[0]
    # a-crib sorts before main, and its book begins at one: names alone would turn the order round.
    told = refused(lambda: correct_entry(desk, "P0", str(early), "it never came back"))
    assert (told.key, told.values["other"]) == ("correct.issued-since", str(taken))
    late = return_kit(desk, "P0", ["L1"], {}).entries[0]
    correct_entry(desk, "P0", str(late), "it never came back")
    assert are_out(desk) == {"L1"}


def test_an_issue_that_was_itself_struck_is_no_later_issue(desk: Desk) -> None:
    enter_taken(desk, "P0", ["L1"], "P1")
    back = return_kit(desk, "P0", ["L1"], {}).entries[0]
    again = enter_taken(desk, "P0", ["L1"], "P1").entries[0]
    correct_entry(desk, "P0", str(again), "entered twice")
    assert are_out(desk) == set()
    correct_entry(desk, "P0", str(back), "it never came back")
    assert are_out(desk) == {"L1"}


def test_a_job_is_struck_though_one_piece_was_struck_before(desk: Desk, refused: Refused) -> None:
    _, name = issue_kit(desk, "P0", question())
    correct_entry(desk, "P0", entry_of(desk, "B1"), "B1 stayed here")
    assert are_out(desk) == set(KIT) - {"B1"}
    correct_entry(desk, "P0", str(name), "called off")
    assert are_out(desk) == set()
    assert {state(desk, code) for code in KIT} == {"on-hold"}
    assert refused(lambda: correct_entry(desk, "P0", str(name), "called off")).key == "correct.already"


def test_striking_the_issue_of_what_came_back_long_ago_leaves_it_here(desk: Desk) -> None:
    _, name = issue_kit(desk, "P0", question())
    return_kit(desk, "P0", KIT, {})
    correct_entry(desk, "P0", str(name), "that was another bus")
    assert are_out(desk) == set()
    assert state(desk, "D1") == "on-hold"


# ------------------------------------------------------------------------------------- never one person alone


def against(desk: Desk, what: str) -> tuple[str, str]:
    """Enter something against a piece; answers the piece and the entry."""
    acts: dict[str, Callable[[], tuple[str, object]]] = {
        "hold": lambda: ("D1", hold_piece(desk, "P9", ["D1"], "recall").entries[0]),
        "defect": lambda: ("D1", inspect_list(desk, "P9", ["D1"], {"D1": ("cracked",)}, {}).entries[0]),
        "event": lambda: ("G1", log_check(desk, "P9", "event", "G1", {"kind": "wet"}).entries[0]),
        "air-test": lambda: ("G1", log_check(desk, "P9", "air-test", "G1", {"left": "failed"}).entries[0]),
        "self-test": lambda: ("D1", log_check(desk, "P9", "self-test", "D1", {"result": "failed"}).entries[0]),
        "withdrawal": lambda: ("L1", withdraw_piece(desk, "P9", ["L1"], "worn").entries[0]),
        "failed": lambda: ("G1", log_electrical_test(desk, "P9", "G1", {**FIGURES, "result": "failed"}).entries[0]),
        "above": lambda: ("G1", log_electrical_test(desk, "P9", "G1", {**FIGURES, "left_ma": 17}).entries[0]),
        # The lab's word is "passed", and the figure beside it says otherwise.
        "stated": lambda: (
            "G1", log_electrical_test(desk, "P9", "G1", {**FIGURES, "result": "passed", "left_ma": 17}).entries[0],
        ),
        "breakdown": lambda: ("G1", log_electrical_test(desk, "P9", "G1", {**FIGURES, "breakdown": True}).entries[0]),
        "lost": lambda: ("K1", _lost(desk)),
        "taken": lambda: ("L1", enter_taken(desk, "P9", ["L1"], "P1").entries[0]),
    }  # fmt: skip
    code, name = acts[what]()
    return code, str(name)


def seen(desk: Desk, by: str, *codes: str) -> None:
    """Look over what is held by a correction; gloves are air-tested."""
    for code in codes:
        if code.startswith("G"):
            log_check(desk, by, "air-test", code, {"left": "passed", "right": "passed", "inflation": 1.2})
        else:
            inspect_list(desk, by, [code], {}, {"caps": "present"} if code.startswith("D") else {})


def _lost(desk: Desk) -> object:
    return take_stock(desk, "P9", [code for code in KIT if code != "K1"], "", mark_lost=True).entries[-1]


AGAINST = ("hold", "defect", "event", "air-test", "self-test", "withdrawal", "failed", "above", "stated", "breakdown",
           "lost", "taken")  # fmt: skip


OF_A_TEST = ("failed", "above", "stated", "breakdown")


def only_a_second_person_frees(desk: Desk, refused: Refused, what: str, code: str) -> None:
    """P0 corrected: neither may P0 release it, nor anybody while nobody else has looked; of a certificate nothing is seen."""
    assert state(desk, code) == "on-hold"
    assert refused(lambda: release_piece(desk, "P0", [code])).key == "release.by-another"
    if what not in OF_A_TEST:
        assert refused(lambda: release_piece(desk, "P9", [code])).key == "release.not-looked"
        seen(desk, "P0", code)
        told = refused(lambda: release_piece(desk, "P9", [code]))
        assert (told.key, told.values["person"]) == ("release.not-looked", "P0")
        seen(desk, "P1", code)
        assert refused(lambda: release_piece(desk, "P0", [code])).key == "release.by-another"
    release_piece(desk, "P9", [code])
    assert state(desk, code) not in ("on-hold", "withdrawn", "lost", "out")


@pytest.mark.parametrize("what", AGAINST)
def test_striking_what_speaks_against_a_piece_holds_it_for_another_person(
    what: str, desk: Desk, refused: Refused
) -> None:
    code, name = against(desk, what)
    correct_entry(desk, "P0", name, "the wrong piece")
    only_a_second_person_frees(desk, refused, what, code)


@pytest.mark.parametrize(
    ("what", "changes"),
    [("above", {"left_ma": 7}), ("stated", {"left_ma": 7}), ("defect", {"defects": None}), ("air-test", {"left": "passed"}),
     ("failed", {"result": None}), ("breakdown", {"breakdown": None}), ("self-test", {"result": "passed"})],
)  # fmt: skip
def test_so_does_rewriting_it(what: str, changes: dict[str, object], desk: Desk, refused: Refused) -> None:
    code, name = against(desk, what)
    correct_entry(desk, "P0", name, "misread", changes)
    only_a_second_person_frees(desk, refused, what, code)


def test_a_look_with_a_defect_or_from_before_is_no_second_look(desk: Desk, refused: Refused) -> None:
    _, name = against(desk, "hold")
    seen(desk, "P1", "D1")
    correct_entry(desk, "P0", name, "no recall")
    assert refused(lambda: release_piece(desk, "P9", ["D1"])).key == "release.not-looked"
    inspect_list(desk, "P1", ["D1"], {"D1": ("cracked",)}, {})
    assert refused(lambda: release_piece(desk, "P9", ["D1"])).key == "release.not-looked"


def test_the_hold_of_a_failed_test_struck_by_itself_is_no_correction_of_a_test(desk: Desk, refused: Refused) -> None:
    against(desk, "failed")
    correct_entry(desk, "P0", entry_of(desk, "G1"), "no hold")
    assert refused(lambda: release_piece(desk, "P9", ["G1"])).key == "release.not-looked"


def test_what_a_loaded_sheet_said_counts_no_less(desk: Desk, refused: Refused) -> None:
    """A test that came in with the piece has no hold of its own; its figure speaks against the pair all the same."""
    failed = {"what": "electrical-test", "evidence": "figures", **FIGURES, "result": "passed", "left_ma": 17}
    add_piece(desk, "P0", {**gloves("G2"), "records": [failed]})
    correct_entry(desk, "P0", entry_of(desk, "G2"), "misread", {"left_ma": 7})
    assert state(desk, "G2") == "on-hold"
    assert refused(lambda: release_piece(desk, "P0", ["G2"])).key == "release.by-another"


def test_the_hold_of_a_correction_cannot_be_struck_away_either(desk: Desk, refused: Refused) -> None:
    hold_piece(desk, "P9", ["D1"], "recall")
    correct_entry(desk, "P0", entry_of(desk, "D1"), "no recall")
    correct_entry(desk, "P0", entry_of(desk, "D1"), "no hold")
    assert state(desk, "D1") == "on-hold"
    assert refused(lambda: release_piece(desk, "P0", ["D1"])).key == "release.by-another"


def test_nor_can_an_old_release_be_given_a_new_hour(desk: Desk, refused: Refused, clock: FixedClock) -> None:
    hold_piece(desk, "P9", ["D1"], "recall")
    old = str(release_piece(desk, "P0", ["D1"]).entries[0])
    hold_piece(desk, "P9", ["D1"], "recall")
    correct_entry(desk, "P0", entry_of(desk, "D1"), "no recall")
    later = {"on": DAY, "at": (clock.moment + timedelta(seconds=1)).time()}
    assert refused(lambda: correct_entry(desk, "P0", old, "the hour was wrong", later)).key == "correct.strike-only"
    assert state(desk, "D1") == "on-hold"


def test_two_who_corrected_wait_for_a_third(desk: Desk, refused: Refused) -> None:
    for by in ("P0", "P9"):
        hold_piece(desk, "P1", ["D1"], "recall")
        correct_entry(desk, by, entry_of(desk, "D1"), "no recall")
    assert refused(lambda: release_piece(desk, "P0", ["D1"])).key == "release.by-another"
    assert refused(lambda: release_piece(desk, "P9", ["D1"])).key == "release.by-another"
    seen(desk, "P9", "D1")
    # P9's look answers P0's correction, and nobody has looked after that of P9.
    assert refused(lambda: release_piece(desk, "P1", ["D1"])).key == "release.not-looked"
    seen(desk, "P1", "D1")
    release_piece(desk, "P1", ["D1"])
    assert state(desk, "D1") == "ready"


# --------------------------------------------------------------------------------- tests put right stay judged


def test_a_passed_test_may_be_put_right_by_one_person(desk: Desk) -> None:
    name = str(log_electrical_test(desk, "P0", "G1", FIGURES).entries[0])
    correct_entry(desk, "P0", name, "a slip", {"certificate": "0815"})
    assert state(desk, "G1") == "ready"
    assert due(desk, "G1") == date(2026, 8, 28)


def test_a_passed_test_that_turns_out_to_have_failed_holds(desk: Desk, refused: Refused) -> None:
    name = str(log_electrical_test(desk, "P0", "G1", FIGURES).entries[0])
    told = correct_entry(desk, "P0", name, "17 was read as 7", {"left_ma": 17}).told
    assert [one.key for one in told] == ["saved.held"]
    assert refused(lambda: release_piece(desk, "P9", ["G1"])).key == "release.no-evidence"
    # A later pass is evidence, and still somebody has to release.
    log_electrical_test(desk, "P0", "G1", {**FIGURES, "on": DAY})
    assert state(desk, "G1") == "on-hold"
    release_piece(desk, "P0", ["G1"])
    assert due(desk, "G1") == date(2026, 9, 2)


def test_a_failed_test_put_right_and_failed_all_the_same(desk: Desk, refused: Refused) -> None:
    _, name = against(desk, "above")
    correct_entry(desk, "P0", name, "17 was 18", {"left_ma": 18})
    assert refused(lambda: release_piece(desk, "P9", ["G1"])).key == "release.no-evidence"


def test_a_breakdown_retires_for_good_whatever_is_put_right_about_it(desk: Desk, refused: Refused) -> None:
    _, name = against(desk, "breakdown")
    told = correct_entry(desk, "P0", name, "a slip", {"certificate": "0815"}).told
    assert "saved.retired" in {one.key for one in told}
    assert state(desk, "G1") == "withdrawn"
    assert refused(lambda: inspect_list(desk, "P0", ["G1"], {}, {})).key == "entry.withdrawn"


def test_a_breakdown_found_later_in_the_certificate_retires(desk: Desk, refused: Refused) -> None:
    name = str(log_electrical_test(desk, "P0", "G1", FIGURES).entries[0])
    correct_entry(desk, "P0", name, "overlooked", {"breakdown": True})
    assert state(desk, "G1") == "withdrawn"
    assert refused(lambda: log_electrical_test(desk, "P0", "G1", {**FIGURES, "on": DAY})).key == "entry.withdrawn"


def test_an_old_slip_about_a_withdrawn_piece_is_put_right_and_it_stays_withdrawn(desk: Desk) -> None:
    name = str(log_check(desk, "P0", "event", "G1", {"kind": "wet"}).entries[0])
    withdraw_piece(desk, "P0", ["G1"], "worn")
    correct_entry(desk, "P0", name, "another pair")
    assert state(desk, "G1") == "withdrawn"


# ------------------------------------------------------------------------------------------- the rest of it


@pytest.mark.parametrize("what", ["issue", "return", "hold", "release", "withdrawal", "reservation"])
def test_what_can_only_be_struck(what: str, desk: Desk, refused: Refused) -> None:
    code = "L1"
    if what in ("issue", "return"):
        enter_taken(desk, "P0", [code], "P1")
    if what == "return":
        return_kit(desk, "P0", [code], {})
    if what in ("hold", "release"):
        hold_piece(desk, "P0", [code], "recall")
    if what == "release":
        release_piece(desk, "P0", [code])
    if what == "withdrawal":
        withdraw_piece(desk, "P0", [code], "worn")
    if what == "reservation":
        reserve_pieces(desk, "P0", [code], "P9", DAY, DAY)
    name = entry_of(desk, code, 2 if what == "issue" else 1)
    day = {"on": DAY - timedelta(days=1)}
    assert refused(lambda: correct_entry(desk, "P0", name, "so", day)).key == "correct.strike-only"


def test_a_reservation_struck_frees_the_piece(desk: Desk) -> None:
    name = str(reserve_pieces(desk, "P0", ["G1"], "P9", DAY, DAY).entries[0])
    correct_entry(desk, "P0", name, "P9 is on leave")
    answer, _ = issue_kit(desk, "P0", question())
    assert answer.verdict.may_be_issued


def test_a_correction_may_not_say_what_lies_ahead_or_what_stood_there(desk: Desk, refused: Refused) -> None:
    name = str(log_check(desk, "P0", "inspection", "L1", {"on": DAY, "at": "07:30"}).entries[0])
    ahead = {"on": DAY + timedelta(days=1), "at": None}
    assert refused(lambda: correct_entry(desk, "P0", name, "so", ahead)).key == "entry.ahead"
    assert refused(lambda: correct_entry(desk, "P0", name, "so", {"at": "07:30"})).key == "correct.no-change"
    assert refused(lambda: correct_entry(desk, "P0", name, "so", {"defect": ["hole"]})).key == "case.unknown-key"


def test_what_took_the_place_of_an_entry_may_be_corrected_in_turn(desk: Desk, refused: Refused) -> None:
    first = str(log_check(desk, "P0", "inspection", "L1", {"on": DAY, "at": "07:30"}).entries[0])
    second = str(correct_entry(desk, "P0", first, "so", {"at": "07:20"}).entries[0])
    told = refused(lambda: correct_entry(desk, "P0", first, "so", {"at": "07:10"}))
    assert (told.key, told.values["other"]) == ("correct.already", second)
    correct_entry(desk, "P0", second, "so", {"at": "07:10"})
    kept = desk.ask(lambda connection: pieces(connection, ["L1"]))["L1"].piece
    assert [str(one.at) for one in kept.records] == ["07:00:00", "07:10:00"]


def test_a_hand_over_struck_or_rewritten_never_gives_back_never(desk: Desk) -> None:
    for code, changes in (("G2", None), ("G3", {"to": "crib"})):
        add_piece(desk, "P0", {**gloves(code, first_issue="never"), "records": gloves()["records"][:1]})
        assert due(desk, code) == date(2027, 1, 15)
        name = str(hand_over(desk, "P0", [code], "P9").entries[0])
        assert due(desk, code) == date(2026, 9, 2)
        correct_entry(desk, "P0", name, "it stayed here", changes)
        assert due(desk, code) == date(2026, 7, 15)


def test_what_was_lost_by_mistake_is_not_lost_in_the_next_crib(desk: Desk) -> None:
    add_crib(desk, "P0", "other")
    take_stock(desk, "P0", [code for code in KIT if code != "K1"], "main", mark_lost=True)
    name = entry_of(desk, "K1")
    transfer_pieces(desk, "P0", ["K1"], "other")
    correct_entry(desk, "P0", name, "it hung on the wrong hook")
    seen(desk, "P1", "K1")
    release_piece(desk, "P9", ["K1"])
    assert state(desk, "K1") == "ready"


def test_two_cribs_may_have_an_entry_of_one_number(desk: Desk, refused: Refused) -> None:
    add_crib(desk, "P0", "other")
    add_piece(desk, "P0", gloves("G2"), "other")
    told = refused(lambda: correct_entry(desk, "P0", "2", "so"))
    assert (told.key, told.values["known"]) == ("entry.say-which", ("main:2", "other:2"))


def test_a_correction_refused_leaves_out_and_shelf_as_they_were(desk: Desk) -> None:
    issue_kit(desk, "P0", question())
    with pytest.raises(BadInput):
        correct_entry(desk, "P0", entry_of(desk, "B1"), "so", {"on": DAY})
    assert are_out(desk) == set(KIT)
    assert verify_register(desk).damage == ()
