"""Journeys on the shelf, on the real window and a real file, with their mistakes."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from app.usecases.hold_piece import hold_piece
from app.usecases.issue_kit import issue_kit
from app.usecases.show_piece import show_piece
from app.window.form_dialog import FormDialog
from app.window.places.shelf import acts
from app.window.places.shelf.add import AddPiece
from tests.drive import Drive
from tests.fakes import KIT, desk_on, question

Drives = Callable[[Path | None], Drive]


def on_shelf(drive: Drive, *, by: str = "P0") -> None:
    drive.enter_as(by)
    drive.go("shelf")


def state_of(register: Path, code: str) -> str:
    desk = desk_on(register)
    try:
        return show_piece(desk, code).row.status.state
    finally:
        desk.store.close()


def dialog(drive: Drive) -> FormDialog:
    found = drive.dialog()
    assert isinstance(found, FormDialog)
    return found


def test_everything_is_listed_and_what_is_typed_narrows_it(drive: Drive) -> None:
    on_shelf(drive)
    screen = drive.screen
    assert [row.code for row in screen.model.shown()] == sorted(KIT)
    screen.narrowing.line.setText("gloves CLASS nobody")
    assert screen.model.rowCount() == 0
    screen.narrowing.line.setText("GLOVES g1")
    assert [row.code for row in screen.model.shown()] == ["G1"]
    assert '1 of 6 pieces shown, filtered by "GLOVES g1"' in screen.filtered.text()
    screen.narrowing.line.clear()
    screen.narrowing.kind.choose("two-pole-detector")
    assert [row.code for row in screen.model.shown()] == ["D1"]
    assert "two-pole voltage detector" in screen.filtered.text()


def test_a_scan_shows_the_card_with_its_band_ribbon_and_what_its_marks_allow(drive: Drive) -> None:
    on_shelf(drive)
    drive.screen.narrowing.line.setText("nothing like it")
    drive.scan("G1")
    said = drive.said()
    assert "class 0: red band" in said
    assert "up to 1,000 V AC or 1,500 V DC" in said
    assert "Check it yourself before use" in said
    assert drive.screen.codes() == ["G1"]
    drive.scan("D1")
    assert "CAT IV: up to" in drive.said()
    assert "red band" not in drive.said()


def test_what_was_chosen_stays_chosen_when_the_list_is_asked_anew(drive: Drive, register: Path) -> None:
    on_shelf(drive)
    drive.scan("L1")
    other = desk_on(register)
    hold_piece(other, "P0", ["L1"], "suspect")
    other.store.close()
    drive.window.doors.moved.emit(frozenset({"L1"}))
    drive.settle()
    assert drive.screen.codes() == ["L1"]
    assert "on hold" in drive.said()


def test_a_hold_asks_why_and_a_release_names_the_evidence_that_is_missing(drive: Drive, register: Path) -> None:
    on_shelf(drive)
    drive.scan("G1")
    drive.click(drive.screen.acts.keys["hold"])
    made = dialog(drive)
    drive.click(made.do)
    assert made.isVisible()
    drive.type_in(made.fields[0], "suspect")
    drive.click(made.do)
    assert not made.isVisible()
    assert state_of(register, "G1") == "on-hold"
    assert "Saved" in drive.line or "saved" in drive.line
    drive.screen.acts.keys["release"].trigger()
    made = dialog(drive)
    drive.click(made.do)
    assert made.isVisible()
    assert "test" in made.wrong.text()
    assert state_of(register, "G1") == "on-hold"


def test_withdrawing_for_good_wants_words(drive: Drive, register: Path) -> None:
    on_shelf(drive)
    drive.scan("K1")
    made = acts.ask(drive.window.shell, "withdraw", ["K1"])
    drive.click(made.do)
    assert made.isVisible()
    assert state_of(register, "K1") == "ready"
    drive.type_in(made.fields[0], "lock broken")
    drive.click(made.do)
    assert state_of(register, "K1") == "withdrawn"


def test_a_label_and_a_bag_mean_their_pieces_from_then_on(drive: Drive) -> None:
    on_shelf(drive)
    made = acts.ask(drive.window.shell, "alias", ["G1"])
    drive.type_in(made.fields[0], "4006381333931")
    drive.click(made.do)
    made = acts.ask(drive.window.shell, "bag", ["L1", "D1"])
    drive.type_in(made.fields[0], "BAG-7")
    drive.click(made.do)
    drive.go("counter")
    drive.scan("4006381333931")
    drive.scan("BAG-7")
    assert drive.screen.give.state.kit == ["G1", "L1", "D1"]


def test_a_piece_added_by_hand_asks_the_marks_of_its_kind_and_keeps_what_was_typed(drive: Drive) -> None:
    on_shelf(drive)
    drive.screen._add()
    made = drive.dialog()
    assert isinstance(made, AddPiece)
    drive.type_in(made.code, "G1")
    drive.type_in(made.kind, "rubber-gloves")
    assert made.marks["class"].isVisible()
    assert not made.marks["marks"].isVisible()
    drive.type_in(made.marks["class"], "0")
    drive.type_in(made.marks["size"], "9,5")
    drive.click(made.do)
    assert made.isVisible()
    assert "G1" in made.wrong.text()
    assert made.marks["size"].value() is not None
    drive.type_in(made.code, "G9")
    drive.click(made.do)
    assert not made.isVisible()
    drive.settle()
    assert "G9" in [row.code for row in drive.screen.model.shown()]
    assert next(row for row in drive.screen.model.shown() if row.code == "G9").size == "9.5"


def test_marks_of_a_meter_are_read_as_they_are_printed(drive: Drive) -> None:
    on_shelf(drive)
    drive.screen._add()
    made = drive.dialog()
    assert isinstance(made, AddPiece)
    drive.type_in(made.code, "N9")
    drive.type_in(made.kind, "multimeter")
    drive.type_in(made.marks["marks"], "CAT nothing")
    drive.click(made.do)
    assert made.isVisible()
    drive.type_in(made.marks["marks"], "CAT III 1000 V, CAT IV 600 V")
    drive.click(made.do)
    drive.settle()
    drive.scan("N9")
    assert "CAT III: up to 1,000 V" in drive.said()


def test_what_is_listed_is_what_is_exported(drive: Drive, tmp_path: Path) -> None:
    on_shelf(drive)
    screen = drive.screen
    screen.narrowing.line.setText("unit")
    screen.model.sort(0, Qt.SortOrder.DescendingOrder)
    target = tmp_path / "list.csv"
    drive.ask.files.append(target)
    drive.click(screen.export)
    with target.open(encoding="utf-8-sig", newline="") as handle:
        rows = list(csv.reader(handle))
    assert [row[0] for row in rows[1:]] == [row.code for row in screen.model.shown()] == ["U1"]
    assert rows[0][0] == "Piece"
    drive.ask.files.append(tmp_path / "nowhere" / "\0" / "x.csv")


def test_an_export_that_cannot_be_written_is_said(drive: Drive, tmp_path: Path) -> None:
    on_shelf(drive)
    (tmp_path / "folder.csv").mkdir()
    drive.ask.files.append(tmp_path / "folder.csv")
    drive.click(drive.screen.export)
    assert "folder.csv" in drive.line


def test_an_entry_is_corrected_from_the_history(drive: Drive, register: Path) -> None:
    on_shelf(drive)
    drive.scan("G1")
    panel = drive.screen.card
    panel._correct()
    assert "Choose an entry" in drive.line
    panel.table.selectRow(0)
    panel._correct()
    made = drive.dialog()
    drive.type_in(made.reason, "wrong piece")  # type: ignore[attr-defined]
    drive.click(made.do)  # type: ignore[attr-defined]
    assert "struck" in drive.said() or state_of(register, "G1") != "ready"


def test_nothing_on_the_shelf_says_what_to_do(drive: Drive) -> None:
    from app.window.places.shelf.state import ShelfState

    assert "Reading the shelf" in ShelfState().filtered(0, 0)
    assert "Load a sheet" in ShelfState(read="all").filtered(0, 0)


def issued(register: Path) -> None:
    desk = desk_on(register)
    issue_kit(desk, "P0", question())
    desk.store.close()


def test_kit_that_is_out_stands_with_whom_and_until_when_and_is_found_by_it(register: Path, drives: Drives) -> None:
    issued(register)
    drive = drives(register)
    on_shelf(drive)
    screen = drive.screen
    screen.narrowing.line.setText("P1 2026-03-02")
    assert [row.code for row in screen.model.shown()] == sorted(KIT)
    head = [column.title for column in screen.model.columns]
    assert screen.model.index(0, head.index("With / place")).data() == "P1 until 2026-03-02"


def test_only_kinds_on_the_shelf_are_offered(drive: Drive) -> None:
    on_shelf(drive)
    box = drive.screen.narrowing.kind.box
    offered = [box.itemData(number) for number in range(1, box.count())]
    assert sorted(offered) == sorted({row.row.status.piece.kind for row in drive.screen.model.shown()})
    assert "rubber-gloves" in offered


def test_the_history_on_the_card_narrows_and_keeps_its_choice_and_row_through_every_new_look(
    drive: Drive, register: Path
) -> None:
    issued(register)
    on_shelf(drive)
    drive.scan("G1")
    panel = drive.screen.card
    everything = panel.history.rowCount()
    drive.type_in(panel.only, "out")
    told = [panel.history.index(row, 1).data() for row in range(panel.history.rowCount())]
    assert told
    assert set(told) <= {"issue", "return", "hand over"}
    assert panel.history.index(0, 2).data().startswith("to P1")
    panel.table.selectRow(0)
    chosen = panel._history.entry()
    drive.main.theme.choose("dark")
    drive.settle()
    assert (panel.only.value(), panel._history.entry()) == ("out", chosen)
    drive.window.doors.moved.emit(frozenset({"G1"}))
    drive.settle()
    assert panel._history.entry() == chosen
    drive.main.theme.choose("light")
    panel.only.clear()
    assert panel.history.rowCount() == everything


def test_no_day_is_cut_in_the_history(drive: Drive) -> None:
    on_shelf(drive)
    drive.scan("G1")
    table = drive.screen.card.table
    for number, longest in ((0, "2026-02-19"), (1, "electrical")):
        assert table.columnWidth(number) > table.fontMetrics().horizontalAdvance(longest) + 6
    assert table.wordWrap()
    assert table.rowHeight(0) >= 2 * table.fontMetrics().lineSpacing(), "day and hour, one below the other"


def test_what_its_marks_say_of_a_held_piece_is_not_said_quietly(drive: Drive, register: Path) -> None:
    desk = desk_on(register)
    hold_piece(desk, "P0", ["G1"], "suspect")
    hold_piece(desk, "P9", ["G1"], "wet")
    desk.store.close()
    on_shelf(drive)
    drive.scan("G1")
    line = next(one for one in drive.main.findChildren(QLabel) if one.text().startswith("Do not use"))
    assert line.property("look") == "short"
    assert drive.said().count("on hold since") >= 2
