"""Two singles become a pair: older T, earlier F, and nothing that spoke against either is left behind."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from app.decision.domain.piece import FirstIssue
from app.decision.domain.record import ElectricalTest
from app.decision.judging.answers import DueQuestion
from app.register.reads.lines import lines_about
from app.register.reads.pieces import pieces
from app.usecases.add_crib import add_crib
from app.usecases.add_piece import add_piece
from app.usecases.correct_entry import correct_entry
from app.usecases.desk import Desk
from app.usecases.enter_taken import enter_taken
from app.usecases.hold_piece import hold_piece
from app.usecases.list_shelf import list_shelf
from app.usecases.log_check import log_check
from app.usecases.make_pair import make_pair
from app.usecases.transfer_pieces import transfer_pieces
from app.usecases.withdraw_piece import withdraw_piece
from tests.build import gloves
from tests.usecases.conftest import Refused

OLDER, NEWER = date(2025, 12, 10), date(2026, 1, 10)
EARLY, LATE = date(2025, 7, 1), date(2025, 8, 1)


def a_test(day: date, result: str = "passed", **more: object) -> dict[str, object]:
    return {"what": "electrical-test", "on": day, "result": result, "kind_of_current": "dc", **more}


def single(code: str, hand: str, first: object = EARLY, *tests: dict[str, object], **more: object) -> dict[str, object]:
    return {**gloves(code), "hand": hand, "first_issue": first, "records": list(tests) or [a_test(OLDER)], **more}


def state(desk: Desk, code: str) -> str:
    return list_shelf(desk, DueQuestion(desk.today(), None, (code,))).rows[0].status.state


def two(desk: Desk, **right: object) -> None:
    add_piece(desk, "P0", single("A1", "left"))
    add_piece(desk, "P0", {**single("A2", "right"), **right})


@pytest.mark.parametrize(
    ("left", "right", "first"),
    [(EARLY, LATE, "2025-07-01"), (LATE, EARLY, "2025-07-01"), ("never", LATE, "2025-08-01"), ("never", "never", "never"),
     ("unknown", EARLY, "unknown"), ("never", "unknown", "unknown")],
)  # fmt: skip
def test_the_earlier_first_issue_counts(left: FirstIssue, right: FirstIssue, first: str, desk: Desk) -> None:
    add_piece(desk, "P0", single("A1", "left", left))
    add_piece(desk, "P0", single("A2", "right", right))
    make_pair(desk, "P0", "A1", "A2", "A9")
    assert str(desk.ask(lambda connection: pieces(connection, ["A9"]))["A9"].piece.first_issue) == first


@pytest.mark.parametrize(("left", "right"), [(OLDER, NEWER), (NEWER, OLDER)])
def test_the_older_test_counts_and_the_last_of_each_hand(left: date, right: date, desk: Desk) -> None:
    long_ago = a_test(date(2024, 1, 1))
    add_piece(desk, "P0", single("A1", "left", EARLY, long_ago, a_test(left)))
    add_piece(desk, "P0", single("A2", "right", EARLY, long_ago, a_test(right)))
    make_pair(desk, "P0", "A1", "A2", "A9")
    row = list_shelf(desk, DueQuestion(desk.today(), None, ("A9",))).rows[0].status
    assert row.due_on == date(2026, 6, 10)
    assert row.state == "inspect-today"


def test_a_pair_of_two_batches_is_of_both(desk: Desk) -> None:
    add_piece(desk, "P0", single("A1", "left", batch="lot 7"))
    add_piece(desk, "P0", single("A2", "right", batch="lot 8"))
    make_pair(desk, "P0", "A1", "A2", "A9")
    assert desk.ask(lambda connection: pieces(connection, ["A9"]))["A9"].piece.batch == "lot 7, lot 8"


def test_both_singles_say_where_they_went(desk: Desk) -> None:
    two(desk)
    make_pair(desk, "P0", "A1", "A2", "A9")
    for code in ("A1", "A2"):
        last = desk.ask(lambda connection, code=code: lines_about(connection, code))[-1]  # type: ignore[misc]
        assert (last.content["what"], last.content["reason"]) == ("withdrawal", "paired anew as A9")


@pytest.mark.parametrize(
    ("right", "thing"),
    [({"size": 9}, "size_c"), ({"class": "1"}, "insulation_class"), ({"type": "II"}, "type"),
     ({"length_mm": 410}, "length_um"), ({"material": "synthetic"}, "material"), ({"class_system": "gb"}, "class_system"),
     ({"maker_interval_months": 3}, "maker_interval_months"), ({"categories": ["Z"]}, "categories")],
)  # fmt: skip
def test_not_alike_is_no_pair(right: dict[str, object], thing: str, desk: Desk, refused: Refused) -> None:
    two(desk, **right)
    told = refused(lambda: make_pair(desk, "P0", "A1", "A2", "A9"))
    assert (told.key, told.thing) == ("pair.not-alike", thing)


def figures(day: date, hand: str, ma: float, **more: object) -> dict[str, object]:
    shared = {"test_v": 5000, "kind_of_current": "ac", "frequency_hz": 60, "dwell_s": 60, "certificate": f"C-{hand}"}
    return {"what": "electrical-test", "on": day, "evidence": "figures", **shared, f"{hand}_ma": ma, **more}


def test_singles_tested_by_figures_make_a_pair_with_the_current_of_each_hand(desk: Desk) -> None:
    add_piece(desk, "P0", single("A1", "left", EARLY, figures(OLDER, "left", 7.1)))
    add_piece(desk, "P0", single("A2", "right", EARLY, figures(NEWER, "right", 8.2, test_v=5100)))
    make_pair(desk, "P0", "A1", "A2", "A9")
    test = desk.ask(lambda connection: pieces(connection, ["A9"]))["A9"].piece.records[0]
    assert isinstance(test, ElectricalTest)
    assert (str(test.on), test.left_ua, test.right_ua, test.test_v) == (str(OLDER), 7_100, 8_200, 5000)
    assert (test.evidence, test.certificate) == ("figures", "C-left")
    row = list_shelf(desk, DueQuestion(desk.today(), None, ("A9",))).rows[0].status
    assert (row.state, row.due_on) == ("inspect-today", date(2026, 6, 10))


@pytest.mark.parametrize(
    "more", [{"frequency_hz": 50}, {"occasion": "acceptance", "dwell_s": 180, "soaked": True}], ids=str
)
def test_figures_of_two_sorts_are_not_put_into_one_and_stand_as_judged(more: dict[str, object], desk: Desk) -> None:
    add_piece(desk, "P0", single("A1", "left", EARLY, figures(OLDER, "left", 7.1)))
    add_piece(desk, "P0", single("A2", "right", EARLY, figures(NEWER, "right", 8.2, **more)))
    make_pair(desk, "P0", "A1", "A2", "A9")
    test = desk.ask(lambda connection: pieces(connection, ["A9"]))["A9"].piece.records[0]
    assert isinstance(test, ElectricalTest)
    assert (test.evidence, test.result, test.left_ua, test.right_ua) == (None, "passed", 7_100, None)
    assert list_shelf(desk, DueQuestion(desk.today(), None, ("A9",))).rows[0].status.due_on == date(2026, 6, 10)


def test_a_single_without_the_current_of_its_own_hand_is_no_tested_glove(desk: Desk, refused: Refused) -> None:
    add_piece(desk, "P0", single("A1", "left", EARLY, figures(OLDER, "left", 7.1)))
    add_piece(desk, "P0", single("A2", "right", EARLY, figures(NEWER, "left", 7.1)))
    told = refused(lambda: make_pair(desk, "P0", "A1", "A2", "A9"))
    assert (told.key, told.thing) == ("pair.not-tested", "A2")


@pytest.mark.parametrize(
    ("tests", "key"),
    [
        ((a_test(OLDER), a_test(NEWER, "failed")), "pair.not-sound"),
        ((a_test(OLDER, "failed"),), "pair.not-sound"),
        ((a_test(OLDER, breakdown=True), a_test(NEWER)), "entry.withdrawn"),
        ((a_test(OLDER, evidence="sheet-only"),), "pair.not-tested"),
        (({**a_test(OLDER), "evidence": "figures", "test_v": 100},), "pair.not-tested"),
    ],
    ids=str,
)  # fmt: skip
def test_a_failure_is_not_left_behind_with_the_single(
    tests: tuple[dict[str, object], ...], key: str, desk: Desk, refused: Refused
) -> None:
    """What was loaded with a glove has no hold of its own, and counts all the same."""
    two(desk, records=list(tests))
    told = refused(lambda: make_pair(desk, "P0", "A1", "A2", "A9"))
    assert (told.key, told.thing) == (key, "A2")


def test_nor_a_hold_an_event_a_withdrawal_or_a_glove_that_is_not_here(desk: Desk, refused: Refused) -> None:
    acts: list[tuple[str, Callable[[str], object]]] = [
        ("pair.not-sound", lambda code: hold_piece(desk, "P0", [code], "recall")),
        ("pair.not-sound", lambda code: log_check(desk, "P0", "event", code, {"kind": "dropped"})),
        ("entry.withdrawn", lambda code: withdraw_piece(desk, "P0", [code], "worn")),
        ("piece.out", lambda code: enter_taken(desk, "P0", [code], "P1")),
    ]
    for number, (key, does) in enumerate(acts):
        left, right = f"LEFT{number}", f"RIGHT{number}"
        add_piece(desk, "P0", single(left, "left"))
        add_piece(desk, "P0", single(right, "right"))
        does(right)
        told = refused(lambda left=left, right=right: make_pair(desk, "P0", left, right, "A9"))  # type: ignore[misc]
        assert told.key == key


def test_nor_a_glove_of_another_crib_or_one_glove_twice(desk: Desk, refused: Refused) -> None:
    two(desk)
    assert refused(lambda: make_pair(desk, "P0", "A1", "A1", "A9")).key == "pair.not-single"
    assert refused(lambda: make_pair(desk, "P0", "G1", "A2", "A9")).key == "pair.not-single"
    told = refused(lambda: make_pair(desk, "P0", "A1", "A22", "A9"))
    assert (told.key, told.values["nearest"]) == ("store.unknown-piece", "A2")
    add_crib(desk, "P0", "other")
    transfer_pieces(desk, "P0", ["A2"], "other")
    told = refused(lambda: make_pair(desk, "P0", "A1", "A2", "A9"))
    assert (told.key, told.thing) == ("pair.not-alike", "crib")


def test_a_single_that_is_in_a_pair_is_not_brought_back(desk: Desk, refused: Refused) -> None:
    two(desk)
    names = make_pair(desk, "P0", "A1", "A2", "A9").entries[-2:]
    for name in names:
        told = refused(lambda name=name: correct_entry(desk, "P9", str(name), "not these two"))  # type: ignore[misc]
        assert (told.key, told.values["other"]) == ("correct.paired", "A9")
    # A withdrawal that says the same in words and made no pair is struck like any other.
    alone = withdraw_piece(desk, "P0", ["G1"], "paired anew as A9").entries[0]
    correct_entry(desk, "P9", str(alone), "another pair")
    assert state(desk, "G1") == "on-hold"
