"""Bringing a depot file and a sheet into the register that is open, from the menu."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from app.compose import begin
from app.usecases.about_here import about_here
from app.usecases.begin_register import Beginning
from app.usecases.look_at_shelf import look_at_shelf
from app.window.loading import Loading
from tests.drive import Drive
from tests.fakes import desk_on

DEPOT = """
[[people]]
code = "P2"
role_words = "bus technician"
scopes = ["isolate"]
glove_sizes = [9.5]
valid_until = 2027-01-31

[[systems]]
code = "BUS-9"
name = "Bus, 9"

[[systems.circuits]]
key = "traction"
supply = "isolated-dc"
plate_max_v = 700
"""
SHEET = "Asset No;Description;Class\nG77;rubber insulating gloves;0\nG78;rubber insulating gloves;0\n;no code;0\n"


@pytest.fixture
def empty(tmp_path: Path, drives: Callable[[Path | None], Drive]) -> Drive:
    path = tmp_path / "new.cuffdate"
    begin(path, Beginning(by="P01", rule_set="us-osha-137", crib="A"))
    made = drives(path)
    made.enter_as("P01")
    return made


def bring(drive: Drive, what: str, file: Path) -> None:
    drive.ask.files.append(file)
    getattr(Loading(drive.window.shell), what)()
    drive.settle()


def test_a_register_begun_empty_gets_its_people_and_systems_without_a_terminal(empty: Drive, tmp_path: Path) -> None:
    file = tmp_path / "depot.toml"
    file.write_text(DEPOT, encoding="utf-8")
    empty.ask.answers.append(("load", ""))
    bring(empty, "depot", file)
    assert "entries made" in empty.line
    assert "P2" in empty.window.here.people
    empty.go("counter")
    empty.scan("P2")
    empty.scan("BUS-9")
    assert (empty.screen.give.state.who, empty.screen.give.state.system) == ("P2", "BUS-9")


def test_nothing_is_entered_unless_it_is_said(empty: Drive, tmp_path: Path) -> None:
    file = tmp_path / "depot.toml"
    file.write_text(DEPOT, encoding="utf-8")
    empty.ask.answers.append(("", ""))
    bring(empty, "depot", file)
    desk = desk_on(empty.window.doors.path or tmp_path)
    assert list(about_here(desk).people) == ["P01"]
    desk.store.close()


def test_a_file_that_is_none_is_said_and_nothing_is_asked(empty: Drive, tmp_path: Path) -> None:
    file = tmp_path / "depot.toml"
    file.write_text("people = 3", encoding="utf-8")
    bring(empty, "depot", file)
    assert empty.ask.asked == []
    assert "depot.toml" in empty.line or "people" in empty.line


def test_a_sheet_is_loaded_once_and_a_second_time_brings_only_what_is_new(empty: Drive, tmp_path: Path) -> None:
    file = tmp_path / "kit.csv"
    file.write_text(SHEET, encoding="utf-8")
    empty.ask.answers.append(("load", ""))
    bring(empty, "sheet", file)
    assert "Load 2" in empty.ask.asked[-1].choices[0][1]
    assert "left" in empty.line
    assert (tmp_path / "kit.left-out.csv").exists()
    file.write_text(SHEET + "G79;rubber insulating gloves;0\n", encoding="utf-8")
    empty.ask.answers.append(("load", ""))
    bring(empty, "sheet", file)
    asked = empty.ask.asked[-1]
    assert "Load 1" in asked.choices[0][1]
    assert any("2 of them are in the register already" in line for line in asked.lines)
    desk = desk_on(empty.window.doors.path or tmp_path)
    assert [row.code for row in look_at_shelf(desk).rows] == ["G77", "G78", "G79"]
    desk.store.close()


def test_nobody_chosen_is_asked_for_before_a_file_is_chosen(drive: Drive) -> None:
    Loading(drive.window.shell).depot()
    drive.settle()
    assert "Entries by" in drive.line
    assert drive.ask.asked == []
