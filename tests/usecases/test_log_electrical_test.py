"""Electrical tests at the bench: a failed one is never turned away at the door, and one that does not count leaves T."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from app.decision.judging.answers import DueQuestion
from app.register.reads import out
from app.register.reads.pieces import pieces
from app.usecases.desk import Desk
from app.usecases.hand_over import hand_over
from app.usecases.issue_kit import issue_kit
from app.usecases.list_shelf import list_shelf
from app.usecases.log_electrical_test import log_electrical_test
from app.usecases.release_piece import release_piece
from app.usecases.return_kit import return_kit
from app.usecases.withdraw_piece import withdraw_piece
from tests.build import DAY
from tests.fakes import KIT, FixedClock, question
from tests.usecases.acts import FIGURES
from tests.usecases.conftest import Refused

OLD_DUE = date(2026, 7, 15)


def standing(desk: Desk, code: str) -> tuple[str, date | None]:
    one = list_shelf(desk, DueQuestion(desk.today(), None, (code,))).rows[0].status
    return one.state, one.due_on


@pytest.mark.parametrize(
    ("table", "key"),
    [
        ({"test_v": 4999}, "test.voltage-low"), ({"dwell_s": 59}, "test.dwell-short"),
        ({"occasion": "acceptance", "dwell_s": 179}, "test.dwell-short"), ({"left_ma": None}, "test.figure-missing"),
        ({"test_v": None}, "test.figure-missing"), ({"frequency_hz": None}, "test.figure-missing"),
        ({"certificate_names_piece": False}, "test.names-no-piece"), ({"on": None}, "test.no-day"),
        ({"dwell_s": 0}, "test.dwell-short"),
    ],
)  # fmt: skip
def test_what_does_not_count_is_named_and_leaves_the_last_test(table: dict[str, object], key: str, desk: Desk) -> None:
    given = {name: value for name, value in {**FIGURES, **table}.items() if value is not None}
    saved = log_electrical_test(desk, "P0", "G1", given)
    assert saved.result == "does-not-count"
    assert key in {one.key for one in saved.told}
    assert standing(desk, "G1") == ("ready", OLD_DUE)
    assert len(saved.entries) == 1


@pytest.mark.parametrize(
    "table",
    [
        {"result": "failed"}, {"left_ma": 12.001}, {"right_ma": 12.001, "result": "passed"}, {"breakdown": True},
        {"result": "failed", "test_v": 10}, {"result": "failed", "certificate_names_piece": False},
    ],
    ids=str,
)  # fmt: skip
def test_a_failed_test_holds_at_once_whatever_else_is_missing(table: dict[str, object], desk: Desk) -> None:
    saved = log_electrical_test(desk, "P0", "G1", {**FIGURES, **table})
    assert saved.result == "failed"
    assert standing(desk, "G1")[0] == ("withdrawn" if "breakdown" in table else "on-hold")


def test_two_failed_tests_of_one_day_are_both_on_record(desk: Desk, refused: Refused, clock: FixedClock) -> None:
    first, second = {**FIGURES, "left_ma": 17}, {**FIGURES, "left_ma": 19, "lab": "Northgate Test House"}
    log_electrical_test(desk, "P0", "G1", first)
    log_electrical_test(desk, "P0", "G1", second)
    assert refused(lambda: log_electrical_test(desk, "P0", "G1", second)).key == "entry.twice"
    clock.moment += timedelta(hours=1)
    assert refused(lambda: log_electrical_test(desk, "P0", "G1", first)).key == "entry.twice"
    for number in ("1", "2"):
        log_electrical_test(desk, "P0", "G1", {"result": "failed", "certificate": number})
    assert standing(desk, "G1")[0] == "on-hold"


def test_a_later_pass_alone_releases_nothing(desk: Desk, refused: Refused) -> None:
    log_electrical_test(desk, "P0", "G1", {**FIGURES, "left_ma": 17})
    assert refused(lambda: release_piece(desk, "P9", ["G1"])).key == "release.no-evidence"
    log_electrical_test(desk, "P0", "G1", {**FIGURES, "on": DAY - timedelta(days=1)})
    assert standing(desk, "G1") == ("on-hold", date(2026, 9, 1))
    release_piece(desk, "P0", ["G1"])
    assert standing(desk, "G1")[0] == "ready"


def test_on_the_day_of_the_failure_the_pass_has_to_name_it(desk: Desk, refused: Refused) -> None:
    log_electrical_test(desk, "P0", "G1", {**FIGURES, "on": DAY, "left_ma": 17})
    log_electrical_test(desk, "P0", "G1", {**FIGURES, "on": DAY})
    assert refused(lambda: release_piece(desk, "P9", ["G1"])).key == "release.no-evidence"
    log_electrical_test(desk, "P0", "G1", {**FIGURES, "on": DAY, "after": "failed"})
    release_piece(desk, "P9", ["G1"])
    assert standing(desk, "G1") == ("ready", date(2026, 9, 2))


def test_a_breakdown_that_comes_to_light_while_the_pair_is_out_does_not_keep_it_out(desk: Desk) -> None:
    issue_kit(desk, "P0", question())
    log_electrical_test(desk, "P0", "G1", {**FIGURES, "breakdown": True})
    assert standing(desk, "G1")[0] == "withdrawn"
    return_kit(desk, "P0", KIT, {})
    assert desk.ask(out.out_now) == {}
    assert standing(desk, "G1")[0] == "withdrawn"


def test_what_was_withdrawn_in_somebodys_keeping_comes_back(desk: Desk, refused: Refused) -> None:
    hand_over(desk, "P0", ["L1"], "P1")
    withdraw_piece(desk, "P0", ["L1"], "worn")
    return_kit(desk, "P0", ["L1"], {})
    assert refused(lambda: return_kit(desk, "P0", ["L1"], {})).key == "return.not-out"


def test_a_hand_without_current_is_recorded_and_does_not_count(desk: Desk) -> None:
    before = standing(desk, "G1")
    saved = log_electrical_test(desk, "P0", "G1", {**FIGURES, "left_ma": 0})
    assert saved.result == "does-not-count"
    assert [one.key for one in saved.told] == ["test.no-current"]
    assert standing(desk, "G1") == before


def test_a_failed_hand_beside_one_without_current_is_never_refused_at_the_door(desk: Desk) -> None:
    saved = log_electrical_test(desk, "P0", "G1", {**FIGURES, "left_ma": 0, "right_ma": 17})
    assert saved.result == "failed"
    assert standing(desk, "G1")[0] == "on-hold"


def test_a_figure_of_nought_is_a_figure(desk: Desk) -> None:
    of_dc = {key: value for key, value in FIGURES.items() if key != "frequency_hz"}
    log_electrical_test(
        desk, "P0", "G1", {**of_dc, "kind_of_current": "dc", "test_v": 20_000, "left_ma": 0, "right_ma": 0}
    )
    kept = desk.ask(lambda connection: pieces(connection, ["G1"]))["G1"].entries[-1].record
    assert (getattr(kept, "left_ua", None), getattr(kept, "right_ua", None)) == (0, 0)
    assert standing(desk, "G1")[1] == date(2026, 8, 28)
