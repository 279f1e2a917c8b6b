"""The first run: the demo, a register of one's own, one there is; with wrong input at every step."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from app.compose import demo_folder
from app.domain.errors import BadInput
from app.ui.screens.start.view import StartScreen
from app.usecases.begin_register import Beginning
from app.usecases.look_at_shelf import look_at_shelf
from tests.drive import Drive
from tests.fakes import desk_on


@pytest.fixture
def first(drives: Callable[[Path | None], Drive]) -> Drive:
    return drives(None)


def start(drive: Drive) -> StartScreen:
    found = drive.main.stack.currentWidget()
    assert isinstance(found, StartScreen)
    return found


def filled_in(drive: Drive, folder: Path, name: str = "quarry") -> StartScreen:
    screen = start(drive)
    drive.click(screen.own)
    begin = screen.begin
    drive.ask.files.append(folder)
    begin._choose_folder()
    for field, text in (
        (begin.file, name), (begin.code, "P01"), (begin.name, "Keeper One"), (begin.role, "keeper"),
        (begin.rule_set, "us-osha-137"), (begin.crib, "Workshop crib"),
    ):  # fmt: skip
        drive.type_in(field, text)
    return screen


def test_nothing_can_be_done_before_a_register_is_open_and_three_ways_are_shown(first: Drive) -> None:
    screen = start(first)
    assert not any(one.isEnabled() for one in first.main.buttons.values())
    assert [one.isVisible() for one in (screen.demo, screen.own, screen.other)] == [True] * 3
    first.scan("G1")
    assert "nothing can be done" in first.line
    assert not first.window.bar.isVisible()


def test_a_keeper_starts_empty_and_lands_at_the_counter(first: Drive, tmp_path: Path) -> None:
    screen = filled_in(first, tmp_path)
    assert "An empty shelf; crib Workshop crib." in screen.begin.review.text()
    first.click(screen.begin.make)
    first.until(lambda: first.main.place == "counter")
    first.settle()
    path = tmp_path / "quarry.cuffdate"
    assert first.window.doors.path == path
    assert "P01" in "".join(first.window.here.people)
    desk = desk_on(path)
    assert look_at_shelf(desk).total == 0
    desk.store.close()
    assert list(tmp_path.glob("*.part")) == []


def test_a_keeper_loads_a_sheet_after_a_look_at_it(first: Drive, tmp_path: Path) -> None:
    sheet = tmp_path / "shelf.xlsx"
    sheet.write_bytes((demo_folder() / "shelf.xlsx").read_bytes())
    screen = filled_in(first, tmp_path)
    begin = screen.begin
    first.ask.files.append(sheet)
    first.click(begin.sheet)
    assert "rows can be loaded" in begin.read.text()
    assert "Rows that cannot be loaded" in begin.bad.text()
    assert not begin.make.isEnabled()
    assert "rows" in begin.missing.text()
    begin.leave_out.setChecked(True)
    assert begin.make.isEnabled()
    assert begin.seen.count() > 3
    assert begin.state.seen == ()
    begin.seen.item(0).setCheckState(Qt.CheckState.Checked)
    code = begin.seen.item(0).text()
    assert "1 certificates seen" in begin.review.text()
    first.click(begin.make)
    first.until(lambda: first.main.place == "counter")
    first.settle()
    assert (tmp_path / "shelf.left-out.csv").exists() or list(tmp_path.glob("shelf.left-out*"))
    desk = desk_on(tmp_path / "quarry.cuffdate")
    rows = {row.code: row.row.standing.state for row in look_at_shelf(desk).rows}
    desk.store.close()
    assert len(rows) > 100
    assert rows[code] != "certificate-not-seen"
    assert "certificate-not-seen" in rows.values()


def test_people_and_systems_come_from_a_depot_file(first: Drive, tmp_path: Path) -> None:
    screen = filled_in(first, tmp_path)
    depot = tmp_path / "depot.toml"
    text = (demo_folder() / "depot.toml").read_text(encoding="utf-8")
    depot.write_text(text, encoding="utf-8")
    first.ask.files.append(depot)
    first.click(screen.begin.depot)
    assert "systems" in screen.begin.depot_read.text()
    first.click(screen.begin.make)
    first.until(lambda: first.main.place == "counter")
    first.settle()
    assert len(first.screen.give.state.systems) > 3
    assert len(first.window.here.people) > 5


def test_what_is_missing_is_said_and_nothing_can_be_made(first: Drive) -> None:
    screen = start(first)
    first.click(screen.own)
    said = screen.begin.missing.text()
    for what in ("the name of the register", "your code", "the rule set", "the crib"):
        assert what in said
    assert not screen.begin.make.isEnabled()


def test_a_margin_under_the_house_margin_is_refused_here(first: Drive, tmp_path: Path) -> None:
    screen = filled_in(first, tmp_path)
    first.type_in(screen.begin.margin, "5")
    assert not screen.begin.make.isEnabled()
    first.type_in(screen.begin.margin, "20")
    assert screen.begin.make.isEnabled()
    assert "margin: 20 %" in screen.begin.review.text()


def test_the_margin_is_explained_by_a_figure_that_is_worked_out(first: Drive) -> None:
    screen = start(first)
    first.click(screen.own)
    assert "403.2 V" in first.said()
    assert "443.52 V" in first.said()


@pytest.mark.skipif(os.geteuid() == 0, reason="whoever may write anywhere meets no folder that is read-only")
def test_a_folder_nobody_may_write_in_is_said(first: Drive, tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    screen = filled_in(first, tmp_path)
    first.click(screen.begin.make)
    assert str(tmp_path) in first.line
    tmp_path.chmod(0o700)


def test_a_name_that_is_taken_and_a_folder_that_is_none_leave_the_page_as_it_was(first: Drive, tmp_path: Path) -> None:
    (tmp_path / "quarry.cuffdate").write_text("something else", encoding="utf-8")
    screen = filled_in(first, tmp_path)
    first.click(screen.begin.make)
    assert "already" in first.line
    assert (tmp_path / "quarry.cuffdate").read_text(encoding="utf-8") == "something else"
    assert screen.begin.code.value() == "P01"
    screen.begin._take_folder(tmp_path / "quarry.cuffdate")
    first.click(screen.begin.make)
    assert "quarry.cuffdate" in first.line
    assert start(first) is screen
    assert screen.begin.make.isEnabled()


def test_what_is_no_sheet_is_said_and_an_encoding_is_asked_for(first: Drive, tmp_path: Path) -> None:
    screen = filled_in(first, tmp_path)
    pdf = tmp_path / "certificate.xlsx"
    pdf.write_bytes(b"%PDF-1.7 nothing of a sheet")
    first.ask.files.append(pdf)
    first.click(screen.begin.sheet)
    assert "certificate.xlsx" in first.line
    assert screen.begin.state.rows is None
    windows = tmp_path / "sheet.csv"
    windows.write_bytes("Tag;Kind;Class;Place\nG1;Gummihandschuhe \xf6\xfc;0;Tor\n".encode("cp1252"))
    first.ask.files.append(windows)
    first.click(screen.begin.sheet)
    assert screen.begin.encoding.isVisible()
    first.type_in(screen.begin.encoding, "cp1252")
    assert "UTF-8" not in screen.begin.read.text()


def test_a_register_that_is_none_is_said_and_the_choices_stay(first: Drive, tmp_path: Path) -> None:
    other = tmp_path / "letter.cuffdate"
    other.write_text("Dear all", encoding="utf-8")
    first.ask.files.append(other)
    first.click(start(first).other)
    assert "letter.cuffdate" in first.line
    assert start(first).own.isVisible()


def test_begin_from_the_menu_can_be_left_again(drive: Drive) -> None:
    drive.window.begin()
    drive.settle()
    from PySide6.QtWidgets import QPushButton

    back = next(one for one in start(drive).findChildren(QPushButton) if "Back to the register" in one.text())
    drive.click(back)
    assert drive.main.place == "counter"


def test_beginning_refuses_what_a_register_refuses_and_leaves_no_file(tmp_path: Path) -> None:
    from app.compose import begin

    path = tmp_path / "x.cuffdate"
    with pytest.raises(BadInput):
        begin(path, Beginning(by="P01", rule_set="no-such-set", crib="A"))
    with pytest.raises(BadInput):
        begin(path, Beginning(by="P\x0701", rule_set="us-osha-137", crib="A"))
    assert list(tmp_path.iterdir()) == []
