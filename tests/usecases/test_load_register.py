"""A file of the day's checks and a sheet of pieces: all of it or nothing, and nothing twice."""

from __future__ import annotations

from datetime import date, time, timedelta
from typing import Any

import pytest

from app.decision.case.pieces import read_piece
from app.decision.domain.calendar import Day
from app.decision.domain.record import AnyRecord, Inspection
from app.decision.domain.register import Check
from app.decision.judging.answers import DueQuestion
from app.intake.faults import Place
from app.intake.register_sheet import SheetRow
from app.usecases.add_alias import add_alias
from app.usecases.desk import Desk
from app.usecases.list_shelf import list_shelf
from app.usecases.load_register import load_checks, load_depot, load_sheet, taken
from app.usecases.make_bag import make_bag
from app.usecases.withdraw_piece import withdraw_piece
from tests.build import DAY, gloves
from tests.usecases.conftest import Refused

EARLY, LATE = (Inspection(on=Day.of(DAY), at=time(7, minute)) for minute in (30, 40))


def good(code: str, crib: str = "main", **more: Any) -> SheetRow:
    return SheetRow(Place("kit", 2), code, {}, read_piece(gloves(code, **more), ""), crib)


def test_the_days_checks_are_entered_each_once(desk: Desk, refused: Refused) -> None:
    assert len(load_checks(desk, "P0", [Check("L1", EARLY), Check("L1", LATE), Check("B1", EARLY)]).entries) == 3
    again = [Check("K1", EARLY), Check("L1", LATE)]
    told = refused(lambda: load_checks(desk, "P0", again))
    assert (told.key, told.thing) == ("entry.twice", "L1")
    told = refused(lambda: load_checks(desk, "P0", [Check("K1", EARLY), Check("K1", LATE), Check("K1", EARLY)]))
    assert (told.key, told.thing) == ("entry.twice", "K1")


@pytest.mark.parametrize(
    ("piece", "record", "key"),
    [
        ("L11", EARLY, "checks.unknown-piece"), ("L1", Inspection(on=Day.of(DAY + timedelta(days=1))), "entry.ahead"),
        ("K1", EARLY, "entry.withdrawn"),
    ],
)  # fmt: skip
def test_one_check_that_cannot_be_and_none_is_entered(
    piece: str, record: AnyRecord, key: str, desk: Desk, refused: Refused
) -> None:
    withdraw_piece(desk, "P9", ["K1"], "worn")
    assert refused(lambda: load_checks(desk, "P0", [Check("B1", EARLY), Check(piece, record)])).key == key


def test_a_sheet_is_loaded_whole_and_sets_up_its_cribs(desk: Desk, refused: Refused) -> None:
    add_alias(desk, "P0", "0815", "G1")
    assert taken(desk, [good("g1"), good("0815"), good("X1")]) == {"g1": "G1", "0815": "G1"}
    make_bag(desk, "P0", "Öse", ("L1",))
    assert taken(desk, [good("öSE"), good("ÖSE")]) == {"öSE": "Öse", "ÖSE": "Öse"}
    told = refused(lambda: load_sheet(desk, "P0", [good("X1"), good("g1")]))
    assert (told.key, told.thing, told.values["other"]) == ("piece.taken", "g1", "G1")
    ahead = good("X2", first_issue=DAY + timedelta(days=1))
    assert refused(lambda: load_sheet(desk, "P0", [good("X1"), ahead])).key == "entry.ahead"
    load_sheet(desk, "P0", [good("X1"), good("X2", "other")])
    rows = {row.status.piece.code: row for row in list_shelf(desk, DueQuestion(DAY, None, ())).rows}
    assert (rows["X1"].crib, rows["X2"].crib) == ("main", "other")
    assert rows["X2"].status.due_on == date(2026, 7, 15)


def test_one_code_in_two_rows_is_named(desk: Desk, refused: Refused) -> None:
    told = refused(lambda: load_sheet(desk, "P0", [good("X1"), good("x1")]))
    assert (told.key, told.thing, told.values["other"]) == ("load.twice", "x1", "X1")


def test_a_depot_file_is_taken_whole(desk: Desk, refused: Refused) -> None:
    people = [{"code": "P5", "scopes": ["isolate"], "valid_until": date(2026, 12, 31)}]
    loose = {"people": people, "site": {"margin_percent": 5}}
    assert refused(lambda: load_depot(desk, "P0", loose)).key == "rules.looser-without-approver"
    named = {"people": people, "site": {"margin_percent": 5, "approvals": [
        {"key": "margin_percent", "approved_by": "P9", "reason": "stated maxima only"},
    ]}}  # fmt: skip
    assert len(load_depot(desk, "P0", named).entries) == 2
