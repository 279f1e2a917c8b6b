"""What is foreseen is what the entry then does, and foreseeing writes nothing."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import pytest

from app.decision.domain.errors import StoreTrouble
from app.decision.judging.answers import DueQuestion, Saved
from app.decision.judging.status import Status
from app.usecases.desk import NOBODY_YET, Desk
from app.usecases.foresee_entry import foresee_entry, foresee_test
from app.usecases.hold_piece import hold_piece
from app.usecases.list_shelf import list_shelf
from app.usecases.load_register import close_to_entries
from app.usecases.log_check import inspect_list, log_check
from app.usecases.log_electrical_test import log_electrical_test
from app.usecases.release_piece import release_piece
from app.usecases.repair_piece import repair_piece
from app.usecases.what_holds import what_holds
from app.usecases.withdraw_piece import withdraw_piece
from tests.build import DAY
from tests.usecases.acts import FIGURES
from tests.usecases.conftest import Refused

Table = Mapping[str, Any]


def standing(desk: Desk, code: str) -> Status:
    return list_shelf(desk, DueQuestion(desk.today(), None, (code,))).rows[0].status


@pytest.mark.parametrize(
    ("change", "result"),
    [
        ({}, "passed"), ({"left_ma": 17}, "failed"), ({"breakdown": True}, "failed"), ({"dwell_s": 50}, "does-not-count"),
        ({"test_v": 4000}, "does-not-count"), ({"certificate_names_piece": False}, "does-not-count"),
    ],
    ids=str,
)  # fmt: skip
def test_a_test_is_foreseen_as_it_is_then_entered(change: Table, result: str, desk: Desk) -> None:
    table = {**FIGURES, **change}
    before = desk.anchors()
    foreseen = foresee_test(desk, "G1", table)
    assert desk.anchors() == before
    assert foreseen.result == result
    saved = log_electrical_test(desk, "P0", "G1", table)
    assert saved.result == result
    said_before = [one.key for one in foreseen.told if one.key != "test.limit-used"]
    assert said_before == [one.key for one in saved.told]
    after = standing(desk, "G1")
    assert (foreseen.status.state, foreseen.status.due_on) == (after.state, after.due_on)


def test_the_limit_at_the_frequency_of_the_test_is_said_before_it_is_entered(desk: Desk) -> None:
    def limit(hertz: int) -> float:
        told = foresee_test(desk, "G1", {**FIGURES, "frequency_hz": hertz}).told
        return next(float(str(one.values["limit_ua"])) for one in told if one.key == "test.limit-used")

    assert limit(600) == 10 * limit(60)
    assert limit(50) == pytest.approx(limit(60) * 5 / 6)


Act = Callable[[Desk, str], Saved]


@pytest.mark.parametrize(
    ("code", "act"),
    [
        ("G1", lambda d, by: log_check(d, by, "air-test", "G1", {"left": "failed", "right": "passed", "defects": ["hole"]})),
        ("G1", lambda d, by: log_check(d, by, "event", "G1", {"kind": "wet"})),
        ("D1", lambda d, by: log_check(d, by, "self-test", "D1", {"result": "failed"})),
        ("G1", lambda d, by: repair_piece(d, by, "G1", {"kind": "patched", "place": "palm"})),
        ("G1", lambda d, by: hold_piece(d, by, ["G1"], "suspect")),
    ],
    ids=["air test", "event", "self-test", "repair", "hold"],
)  # fmt: skip
def test_every_entry_is_foreseen_as_it_then_is(code: str, act: Act, desk: Desk) -> None:
    before, shown = desk.anchors(), standing(desk, code)
    foreseen = foresee_entry(desk, code, lambda trial: act(trial, NOBODY_YET))
    assert (desk.anchors(), standing(desk, code)) == (before, shown)
    saved = act(desk, "P0")
    assert [note.key for note in foreseen.told] == [note.key for note in saved.told]
    assert foreseen.status.state == standing(desk, code).state


def test_after_something_foreseen_an_act_asks_again_who_enters_it(desk: Desk, refused: Refused) -> None:
    foresee_test(desk, "G1", FIGURES)
    assert refused(lambda: hold_piece(desk, NOBODY_YET, ["G1"], "suspect")).key == "by.unknown"
    assert refused(lambda: foresee_entry(desk, "X9", lambda d: hold_piece(d, NOBODY_YET, ["X9"], "wet"))).thing == "X9"
    assert refused(lambda: hold_piece(desk, NOBODY_YET, ["G1"], "suspect")).key == "by.unknown"


def test_in_a_register_that_takes_no_entries_it_is_foreseen_all_the_same(desk: Desk) -> None:
    close_to_entries(desk, "P9", DAY)
    before = desk.anchors()
    assert foresee_test(desk, "G1", {**FIGURES, "left_ma": 17}).status.state == "on-hold"
    assert desk.anchors() == before


def test_in_a_file_nobody_may_write_to_it_says_why_not(desk: Desk) -> None:
    desk.store.is_read_only = True
    with pytest.raises(StoreTrouble) as told:
        foresee_test(desk, "G1", FIGURES)
    assert told.value.key == "store.read-only"


def test_what_could_not_be_entered_is_not_foreseen_either(desk: Desk, refused: Refused) -> None:
    assert refused(lambda: foresee_test(desk, "L1", FIGURES)).key == "log.no-electrical-test"
    assert refused(lambda: foresee_test(desk, "NOBODY", FIGURES)).key == "store.unknown-piece"
    ahead = {**FIGURES, "on": DAY.replace(day=3)}
    assert refused(lambda: foresee_test(desk, "G1", ahead)).key == "entry.ahead"
    withdraw_piece(desk, "P0", ["G1"], "worn")
    assert refused(lambda: foresee_test(desk, "G1", FIGURES)).key == "entry.withdrawn"


def test_what_holds_a_piece_is_named_with_what_clears_it_until_it_is_there(desk: Desk) -> None:
    assert what_holds(desk, "G1").open_now == ()
    hold_piece(desk, "P0", ["G1"], "suspect")
    held = what_holds(desk, "G1")
    assert [one.clears for one in held.open_now] == ["suspect"]
    assert held.missing
    log_electrical_test(desk, "P0", "G1", {**FIGURES, "on": DAY, "after": "suspect"})
    held = what_holds(desk, "G1")
    assert held.open_now
    assert held.missing == ()
    release_piece(desk, "P0", ["G1"])
    assert what_holds(desk, "G1").open_now == ()


def test_a_list_says_of_single_pieces_what_is_of_them_alone(desk: Desk) -> None:
    of_each: dict[str, dict[str, object]] = {
        "D1": {"caps": "present"},
        "G1": {"clearance_mm": 40, "notes": ["scuffed"]},
    }
    saved = inspect_list(desk, "P0", ["D1", "G1", "L1"], {"L1": ("tear",)}, {}, of_each)
    assert len(saved.entries) == 3
    assert [one.key for one in saved.told] == ["saved.held"]
    assert standing(desk, "L1").state == "on-hold"
