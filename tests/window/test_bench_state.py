"""What the bench shows and says, without a window."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from app.decision.judging.defects import of_air_test, of_inspection
from app.decision.rules import repair_allowed
from app.register.reads.pieces import pieces
from app.usecases.add_piece import add_piece
from app.usecases.correct_entry import correct_entry
from app.usecases.desk import Desk
from app.usecases.foresee_entry import foresee_test
from app.usecases.hold_piece import hold_piece, reasons_for
from app.usecases.log_check import log_check
from app.usecases.look_at_kit import OnCounter, look_at_kit
from app.usecases.what_holds import what_holds
from app.usecases.withdraw_piece import withdraw_piece
from app.window.places.bench import state
from app.window.places.bench.declarations import HOW, WHERE
from app.window.places.bench.look_state import LookState
from app.words.vocabulary import DEFECTS
from tests.build import gloves, plain
from tests.fakes import FixedClock, stocked
from tests.usecases.acts import FIGURES


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    made = stocked(tmp_path / "r.cuffdate", FixedClock())
    yield made
    made.store.close()


def seen(desk: Desk, code: str) -> OnCounter:
    return look_at_kit(desk, [code])[code]


def open_to(desk: Desk, code: str) -> set[str]:
    one = seen(desk, code)
    return {choice for choice in state.CHOICES if not state.why_not(one, choice)}


ALWAYS = {"look", "event", "hold", "repair"}


def test_only_what_is_asked_of_the_kind_can_be_chosen_and_the_rest_says_why(desk: Desk) -> None:
    assert open_to(desk, "G1") == ALWAYS | {"test", "air"}
    assert open_to(desk, "L1") == ALWAYS
    assert open_to(desk, "D1") == ALWAYS | {"self-test", "calibration"}
    assert open_to(desk, "U1") == ALWAYS | {"self-test"}
    said = state.reason(seen(desk, "L1"), state.CHOICES)
    assert "Not for L1 (leather protectors): Electrical test, Air test, Self-test and Calibration." in said
    assert "Release: L1 is not on hold" in said


def test_without_a_piece_only_a_list_can_be_inspected() -> None:
    assert [choice for choice in state.CHOICES if not state.why_not(None, choice)] == ["look"]
    assert state.first_choice(None) == ""


def test_a_held_piece_can_be_released_and_a_withdrawn_one_nothing(desk: Desk) -> None:
    hold_piece(desk, "P0", ["G1"], "suspect")
    assert "release" in open_to(desk, "G1")
    withdraw_piece(desk, "P0", ["L1"], "worn")
    assert open_to(desk, "L1") == {"look"}
    assert "withdrawn for good" in state.reason(seen(desk, "L1"), ("hold",))


def test_the_line_says_class_standing_and_the_last_good_day_first(desk: Desk) -> None:
    line = state.line_of(seen(desk, "G1"))
    assert line.name == "G1  rubber insulating gloves, class 0"
    assert (line.word, line.until) == ("ready", "use until 2026-07-14 (retest due 2026-07-15)")


@pytest.mark.parametrize(
    ("change", "title", "look", "says"),
    [
        ({}, "PASSES", "fit", "Use until 2026-08-27 (retest due 2026-08-28)"),
        ({"right_ma": 17}, "FAILS", "stop", "G1 will be on hold at once"),
        ({"breakdown": True}, "FAILS", "stop", "withdrawn for good"),
        ({"dwell_s": 50}, "DOES NOT COUNT", "stop", "The earlier test still counts"),
    ],
)
def test_the_result_stands_first_and_what_follows_below(
    change: Mapping[str, object], title: str, look: str, says: str, desk: Desk
) -> None:
    review = state.review_of("G1", foresee_test(desk, "G1", {**FIGURES, **change}))
    assert title in review.title
    assert review.look == look
    assert says in review.says


def test_a_failed_test_gives_no_day_to_use_it_until(desk: Desk) -> None:
    review = state.review_of("G1", foresee_test(desk, "G1", {**FIGURES, "left_ma": 17}))
    assert "Use until" not in review.says


def test_fields_are_those_the_evidence_gives() -> None:
    assert state.fields_of_test("", "", "", None) == ()
    figures = state.fields_of_test("figures", "ac", "", "pair")
    assert {"left_ma", "right_ma", "frequency_hz", "dwell_s"} <= set(figures)
    assert "soaked" not in figures
    assert "soaked" in state.fields_of_test("figures", "ac", "acceptance", None)
    assert "frequency_hz" not in state.fields_of_test("figures", "dc", "", None)
    assert "right_ma" not in state.fields_of_test("figures", "ac", "", "left")
    assert "left_ma" not in state.fields_of_test("figures", "ac", "", "right")
    assert not {"test_v", "left_ma"} & set(state.fields_of_test("stated-pass", "", "", None))
    assert not {"laboratory", "certificate"} & set(state.fields_of_test("sheet-only", "", "", None))


def test_a_table_holds_what_is_said_and_nothing_else() -> None:
    table = state.table_of_test({"test_v": Decimal(5000), "laboratory": None, "certificate_names_piece": "no"})
    assert table == {"test_v": Decimal(5000), "certificate_names_piece": False}


def test_hands_are_tested_left_before_right_and_a_single_has_its_own(desk: Desk) -> None:
    from app.usecases.add_piece import add_piece

    air = state.AirState.of(seen(desk, "G1"))
    assert air.now == "left"
    air.results["left"] = "failed"
    air.defects["left"] = ("hole", "cut")
    assert air.now == "right"
    assert air.says("left") == "FAILED: hole and cut"
    air.results["right"] = "left-out"
    assert air.table(None) == {"left": "failed", "defects": ["hole", "cut"]}
    add_piece(desk, "P0", {**gloves("GR"), "hand": "right"})
    assert state.AirState.of(seen(desk, "GR")).hands == ("right",)


@pytest.mark.parametrize(
    ("of_type", "says"), [("I", "At most 1.5 x"), ("II", "At most 1.25 x"), (None, "Type not known")]
)
def test_how_far_a_glove_may_be_blown_up_is_house_policys(of_type: str | None, says: str, desk: Desk) -> None:
    from app.usecases.add_piece import add_piece

    add_piece(desk, "P0", {key: value for key, value in gloves("G2", type=of_type).items() if value is not None})
    assert says in state.allowed_inflation(seen(desk, "G2"))


def test_a_list_stands_as_without_a_defect_until_something_else_is_said(desk: Desk) -> None:
    from app.usecases.add_piece import add_piece

    add_piece(desk, "P0", plain("M1", "multimeter"))
    codes = ("L1", "D1", "M1", "B1")
    look = LookState(seen=look_at_kit(desk, codes))
    assert look.add([*codes, "L1"]) == (list(codes), [])
    assert look.add(["L1"]) == ([], ["L1"])
    assert "No defects found: 4" in look.review().title
    assert "D1" in look.review().says
    look.rows["L1"].defect, look.rows["M1"].jack, look.rows["D1"].caps = "tear", "current", "missing"
    look.rows["B1"].remark = "scuffed"
    review = look.review()
    assert review.look == "stop"
    assert "No defects found: 3" in review.title
    assert "On hold at once: L1 (tear)." in review.says
    assert "current jack, so not passed: M1" in review.says
    assert look.exceptions == {"L1": ("tear",)}
    assert look.of_each() == {"D1": {"caps": "missing"}, "M1": {"jack": "current"}, "B1": {"notes": ["scuffed"]}}


def test_a_release_waits_for_its_evidence(desk: Desk) -> None:
    assert "not on hold" in state.review_of_release(what_holds(desk, "G1"), "P0").title
    hold_piece(desk, "P0", ["G1"], "suspect")
    assert "cannot be released yet" in state.review_of_release(what_holds(desk, "G1"), "P0").title
    hold_piece(desk, "P0", ["L1"], "recall")
    assert "can be released by P0" in state.review_of_release(what_holds(desk, "L1"), "P0").title


def test_words_offered_are_words_the_rules_know() -> None:
    from app.decision.judging.catalogues import catalogues

    assert set(of_air_test()) <= set(DEFECTS)
    for kind in catalogues().kinds.values():
        assert set(of_inspection(kind)) <= set(DEFECTS)
    assert set(HOW) == set(repair_allowed.WAYS)
    assert set(WHERE) <= {*repair_allowed.CUFF, *repair_allowed._HAND}


def test_a_test_that_passes_and_is_too_old_says_so_in_its_title(desk: Desk) -> None:
    add_piece(desk, "P0", gloves("G7", records=[]))
    old = foresee_test(desk, "G7", {**FIGURES, "on": date(2019, 11, 5)})
    review = state.review_of("G7", old)
    assert (old.result, old.status.state) == ("passed", "overdue")
    assert (review.look, "out of date" in review.title) == ("stop", True)


@pytest.mark.parametrize(
    ("kind", "there", "not_there"),
    [
        ("rubber-gloves", "no-protectors", "cap"), ("test-leads", "lead", "no-protectors"),
        ("barrier-set", "suspect", "lead"), ("no-kind-of-ours", "lead", "failed"),
    ],
)  # fmt: skip
def test_the_reasons_for_a_hold_are_those_a_person_can_find_on_the_kind(kind: str, there: str, not_there: str) -> None:
    assert there in reasons_for(kind)
    assert not_there not in reasons_for(kind)


def test_who_struck_an_entry_is_told_before_the_key_that_somebody_else_has_to_look(desk: Desk) -> None:
    hold_piece(desk, "P0", ["K1"], "recall")
    last = desk.ask(lambda connection: pieces(connection, ["K1"]))["K1"].entries[-1].name
    correct_entry(desk, "P0", str(last), "the wrong set")
    own, other = what_holds(desk, "K1", "P0"), what_holds(desk, "K1", "P9")
    assert [own.refused is None, "cannot be released by P0" in state.review_of_release(own, "P0").title] == [
        False,
        True,
    ]
    assert other.refused is not None
    log_check(desk, "P9", "inspection", "K1", {})
    assert what_holds(desk, "K1", "P9").refused is None
    assert "can be released by P9" in state.review_of_release(what_holds(desk, "K1", "P9"), "P9").title


def test_a_blanket_is_asked_no_current_and_no_soak_and_boots_are(desk: Desk) -> None:
    acceptance = ("figures", "ac", "acceptance", None)
    assert not {"left_ma", "right_ma", "frequency_hz", "soaked"} & set(
        state.fields_of_test(*acceptance, "insulating-blanket")
    )
    assert {"left_ma", "right_ma"} <= set(state.fields_of_test(*acceptance, "dielectric-footwear"))
    assert "soaked" not in state.fields_of_test(*acceptance, "dielectric-footwear")


def test_a_torque_tool_is_calibrated_and_boots_are_tested(desk: Desk) -> None:
    add_piece(desk, "P0", {"code": "T7", "kind": "torque-tool", "voltage_mark": {"ac_v": 1000, "dc_v": 1500}})
    add_piece(desk, "P0", {"code": "F7", "kind": "dielectric-footwear", "class": "0", "class_system": "iec"})
    assert open_to(desk, "T7") == ALWAYS | {"calibration"}
    assert open_to(desk, "F7") == ALWAYS | {"test"}
