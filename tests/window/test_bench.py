"""Journeys at the bench, on the real window and a real file, with their mistakes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Event
from typing import Any

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.decision.judging.answers import DueQuestion
from app.register.reads.pieces import pieces
from app.usecases.hold_piece import hold_piece
from app.usecases.list_shelf import list_shelf
from app.usecases.make_bag import make_bag
from app.usecases.withdraw_piece import withdraw_piece
from app.window.forms import Field
from tests.drive import Drive
from tests.fakes import desk_on

FIGURES = {
    "on": "28.2.26", "evidence": "figures", "kind_of_current": "ac", "test_v": "5000", "dwell_s": "60",
    "frequency_hz": "60", "left_ma": "7,1", "right_ma": "7.4", "certificate_names_piece": "yes",
}  # fmt: skip


@pytest.fixture
def bench(drive: Drive) -> Drive:
    drive.go("bench")
    drive.enter_as("P0")
    drive.main.activateWindow()
    drive.until(lambda: QApplication.focusWidget() is not None)
    return drive


def test_no_part_of_the_bench_is_ever_a_window_of_its_own(drive: Drive) -> None:
    drive.main.activateWindow()
    drive.until(lambda: QApplication.activeWindow() is drive.main)
    drive.go("bench")
    # A hint shown before it has its place in a form would open beside the window and take the keyboard with it.
    assert QApplication.activeWindow() is drive.main


def entries(path: Path, code: str) -> list[Any]:
    desk = desk_on(path)
    try:
        return [one.record for one in desk.ask(lambda connection: pieces(connection, [code]))[code].entries]
    finally:
        desk.store.close()


def state_of(path: Path, code: str) -> tuple[str, str]:
    desk = desk_on(path)
    try:
        one = list_shelf(desk, DueQuestion(desk.today(), None, (code,))).rows[0].status
        return one.state, str(one.due_on)
    finally:
        desk.store.close()


def enter_elsewhere(path: Path, act: Callable[[Any], object]) -> None:
    desk = desk_on(path)
    act(desk)
    desk.store.close()


def fill(drive: Drive, **values: str) -> Any:
    form = drive.screen.forms["test"]
    for key, text in values.items():
        drive.type_in(form.by_key[key], text)
    return form


def at_test(drive: Drive, **values: str) -> Any:
    drive.scan("G1")
    drive.click(drive.screen.choices["test"])
    return fill(drive, **{**FIGURES, **values})


def has_keyboard(widget: object) -> bool:
    return QApplication.focusWidget() is widget


def review_of(form: Any) -> str:
    return f"{form.review.title.text()} {form.review.lines.text()}"


@contextmanager
def register_busy(drive: Drive) -> Iterator[None]:
    """What is done meanwhile waits for the register, as it does on a slow disk."""
    gate = Event()
    drive.window.doors.ask(lambda _: gate.wait(20), lambda _: None, lambda _: None, owner=drive.main, slot="gate")
    yield
    gate.set()
    drive.settle()


# The piece.


def test_a_piece_is_scanned_or_typed_and_stands_in_one_line(bench: Drive) -> None:
    screen = bench.screen
    assert not screen.choices["test"].isEnabled()
    bench.scan("G1")
    assert (screen.piece_card.name.text(), screen.piece_card.word.text()) == (
        "G1  rubber insulating gloves, class 0",
        "ready",
    )
    assert screen.piece_card.until.text() == "use until 2026-07-14 (retest due 2026-07-15)"
    assert screen.choices["test"].isEnabled()
    assert not screen.choices["self-test"].isEnabled()
    assert "Not for G1" in screen.piece_card.why_not.text()
    screen.line.setFocus()
    QTest.keyClicks(screen.line, "d1")
    bench.press(Qt.Key.Key_Return)
    assert screen.piece_card.name.text().startswith("D1")
    assert screen.line.text() == ""


def test_a_code_nobody_knows_stays_in_the_line_and_is_said(bench: Drive) -> None:
    screen = bench.screen
    screen.line.setFocus()
    QTest.keyClicks(screen.line, "X99")
    bench.click(screen.show_key)
    assert "X99" in bench.line
    assert screen.line.text() == "X99"
    assert screen.code == ""


def test_the_shelf_sends_a_piece_here(bench: Drive) -> None:
    bench.main.go("bench", "D1")
    bench.settle()
    assert bench.screen.piece_card.name.text().startswith("D1")


def test_a_badge_is_who_enters_and_a_system_has_no_use_here(bench: Drive) -> None:
    bench.scan("P1")
    assert bench.window.here.by == "P1"
    bench.scan("BUS")
    assert "cannot be used here" in bench.line


def test_nothing_is_saved_before_somebody_is_chosen_who_enters(drive: Drive, register: Path) -> None:
    drive.go("bench")
    form = at_test(drive)
    before = len(entries(register, "G1"))
    drive.click(form.save_key)
    assert "Choose who enters" in drive.line
    assert len(entries(register, "G1")) == before
    assert form.by_key["test_v"].line.text() == "5000"


# Electrical tests.


def test_a_keeper_sees_the_due_day_of_a_passing_test_before_saving_it(bench: Drive, register: Path) -> None:
    form = at_test(bench)
    assert "PASSES and counts" in review_of(form)
    assert "Use until 2026-08-27 (retest due 2026-08-28)" in review_of(form)
    assert state_of(register, "G1") == ("ready", "2026-07-15")
    bench.click(form.save_key)
    assert "Saved as" in bench.line
    assert state_of(register, "G1") == ("ready", "2026-08-28")
    test = entries(register, "G1")[-1]
    assert (test.test_v, test.left_ua, test.right_ua, test.dwell_s) == (5000, 7100, 7400, 60)
    assert not form.is_typed()
    assert bench.screen.piece_card.until.text() == "use until 2026-08-27 (retest due 2026-08-28)"
    assert has_keyboard(bench.screen.line)


def test_a_failing_test_says_so_and_holds_the_piece(bench: Drive, register: Path) -> None:
    form = at_test(bench, left_ma="17")
    assert "this test FAILS" in review_of(form)
    assert "17 mA, limit 12 mA, failed" in review_of(form)
    assert "G1 will be on hold at once" in review_of(form)
    bench.click(form.save_key)
    assert "FAILED" in bench.line
    assert state_of(register, "G1")[0] == "on-hold"
    assert bench.screen.piece_card.word.text() == "on hold"
    assert bench.screen.choices["release"].isEnabled()


def test_a_test_that_does_not_count_is_entered_and_the_one_before_stands(bench: Drive, register: Path) -> None:
    form = at_test(bench, dwell_s="50")
    assert "DOES NOT COUNT" in review_of(form)
    assert "50 s" in review_of(form)
    assert "Use until 2026-07-14 (retest due 2026-07-15)" in review_of(form)
    bench.click(form.save_key)
    assert "DOES NOT COUNT" in bench.line
    assert state_of(register, "G1") == ("ready", "2026-07-15")
    assert entries(register, "G1")[-1].dwell_s == 50


def test_a_certificate_without_figures_asks_for_no_figures_and_does_not_count_here(bench: Drive) -> None:
    bench.scan("G1")
    bench.click(bench.screen.choices["test"])
    form = fill(bench, on="2026-02-28", evidence="stated-pass")
    assert not form.by_key["test_v"].isVisible()
    assert "says passed, with laboratory" in form.explains.text()
    assert "Missing: Result by the laboratory and Certificate names this piece" in review_of(form)
    fill(
        bench,
        result="passed",
        laboratory="Northgate Test House",
        certificate="NTH-26-0220",
        certificate_names_piece="yes",
    )
    assert "DOES NOT COUNT" in review_of(form)
    assert "without test values" in review_of(form)
    bench.click(form.save_key)
    assert "DOES NOT COUNT" in bench.line


def test_what_another_evidence_hid_is_not_entered(bench: Drive, register: Path) -> None:
    form = at_test(bench)
    fill(bench, evidence="sheet-only", result="passed")
    assert not form.by_key["left_ma"].isVisible()
    bench.click(form.save_key)
    test = entries(register, "G1")[-1]
    assert (test.evidence, test.test_v, test.left_ua) == ("sheet-only", None, None)


def test_wrong_input_is_said_below_its_field_which_gets_the_keyboard(bench: Drive, register: Path) -> None:
    form = at_test(bench, test_v="5,000", on="31.2.26")
    before = len(entries(register, "G1"))
    assert "two ways" in form.by_key["test_v"]._below.text()
    assert "no such day" in form.by_key["on"]._below.text()
    assert "Not judged yet" in review_of(form)
    bench.click(form.save_key)
    assert has_keyboard(form.by_key["on"].line)
    assert len(entries(register, "G1")) == before
    fill(bench, on="28.2.26")
    bench.click(form.save_key)
    assert has_keyboard(form.by_key["test_v"].line)
    assert form.by_key["left_ma"].line.text() == "7,1"
    fill(bench, test_v="5000", on="3.3.26")
    assert "is in the future" in form.by_key["on"]._below.text()
    bench.click(form.save_key)
    assert len(entries(register, "G1")) == before


def test_a_test_has_no_day_until_somebody_fills_it_in(bench: Drive, register: Path) -> None:
    form = at_test(bench)
    fill(bench, on="")
    form.by_key["on"].clear()
    bench.settle()
    before = len(entries(register, "G1"))
    assert "Day of the test" in review_of(form)
    bench.click(form.save_key)
    assert "not filled in" in form.by_key["on"]._below.text()
    assert len(entries(register, "G1")) == before


def test_two_clicks_on_save_make_one_entry(bench: Drive, register: Path) -> None:
    form = at_test(bench)
    before = len(entries(register, "G1"))
    with register_busy(bench):
        QTest.mouseClick(form.save_key, Qt.MouseButton.LeftButton)
        QTest.mouseClick(form.save_key, Qt.MouseButton.LeftButton)
    assert len(entries(register, "G1")) == before + 1
    # Nor was a second one tried and turned down.
    assert "Saved as" in bench.line


def test_enter_in_a_field_goes_on_and_saves_nothing(bench: Drive, register: Path) -> None:
    form = at_test(bench)
    before = len(entries(register, "G1"))
    form.by_key["test_v"].line.setFocus()
    bench.press(Qt.Key.Key_Return)
    assert has_keyboard(form.by_key["dwell_s"].line)
    assert len(entries(register, "G1")) == before


def held_down(field: Field[Any]) -> QKeyEvent:
    ctrl = Qt.KeyboardModifier.ControlModifier
    return QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Return, ctrl, "\r", True, 1)


def test_the_keys_that_save_held_down_save_once(bench: Drive, register: Path) -> None:
    form = at_test(bench)
    before = len(entries(register, "G1"))
    line = form.by_key["laboratory"].line
    line.setFocus()
    with register_busy(bench):
        QTest.keyClick(line, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
        for _ in range(4):
            QApplication.sendEvent(line, held_down(form.by_key["laboratory"]))
            QTest.keyClick(line, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert len(entries(register, "G1")) == before + 1
    assert "Saved as" in bench.line


def test_a_register_that_vanished_is_said_and_nothing_typed_is_lost(bench: Drive, register: Path) -> None:
    form = at_test(bench)
    for one in register.parent.glob(f"{register.name}*"):
        one.unlink()
    bench.click(form.save_key)
    assert "Saved" not in bench.line
    assert str(register) in bench.line
    assert form.by_key["left_ma"].line.text() == "7,1"
    assert form.by_key["evidence"].value() == "figures"
    assert form.save_key.isEnabled()
    assert bench.screen.unsaved() != ""


def test_another_counters_entry_refreshes_the_line_and_leaves_the_form(bench: Drive, register: Path) -> None:
    form = at_test(bench)
    enter_elsewhere(register, lambda desk: hold_piece(desk, "P9", ["G1"], "suspect"))
    bench.window.doors.moved.emit(frozenset({"G1"}))
    bench.settle()
    assert bench.screen.piece_card.word.text() == "on hold"
    assert form.by_key["left_ma"].line.text() == "7,1"
    assert "has been on hold since" in review_of(form)


def test_another_piece_is_asked_about_before_what_is_typed_is_lost(bench: Drive) -> None:
    form = at_test(bench)
    bench.ask.answers.append(("", ""))
    bench.scan("D1")
    assert "electrical test" in bench.ask.asked[-1].lines[0].lower()
    assert bench.screen.code == "G1"
    assert form.by_key["left_ma"].line.text() == "7,1"
    bench.ask.answers.append(("go", ""))
    bench.screen.show_code("D1")
    bench.settle()
    assert bench.screen.code == "D1"
    assert not form.is_typed()


# Air test.


def test_an_air_test_is_three_presses_and_a_figure(bench: Drive, register: Path) -> None:
    bench.scan("G1")
    air = bench.screen.forms["air"]
    assert bench.screen.choice == "air"
    assert "At most 1.5 x" in air.allowed.text()
    assert not air.cards["right"].passed.isEnabled()
    bench.click(air.cards["left"].passed)
    assert has_keyboard(air.cards["right"].passed)
    bench.click(air.cards["right"].passed)
    assert "Inflation" in review_of(air)
    bench.type_in(air.inflation, "1,3")
    assert "afterwards: ready" in review_of(air)
    bench.click(air.save_key)
    test = entries(register, "G1")[-1]
    assert (test.left, test.right, test.inflation_c, test.defects) == ("passed", "passed", 130, ())
    assert air.state.results == {}


def test_a_defect_on_the_left_hand_holds_the_pair(bench: Drive, register: Path) -> None:
    bench.scan("G1")
    air = bench.screen.forms["air"]
    bench.click(air.cards["left"].defect)
    assert set(air.defects) == {
        "hole", "tear", "puncture", "cut", "ozone-cutting", "embedded-object", "swelling", "softening", "hardening",
        "sticky", "inelastic", "other",
    }  # fmt: skip
    assert not air.failed.isEnabled()
    bench.click(air.defects["puncture"])
    bench.click(air.failed)
    assert "FAILED: puncture" in air.cards["left"].says.text()
    bench.click(air.cards["right"].leave_out)
    assert "G1 will be on hold at once" in review_of(air)
    bench.click(air.save_key)
    assert "is now on hold" in bench.line
    test = entries(register, "G1")[-1]
    assert (test.left, test.right, test.defects) == ("failed", None, ("puncture",))
    assert state_of(register, "G1")[0] == "on-hold"


def test_a_double_press_on_the_left_passes_the_left_alone(bench: Drive) -> None:
    bench.scan("G1")
    air = bench.screen.forms["air"]
    key = air.cards["left"].passed
    for place in (key.rect().center(), key.rect().topLeft() + QPoint(9, 9), key.rect().bottomRight() - QPoint(9, 9)):
        point = key.mapTo(bench.main, place)
        bench.click(key)
        assert bench.main.childAt(point) is key
        assert not air.cards["left"].passed.isEnabled()
        assert air.state.results == {"left": "passed"}
        bench.click(air.cards["left"].again)
    bench.click(key)
    bench.click(air.cards["left"].again)
    assert air.state.results == {}


def test_blown_up_too_far_is_said_before_it_is_saved(bench: Drive) -> None:
    bench.scan("G1")
    air = bench.screen.forms["air"]
    bench.click(air.cards["left"].passed)
    bench.click(air.cards["right"].passed)
    bench.type_in(air.inflation, "1.6")
    assert "At most 1.5 x" in review_of(air)
    assert "inspect today" in review_of(air)


def test_the_keys_of_the_air_test_are_made_for_thumbs(bench: Drive) -> None:
    bench.scan("G1")
    air = bench.screen.forms["air"]
    bench.click(air.cards["left"].defect)
    large = [air.cards["left"].passed, air.cards["left"].defect, air.failed, air.save_key, *air.defects.values()]
    assert min(one.height() for one in large) >= 60
    assert "authorised person decides" in bench.said()


# Look-over of a list.


def scan_list(drive: Drive, *codes: str) -> Any:
    drive.click(drive.screen.choices["look"])
    for code in codes:
        drive.scan(code)
    return drive.screen.look


def test_four_are_scanned_and_one_has_a_defect(bench: Drive, register: Path) -> None:
    look = scan_list(bench, "L1", "D1", "U1", "B1")
    assert look.count.text() == "4 pieces listed, 0 with a defect"
    row = look.lines["D1"]
    row.defect.setCurrentIndex(row.defect.findData("cracked"))
    row.caps.setCurrentIndex(row.caps.findData("present"))
    bench.settle()
    assert "On hold at once: D1 (cracked)" in review_of(look)
    bench.click(look.save_key)
    assert "Saved as" in bench.line
    assert "D1 is now on hold" in bench.line
    assert state_of(register, "D1")[0] == "on-hold"
    assert entries(register, "D1")[-1].caps == "present"
    assert entries(register, "L1")[-1].defects == ()
    assert look.state.rows == {}
    assert look.lines == {}


def test_the_list_can_be_left_and_a_saved_one_leaves_by_itself(bench: Drive) -> None:
    look = scan_list(bench)
    bench.click(bench.screen.choices["look"])
    assert bench.screen.choice == ""
    scan_list(bench, "L1")
    QTest.keyClicks(look.lines["L1"].remark, "chalk mark")
    bench.click(look.save_key)
    assert "Saved as" in bench.line
    assert bench.screen.choice != "look"
    bench.scan("D1")
    assert bench.screen.code == "D1"
    assert bench.screen.choices["self-test"].isEnabled()


def test_the_piece_on_the_bench_is_the_first_of_a_list_begun_there(bench: Drive) -> None:
    bench.scan("U1")
    look = scan_list(bench, "L1")
    assert list(look.state.rows) == ["U1", "L1"]
    look.left.emit()
    bench.settle()
    assert bench.screen.code == "U1"
    assert bench.screen.choice != "look"


def test_what_was_held_before_is_said_to_stay_held(bench: Drive, register: Path) -> None:
    enter_elsewhere(register, lambda desk: hold_piece(desk, "P0", ["L1"], "suspect"))
    look = scan_list(bench, "L1", "U1")
    assert "before and after: L1" in review_of(look)


def test_an_unknown_code_in_the_middle_is_said_and_the_list_goes_on(bench: Drive) -> None:
    look = scan_list(bench, "L1", "NOBODY")
    assert "NOBODY" in bench.line
    assert list(look.state.rows) == ["L1"]
    bench.scan("U1")
    bench.scan("L1")
    assert "in the list already" in bench.line
    assert list(look.state.rows) == ["L1", "U1"]
    bench.click(look.lines["L1"].off)
    assert list(look.lines) == ["U1"]


def test_a_bag_goes_into_the_list_at_once_and_not_onto_the_bench(bench: Drive, register: Path) -> None:
    enter_elsewhere(register, lambda desk: make_bag(desk, "P0", "BAG1", ("L1", "U1", "B1")))
    bench.scan("BAG1")
    assert "BAG1 is a bag of 3 pieces" in bench.line
    assert bench.screen.code == ""
    look = scan_list(bench, "G1", "BAG1")
    assert list(look.state.rows) == ["G1", "L1", "U1", "B1"]


def test_the_list_survives_a_change_of_place_and_a_failure(bench: Drive, register: Path) -> None:
    look = scan_list(bench, "L1", "U1")
    row = look.lines["L1"]
    row.defect.setCurrentIndex(row.defect.findData("tear"))
    QTest.keyClicks(row.remark, "left one")
    bench.go("counter")
    bench.go("bench")
    assert bench.screen.look.lines["L1"].remark.text() == "left one"
    assert "L1 and U1" in bench.screen.unsaved()
    enter_elsewhere(register, lambda desk: withdraw_piece(desk, "P0", ["U1"], "worn"))
    before = len(entries(register, "L1"))
    bench.click(look.save_key)
    assert "U1 is withdrawn" in bench.line
    assert len(entries(register, "L1")) == before
    assert list(look.lines) == ["L1", "U1"]
    assert look.lines["L1"].defect.currentData() == "tear"
    bench.click(look.lines["U1"].off)
    bench.click(look.save_key)
    assert len(entries(register, "L1")) == before + 1
    assert bench.screen.unsaved() == ""


def test_a_clearance_that_cannot_be_read_stops_the_list_and_is_shown_in_its_row(bench: Drive, register: Path) -> None:
    look = scan_list(bench, "L1", "G1")
    row = look.lines["G1"]
    QTest.keyClicks(row.clearance, "1,500")
    before = len(entries(register, "L1"))
    bench.click(look.save_key)
    assert "two ways" in bench.line
    assert has_keyboard(row.clearance)
    assert len(entries(register, "L1")) == before
    row.clearance.clear()
    QTest.keyClicks(row.clearance, "41,5")
    bench.click(look.save_key)
    assert entries(register, "G1")[-1].clearance_um == 41_500


# The other choices.


def test_a_self_test_is_of_today_and_now_where_no_day_is_given(bench: Drive, register: Path) -> None:
    bench.scan("U1")
    form = bench.screen.forms["self-test"]
    assert bench.screen.choice == "self-test"
    assert "Left empty" in form.by_key["on"].says()
    bench.type_in(form.by_key["result"], "failed")
    assert "Do not use it" in review_of(form)
    bench.click(form.save_key)
    made = entries(register, "U1")[-1]
    assert (made.result, str(made.on)) == ("failed", "2026-03-02")
    assert made.at is not None


def test_a_calibration_shows_when_the_next_is_due(bench: Drive) -> None:
    bench.scan("D1")
    bench.click(bench.screen.choices["calibration"])
    form = bench.screen.forms["calibration"]
    bench.type_in(form.by_key["result"], "passed")
    bench.type_in(form.by_key["on"], "20.2.26")
    assert "Friday, 2026-02-20" in form.by_key["on"]._below.text()
    bench.click(form.save_key)
    assert "Saved as" in bench.line


def test_what_was_dropped_is_held_and_is_released_by_the_test_that_names_it(bench: Drive, register: Path) -> None:
    bench.scan("G1")
    screen = bench.screen
    bench.click(screen.choices["event"])
    bench.type_in(screen.forms["event"].by_key["kind"], "dropped")
    bench.click(screen.forms["event"].save_key)
    assert screen.piece_card.word.text() == "on hold"
    bench.click(screen.choices["release"])
    release = screen.forms["release"]
    assert "a passing electrical test that names the incident" in release.open_now.text()
    assert not release.save_key.isEnabled()
    bench.click(screen.choices["test"])
    form = fill(bench, **{**FIGURES, "on": "2026-03-02", "after": "dropped"})
    bench.click(form.save_key)
    # What was done this morning was done before it fell.
    assert state_of(register, "G1")[0] == "inspect-today"


def test_a_hold_is_released_once_its_evidence_is_there(bench: Drive, register: Path) -> None:
    bench.scan("G1")
    screen = bench.screen
    bench.click(screen.choices["hold"])
    hold = screen.forms["hold"]
    bench.type_in(hold.by_key["why"], "suspect")
    assert "a passing electrical test that names the incident" in review_of(hold)
    bench.click(hold.save_key)
    bench.click(screen.choices["test"])
    form = fill(bench, **{**FIGURES, "on": "2026-03-02", "after": "suspect"})
    bench.click(form.save_key)
    assert screen.piece_card.word.text() == "on hold"
    bench.click(screen.choices["release"])
    assert "can be released by P0" in review_of(screen.forms["release"])
    bench.click(screen.forms["release"].save_key)
    assert state_of(register, "G1")[0] == "ready"
    assert screen.piece_card.word.text() == "ready"


def test_a_repair_that_is_not_allowed_is_said_before_it_is_saved(bench: Drive) -> None:
    bench.scan("G1")
    bench.click(bench.screen.choices["repair"])
    form = bench.screen.forms["repair"]
    bench.type_in(form.by_key["how"], "patched")
    bench.type_in(form.by_key["place"], "palm")
    assert "only between wrist and cuff edge" in review_of(form)
    form.clear()
    bench.scan("D1")
    assert form.by_key["part"].isVisible()
    assert not form.by_key["how"].isVisible()
    bench.type_in(form.by_key["part"], "new leads")
    bench.click(form.save_key)
    assert "somebody else inspects it" in bench.line


def test_a_demo_register_shows_the_forms_and_takes_no_entry(register: Path, drives: Callable[[Path], Drive]) -> None:
    from app.usecases.load_register import close_to_entries
    from tests.build import DAY

    enter_elsewhere(register, lambda desk: close_to_entries(desk, "P9", DAY))
    drive = drives(register)
    drive.go("bench")
    drive.enter_as("P0")
    before = len(entries(register, "G1"))
    form = at_test(drive)
    assert "PASSES" in review_of(form)
    drive.click(form.save_key)
    assert "takes no entries" in drive.line
    assert form.by_key["left_ma"].line.text() == "7,1"
    assert len(entries(register, "G1")) == before


def test_everything_is_chosen_and_pressed_by_keyboard_alone(bench: Drive, register: Path) -> None:
    screen = bench.screen
    screen.line.setFocus()
    QTest.keyClicks(screen.line, "U1")
    bench.press(Qt.Key.Key_Return)
    assert screen.choice == "self-test"
    assert has_keyboard(screen.forms["self-test"].by_key["result"].box)
    screen.choices["self-test"].setFocus()
    bench.press(Qt.Key.Key_Down)
    bench.press(Qt.Key.Key_Space)
    assert screen.choice == "event"
    bench.press(Qt.Key.Key_Down)
    assert screen.forms["event"].by_key["kind"].value() == "suspect"
    before = len(entries(register, "U1"))
    bench.press(Qt.Key.Key_Tab)
    bench.press(Qt.Key.Key_Tab)
    assert has_keyboard(screen.forms["event"].save_key)
    bench.press(Qt.Key.Key_Space)
    assert len(entries(register, "U1")) == before + 1
