"""Journeys in the due list, on the real window and a real file."""

from __future__ import annotations

import csv
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from app.usecases.add_crib import add_crib
from app.usecases.add_piece import add_piece
from app.usecases.hand_over import hand_over
from app.usecases.hold_piece import hold_piece
from app.usecases.transfer_pieces import transfer_pieces
from app.window.places.due.strip_column import strip_scene
from app.window.places.due.view import STRIP
from tests.build import world
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


def exported(path: Path) -> list[list[str]]:
    with path.open(encoding="utf-8-sig", newline="") as handle:
        return list(csv.reader(handle))


def listed(drive: Drive) -> list[list[str]]:
    """What stands on the screen, the drawn column aside."""
    model = drive.screen.model
    columns = [number for number in range(model.columnCount()) if number != STRIP]
    heads = [[str(model.headerData(number, Qt.Orientation.Horizontal)) for number in columns]]
    return heads + [[str(model.index(row, one).data()) for one in columns] for row in range(model.rowCount())]


def test_an_officer_sees_what_is_overdue_filters_to_a_crib_and_exports_exactly_that(
    later: Drive, register: Path, tmp_path: Path
) -> None:
    desk = desk_on(register)
    add_crib(desk, "P0", "Bus hall crib")
    gloves = next(one for one in world()["pieces"] if one["code"] == "G1")
    add_piece(desk, "P0", {**gloves, "code": "G2"}, "main")
    transfer_pieces(desk, "P0", ["G1"], "Bus hall crib")
    desk.store.close()
    later.window._look_for_midnight()
    later.go("due")
    screen = later.screen
    everywhere = int(screen.tabs["overdue"].text().split("\n")[0])
    assert everywhere == 2
    assert [row.code for row in screen.model.shown()] == ["G1", "G2"]
    assert screen.tabs["overdue"].accessibleName() == f"overdue: {everywhere}"
    later.type_in(screen.crib, "Bus hall crib")
    assert [row.code for row in screen.model.shown()] == ["G1"]
    assert "1 of 7 pieces listed: last good day has passed. Crib Bus hall crib." in screen.listed.text()
    target = tmp_path / "due.csv"
    later.ask.files.append(target)
    later.click(screen.export)
    told = listed(later)
    assert [row[: len(told[0])] for row in exported(target)] == told
    assert exported(target)[0][len(told[0]) :] == ["Class", "Size", "Last electrical test", "Laboratory", "Certificate"]
    assert exported(target)[1][len(told[0]) :][:3] == ["0", "10", "2026-01-15"]
    assert exported(target)[1][0] == "G1"
    about = (tmp_path / "due.about.txt").read_text(encoding="utf-8")
    assert "due.csv: 1 row." in about
    assert "last good day has passed. Crib Bus hall crib." in about
    assert "Statuses of 2027-06-01." in about
    assert str(register) in about
    assert "main " in about, "the anchor"
    assert str(tmp_path / "due.about.txt") in later.line
    assert len(exported(target)[1][4]) > 20, "the reason"
    assert "1 row written" in later.line
    assert "main" in later.line
    assert "Bus hall crib " in later.line


def test_a_file_that_cannot_be_written_is_said_and_nothing_half_written_is_left(later: Drive, tmp_path: Path) -> None:
    later.go("due")
    screen = later.screen
    there = tmp_path / "a file"
    there.write_text("no folder", encoding="utf-8")
    later.ask.files.append(there / "due.csv")
    later.click(screen.export)
    assert str(there / "due.csv") in later.line
    assert "rows written" not in later.line
    assert [one.name for one in tmp_path.iterdir() if "due" in one.name or "part" in one.name] == []
    assert screen.export.isEnabled()


def test_groups_are_counted_and_a_piece_may_stand_in_two(later: Drive) -> None:
    later.go("due")
    screen = later.screen
    later.click(screen.tabs["on-hold"])
    assert [row.code for row in screen.model.shown()] == ["K1"]
    assert screen.tabs["on-hold"].text() == "1\non hold"
    later.click(screen.tabs["every"])
    assert screen.model.rowCount() == 6
    assert "6 of 6 pieces listed: all kit" in screen.listed.text()


def test_what_somebody_has_is_away_and_the_line_says_who(drive: Drive, register: Path) -> None:
    desk = desk_on(register)
    hand_over(desk, "P0", ["U1"], "P1")
    desk.store.close()
    drive.go("due")
    screen = drive.screen
    drive.click(screen.tabs["away"])
    assert [row.code for row in screen.model.shown()] == ["U1"]
    screen.show_code("U1")
    assert "with P1" in screen.about.text()


def test_within_takes_other_days_than_the_sites_refuses_rubbish_and_goes_back_to_the_sites(drive: Drive) -> None:
    drive.go("due")
    screen = drive.screen
    drive.click(screen.tabs["soon"])
    assert "within 30 days, the site's warning days" in screen.listed.text()
    few = screen.model.rowCount()
    drive.type_in(screen.days, "3650")
    many = screen.model.rowCount()
    assert many > few
    assert "within 3650 days." in screen.listed.text()
    drive.type_in(screen.days, "soon")
    assert "not a number" in screen.days.complaint()
    assert screen.model.rowCount() == many
    screen.days.line.clear()
    assert screen.model.rowCount() == few
    assert "within 30 days, the site's warning days" in screen.listed.text()


def test_what_is_typed_narrows_and_is_said(drive: Drive) -> None:
    drive.go("due")
    screen = drive.screen
    drive.click(screen.tabs["every"])
    screen.line.setText("gloves")
    assert [row.code for row in screen.model.shown()] == ["G1"]
    assert 'With "gloves".' in screen.listed.text()


@pytest.mark.parametrize("by", ["button", "enter", "double click"])
def test_a_row_leads_to_its_card(by: str, drive: Drive) -> None:
    drive.go("due")
    screen = drive.screen
    drive.click(screen.tabs["every"])
    drive.scan("L1")
    assert screen.table.selectionModel().hasSelection()
    if by == "button":
        drive.click(screen.open)
    elif by == "enter":
        screen.table.setFocus()
        drive.press(Qt.Key.Key_Return, screen.table)
    else:
        place = screen.table.visualRect(screen.model.index(screen.model.place_of("L1"), 0)).center()
        QTest.mouseClick(screen.table.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(place))
        QTest.mouseDClick(screen.table.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(place))
        drive.settle()
    assert drive.main.place == "shelf"
    assert drive.screen.codes() == ["L1"]


def test_the_months_ahead_are_drawn_and_said(later: Drive) -> None:
    later.go("due")
    screen = later.screen
    screen.months.setChecked(True)
    assert screen.picture.isVisible()
    count = screen.tabs["overdue"].text().split("\n")[0]
    assert f"overdue: {count}, 2027-06: " in screen.picture.accessibleDescription()
    screen.months.setChecked(False)
    assert not screen.picture.isVisible()


def test_the_strip_shows_an_overdue_piece_as_such_and_says_its_day_in_words_too(later: Drive) -> None:
    later.go("due")
    screen = later.screen
    row = next(one for one in screen.model.shown() if one.code == "G1")
    scene = strip_scene(row.row.status, 30, "light", 210.0, 30.0)
    assert scene.parts("overdue")
    assert scene.parts("today")
    assert screen.model.index(screen.model.place_of("G1"), STRIP).data() == row.row.status.due_on.isoformat()


def test_an_empty_register_says_so_and_offers_nothing_to_export(
    tmp_path: Path, clock: FixedClock, drives: Callable[[Path | None], Drive]
) -> None:
    path = tmp_path / "empty.cuffdate"
    desk_on(path, clock).store.close()
    drive = drives(path)
    drive.go("due")
    assert "no kit yet" in drive.said()
    assert not drive.screen.export.isEnabled()
    assert drive.screen.tabs["overdue"].text() == "0\noverdue"
    drive.screen.months.setChecked(True)
    assert not drive.screen.picture.isVisible()


def test_a_new_look_keeps_the_chosen_row(drive: Drive) -> None:
    drive.go("due")
    drive.click(drive.screen.tabs["every"])
    drive.screen.show_code("B1")
    drive.screen.moved(frozenset({"*"}))
    drive.settle()
    assert "B1" in drive.screen.about.text()


def test_a_scan_of_what_is_not_listed_says_why_and_offers_its_card(later: Drive) -> None:
    later.go("due")
    assert later.screen.model.place_of("B1") < 0
    later.scan("B1")
    assert later.line.startswith('B1 is not listed under "overdue". ')
    assert later.screen.state.group == "overdue"
    offered = next(one for one in later.window.strip.findChildren(QPushButton) if one.text() == "Show its card")
    later.click(offered)
    assert later.main.place == "shelf"
    assert later.screen.codes() == ["B1"]


def test_in_a_low_window_the_months_wait_and_nothing_is_cut(later: Drive) -> None:
    later.main.resize(1024, 640)
    later.settle()
    later.go("due")
    screen = later.screen
    assert not screen.months.isChecked()
    assert screen.table.viewport().height() >= 5 * screen.table.rowHeight(0)
    later.click(screen.months)
    assert screen.picture.isVisible()
    assert not screen.table.isVisible()
    for tab in screen.tabs.values():
        assert tab.height() >= 2 * tab.fontMetrics().lineSpacing() + 8
    later.main.resize(1240, 800)
    later.settle()
    assert screen.table.isVisible()
    assert screen.table.viewport().height() >= 5 * screen.table.rowHeight(0)


def test_the_strips_heading_explains_its_marks(drive: Drive) -> None:
    drive.go("due")
    said = drive.screen.model.headerData(STRIP, Qt.Orientation.Horizontal, Qt.ItemDataRole.ToolTipRole)
    for word in ("Upright line: today", "warning days", "Diamond"):
        assert word in said
