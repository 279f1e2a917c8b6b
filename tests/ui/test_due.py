"""Journeys in the due list, on the real window and a real file."""

from __future__ import annotations

import csv
from datetime import date
from pathlib import Path

import pytest

from app.ui.screens.due.state import DueState
from app.usecases.hold_piece import hold_piece
from tests.drive import Drive
from tests.fakes import FixedClock, desk_on


@pytest.fixture
def later(drive: Drive, register: Path, clock: FixedClock) -> Drive:
    """Half a year on: what was tested in spring is past, and one piece is held."""
    desk = desk_on(register)
    hold_piece(desk, "P0", ["K1"], "suspect")
    desk.store.close()
    clock.at(date(2027, 6, 1))
    drive.window._look_for_midnight()
    drive.settle()
    return drive


def test_an_officer_sees_what_is_overdue_and_exports_exactly_that(later: Drive, tmp_path: Path) -> None:
    later.go("due")
    screen = later.screen
    assert "overdue: " in screen.tabs["overdue"].text()
    assert screen.model.rowCount() >= 1
    shown = [row.code for row in screen.model.shown()]
    assert "G1" in shown
    target = tmp_path / "due.csv"
    later.ask.files.append(target)
    later.click(screen.export)
    with target.open(encoding="utf-8-sig", newline="") as handle:
        rows = list(csv.reader(handle))
    assert [row[0] for row in rows[1:]] == shown
    assert f"{len(shown)} rows" in later.line
    assert "main" in later.line


def test_groups_are_counted_and_a_piece_may_stand_in_two(later: Drive) -> None:
    later.go("due")
    screen = later.screen
    later.click(screen.tabs["held"])
    assert [row.code for row in screen.model.shown()] == ["K1"]
    assert "held: 1" in screen.tabs["held"].text()
    later.click(screen.tabs["every"])
    assert screen.model.rowCount() == 6
    assert "6 of 6 pieces listed: all kit." in screen.listed.text()


def test_within_takes_other_days_than_the_sites_and_refuses_rubbish(drive: Drive) -> None:
    drive.go("due")
    screen = drive.screen
    drive.click(screen.tabs["soon"])
    assert "Due within 30 days" in screen.listed.text()
    few = screen.model.rowCount()
    drive.type_in(screen.days, "3650")
    assert screen.model.rowCount() > few
    assert "Due within 3650 days" in screen.listed.text()
    drive.type_in(screen.days, "soon")
    assert "no figure" in screen.days.complaint()
    assert "Due within 3650 days" in screen.listed.text()


def test_what_is_typed_narrows_and_is_said(drive: Drive) -> None:
    drive.go("due")
    screen = drive.screen
    drive.click(screen.tabs["every"])
    screen.line.setText("gloves")
    assert [row.code for row in screen.model.shown()] == ["G1"]
    assert 'With "gloves".' in screen.listed.text()


def test_enter_on_a_row_goes_to_its_card(drive: Drive) -> None:
    drive.go("due")
    drive.scan("L1")
    drive.click(drive.screen.open)
    assert drive.main.place == "shelf"
    assert drive.screen.codes() == ["L1"]


def test_the_months_ahead_are_drawn_and_said(later: Drive) -> None:
    later.go("due")
    later.screen.months.setChecked(True)
    assert later.screen.picture.isVisible()
    assert "past: " in later.screen.picture.accessibleDescription()
    later.screen.months.setChecked(False)
    assert not later.screen.picture.isVisible()


def test_an_empty_register_says_so() -> None:
    assert "no kit yet" in DueState().listed(0, 0)
