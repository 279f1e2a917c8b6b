"""Only an act that is one check and nothing else leaves the rest of a piece's standing as it was."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from app.decision.domain.calendar import Day
from app.decision.domain.record import AirTest, Hold, Inspection
from app.decision.judging.answers import DueQuestion
from app.decision.judging.status import Status
from app.register.unit import Unit
from app.usecases.add_crib import add_crib
from app.usecases.books import every_book
from app.usecases.correct_entry import correct_entry
from app.usecases.desk import Desk
from app.usecases.entering import enter, one_piece
from app.usecases.list_shelf import list_shelf
from app.usecases.log_check import log_check
from app.usecases.transfer_pieces import transfer_pieces
from app.usecases.verify_register import verify_register
from tests.build import DAY

AIR = AirTest(on=Day.of(DAY), left="passed", right="passed", inflation_c=120)
Act = Callable[[Unit], object]


def check_and_hold(unit: Unit) -> None:
    kept = one_piece(unit, "G1")
    enter(unit, kept, AIR)
    enter(unit, kept, Hold(on=Day.of(DAY), why="recall"))


def hold_and_check_read_again(unit: Unit) -> None:
    enter(unit, one_piece(unit, "G1"), Hold(on=Day.of(DAY), why="recall"))
    enter(unit, one_piece(unit, "G1"), AIR)


def check_two(unit: Unit) -> None:
    enter(unit, one_piece(unit, "G1"), AIR)
    enter(unit, one_piece(unit, "B1"), Inspection(on=Day.of(DAY), defects=("other",)))


def check_and_touch_another(unit: Unit) -> None:
    unit.connection.exec_driver_sql("UPDATE status SET state = 'held' WHERE piece = 'B1'")
    unit.touch(["B1"])
    enter(unit, one_piece(unit, "G1"), AIR)


@pytest.mark.parametrize("act", [check_and_hold, hold_and_check_read_again, check_two, check_and_touch_another])
def test_more_than_a_check_is_judged_whole(desk: Desk, act: Act) -> None:
    with desk.write("P0", books=every_book) as unit:
        act(unit)
    assert verify_register(desk).damage == ()


def test_a_check_of_a_piece_that_has_moved_is_told_in_its_order(desk: Desk) -> None:
    """What stands in two books is put in the order of its moments, which only reading it again gives."""
    add_crib(desk, "P0", "north")
    transfer_pieces(desk, "P0", ["G1"], "north")
    log_check(desk, "P0", "air-test", "G1", {"left": "passed", "right": "passed", "inflation": 1.2})
    assert verify_register(desk).damage == ()


def test_a_check_put_in_the_place_of_another_takes_it_away(desk: Desk) -> None:
    done = log_check(desk, "P0", "air-test", "G1", {"on": DAY, "left": "passed", "inflation": 1.2})
    better = {"on": DAY, "left": "passed", "right": "passed", "inflation": 1.2}
    correct_entry(desk, "P0", str(done.entries[0]), "the other hand as well", better)
    assert state_of(desk, "G1").state in ("ready", "due-soon")
    assert verify_register(desk).damage == ()


def test_a_clean_check_is_seen_on_the_shelf_at_once(desk: Desk) -> None:
    log_check(desk, "P0", "air-test", "G1", {"left": "passed", "inflation": 1.2})
    one = state_of(desk, "G1")
    assert (one.state, one.why.key) == ("inspect-today", "air-test-done.one-hand")
    log_check(desk, "P0", "air-test", "G1", {"left": "passed", "right": "passed", "inflation": 1.2})
    assert verify_register(desk).damage == ()


def state_of(desk: Desk, code: str) -> Status:
    """As the whole list says it, from kept standings."""
    rows = list_shelf(desk, DueQuestion(desk.today(), None, ())).rows
    return next(row.status for row in rows if row.status.piece.code == code)
