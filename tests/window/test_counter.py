"""Journeys at the counter, on the real window and a real file, with their mistakes."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from app.decision.domain.errors import ProgramFault
from app.usecases.add_system import add_circuit
from app.usecases.hold_piece import hold_piece
from app.usecases.show_piece import show_piece
from tests.build import world
from tests.drive import Drive
from tests.fakes import KIT, FixedClock, desk_on


def lines_in(path: Path) -> int:
    desk = desk_on(path)
    try:
        return sum(int(anchor.split()[0]) for anchor in desk.anchors().values())
    finally:
        desk.store.close()


def a_good_kit(drive: Drive) -> None:
    drive.scan("P1")
    drive.type_in(drive.screen.give.job.system, "BUS")
    drive.type_in(drive.screen.give.job.task, "isolate-and-prove-dead")
    for code in KIT:
        drive.scan(code)


def test_a_technician_takes_a_kit_by_one_badge_two_choices_the_scans_and_one_key(drive: Drive, register: Path) -> None:
    a_good_kit(drive)
    give = drive.screen.give
    assert "MAY BE ISSUED" in give.card.title.text()
    assert give.issue.isEnabled()
    before = lines_in(register)
    QTest.keyClick(give.kit.line, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    drive.settle()
    assert "Issued 6 pieces to P1" in drive.line
    assert lines_in(register) == before + 7
    assert give.state.kit == []
    assert give.card.title.text() == "Not decided yet"


def test_a_reading_that_contradicts_the_figures_names_who_is_out_on_them(drive: Drive, register: Path) -> None:
    a_good_kit(drive)
    QTest.keyClick(drive.screen.give.kit.line, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    drive.settle()
    desk = desk_on(register)
    add_circuit(desk, "P0", "BUS", {**world()["job"]["circuits"][0], "reading_v": 900})
    desk.store.close()
    drive.scan("P1")
    drive.type_in(drive.screen.give.job.system, "BUS")
    drive.type_in(drive.screen.give.job.task, "isolate-and-prove-dead")
    drive.scan("G1")
    card = drive.screen.give.card
    assert "reading 900 V" in card.first.text() + card._lists["others"][1].text()
    heading, lines = card._lists["open_issues"]
    assert heading.isVisible()
    assert "P1" in lines.text()
    assert all(code in lines.text() for code in KIT)


def test_what_is_missing_is_said_before_anything_is_decided(drive: Drive) -> None:
    card = drive.screen.give.card
    assert "who does the work, the system, the task and the kit" in card.first.text()
    assert not drive.screen.give.issue.isEnabled()
    drive.scan("G1")
    assert "who does the work, the system and the task" in card.first.text()


def test_what_stops_a_kit_stands_first_with_what_to_change_and_nothing_can_be_issued(
    drive: Drive, register: Path
) -> None:
    desk = desk_on(register)
    hold_piece(desk, "P0", ["G1"], "suspect")
    desk.store.close()
    a_good_kit(drive)
    give = drive.screen.give
    assert "REFUSED" in give.card.title.text()
    assert "G1" in give.card.first.text()
    assert not give.issue.isEnabled()
    before = lines_in(register)
    QTest.keyClick(give.kit.line, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    drive.settle()
    assert "Nothing was issued" in drive.line
    assert lines_in(register) == before
    drive.click(give.refusal)
    assert "Refused. Recorded as" in drive.line
    assert lines_in(register) == before + 1
    drive.click(give.refusal)
    assert "recorded already" in drive.line
    assert lines_in(register) == before + 1


def test_a_kit_overtaken_by_another_counter_is_refused_and_shown_as_it_is_now(drive: Drive, register: Path) -> None:
    a_good_kit(drive)
    other = desk_on(register)
    hold_piece(other, "P0", ["L1"], "suspect")
    other.store.close()
    drive.click(drive.screen.give.issue)
    assert "Nothing was issued" in drive.line
    assert "REFUSED" in drive.screen.give.card.title.text()
    assert drive.screen.give.state.kit == list(KIT)


def test_a_piece_that_went_out_elsewhere_is_named_and_the_kit_stays_on_the_counter(
    drive: Drive, register: Path
) -> None:
    a_good_kit(drive)
    other = desk_on(register)
    from app.usecases.enter_taken import enter_taken

    enter_taken(other, "P0", ["U1"], "P9")
    other.store.close()
    drive.click(drive.screen.give.issue)
    assert "U1" in drive.line
    assert "P9" in drive.line
    assert drive.screen.give.state.kit == list(KIT)


def test_pressing_twice_issues_once(drive: Drive, register: Path) -> None:
    a_good_kit(drive)
    before = lines_in(register)
    button = drive.screen.give.issue
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    drive.settle()
    assert lines_in(register) == before + 7


def test_a_code_scanned_twice_lies_there_once(drive: Drive) -> None:
    drive.scan("G1")
    drive.scan("G1")
    assert "in the list already" in drive.line
    assert drive.screen.give.state.kit == ["G1"]


def test_an_unreadable_last_day_decides_nothing(drive: Drive) -> None:
    a_good_kit(drive)
    give = drive.screen.give
    drive.type_in(give.job.until, "31.2.26")
    assert "no such day" in give.job.until.complaint()
    assert not give.issue.isEnabled()
    drive.type_in(give.job.until, "3.3.26")
    assert "2026-03-03" in give.job.until.says()
    assert give.issue.isEnabled()


def test_a_bag_is_one_scan(drive: Drive, register: Path) -> None:
    from app.usecases.make_bag import make_bag

    desk = desk_on(register)
    make_bag(desk, "P0", "BAG1", KIT)
    desk.store.close()
    drive.scan("BAG1")
    assert drive.screen.give.state.kit == list(KIT)


def test_a_keepers_morning_out_and_back_with_a_defect(drive: Drive, register: Path) -> None:
    drive.enter_as("P0")
    a_good_kit(drive)
    drive.click(drive.screen.give.issue)
    drive.click(drive.screen.tabs["take"])
    take = drive.screen.panels["take"]
    drive.scan("G1")
    assert "out with P1" in drive.said()
    drive.click(take.others)
    assert sorted(take.state.kit) == sorted(KIT)
    take.state.defects["L1"] = "cut"
    drive.click(take.do)
    assert "L1" in drive.line
    desk = desk_on(register)
    assert show_piece(desk, "L1").row.status.state == "on-hold"
    assert show_piece(desk, "G1").out is None
    desk.store.close()


def test_what_was_never_out_cannot_come_back_and_is_said_so_at_once(drive: Drive) -> None:
    drive.click(drive.screen.tabs["take"])
    drive.scan("G1")
    assert "nothing to take back" in drive.said()


def test_taken_without_issue_asks_who_and_holds(drive: Drive, register: Path) -> None:
    drive.enter_as("P0")
    drive.click(drive.screen.tabs["taken"])
    taken = drive.screen.panels["taken"]
    drive.scan("G1")
    drive.click(taken.do)
    assert taken.state.kit == ["G1"]
    assert "not filled in" in drive.said()
    drive.scan("P1")
    drive.click(taken.do)
    desk = desk_on(register)
    assert show_piece(desk, "G1").row.status.state == "on-hold"
    desk.store.close()


def test_handing_over_needs_a_keeper(drive: Drive, register: Path) -> None:
    drive.enter_as("P0")
    drive.click(drive.screen.tabs["hand"])
    hand = drive.screen.panels["hand"]
    drive.scan("G1")
    drive.click(hand.do)
    assert "not filled in" in drive.said()
    drive.type_in(hand.to, "P1")
    drive.click(hand.do)
    desk = desk_on(register)
    assert show_piece(desk, "G1").row.status.holder == "P1"
    desk.store.close()


def test_nobody_chosen_to_enter_is_asked_for_and_nothing_is_lost(drive: Drive, register: Path) -> None:
    panel = drive.screen.panels["taken"]
    drive.click(drive.screen.tabs["taken"])
    drive.scan("G1")
    drive.type_in(panel.person, "P1")
    before = lines_in(register)
    drive.click(panel.do)
    assert "Entries by" in drive.line
    assert lines_in(register) == before
    assert panel.state.kit == ["G1"]


def test_what_is_not_out_is_named_before_it_could_be_taken_back(drive: Drive) -> None:
    drive.enter_as("P0")
    drive.click(drive.screen.tabs["take"])
    drive.scan("G1")
    panel = drive.screen.panels["take"]
    assert not panel.do.isEnabled()
    assert "G1" in panel.blocked.text()
    panel.kit.removed.emit("G1")
    drive.settle()
    assert panel.blocked.text() == ""


def test_a_day_with_two_readings_is_never_decided_on(drive: Drive) -> None:
    a_good_kit(drive)
    assert drive.screen.give.issue.isEnabled()
    drive.type_in(drive.screen.give.job.until, "03/04/26")
    assert "two days" in drive.screen.give.card.first.text()
    assert not drive.screen.give.issue.isEnabled()
    drive.type_in(drive.screen.give.job.until, "2026-03-01")
    assert "is before" in drive.screen.give.card.first.text()
    assert "--" not in drive.screen.give.card.first.text()
    assert not drive.screen.give.issue.isEnabled()
    drive.screen.give.job.until.clear()
    drive.settle()
    assert drive.screen.give.issue.isEnabled()


def test_nobody_is_their_own_second_person(drive: Drive) -> None:
    a_good_kit(drive)
    drive.type_in(drive.screen.give.job.second, drive.screen.give.state.who)
    assert not drive.screen.give.issue.isEnabled()
    assert "cannot be both" in drive.screen.give.card.first.text()


def test_ctrl_enter_issues_once_and_a_second_one_takes_nothing_back_of_what_is_said(
    drive: Drive, register: Path
) -> None:
    a_good_kit(drive)
    drive.enter_as("P0")
    QTest.keyClick(drive.main, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    drive.settle()
    said, before = drive.line, lines_in(register)
    assert "Issued" in said
    QTest.keyClick(drive.main, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    drive.settle()
    assert (drive.line, lines_in(register)) == (said, before)


def test_a_badge_that_also_enters_is_said(drive: Drive) -> None:
    drive.scan("P1")
    assert "made by P1" in drive.line


def test_capitals_of_badges_and_systems_do_not_matter(drive: Drive) -> None:
    drive.scan("p1")
    drive.scan("bus")
    assert (drive.screen.give.state.who, drive.screen.give.state.system) == ("P1", "BUS")


def test_a_register_that_vanishes_loses_nothing_that_was_typed(drive: Drive, register: Path) -> None:
    a_good_kit(drive)
    register.rename(register.with_name("moved.cuffdate"))
    drive.click(drive.screen.give.issue)
    assert drive.screen.give.state.kit == list(KIT)
    assert "Issued" not in drive.line
    assert str(register) in drive.line


def test_a_fault_of_ours_in_the_thread_is_words_and_the_thread_goes_on(drive: Drive) -> None:
    def broken(_: object) -> None:
        raise RuntimeError("planted")

    seen: list[object] = []
    drive.window.doors.ask(broken, seen.append, seen.append, owner=drive.main, slot="planted")
    drive.settle()
    assert len(seen) == 1
    assert isinstance(seen[0], ProgramFault)
    assert "faults.log" in drive.line
    drive.scan("G1")
    assert drive.screen.give.state.kit == ["G1"]


def test_a_scan_into_a_question_is_refused_and_lands_nowhere(
    register: Path, clock: FixedClock, drives: Callable[..., Drive]
) -> None:
    drive = Drive(register, asks_for_real=True)
    try:
        from app.window.question import Question

        drive.window.ask.put(Question("A question", ("Which?",), (("a", "This one"),)), lambda *_: None)
        drive.settle()
        drive.scan("G1")
        assert "A question is open" in drive.line
        assert drive.screen.give.state.kit == []
        drive.dialog().reject()
        drive.scan("G1")
        assert drive.screen.give.state.kit == ["G1"]
    finally:
        drive.close()


def test_what_was_saved_can_be_struck_from_the_strip(drive: Drive, register: Path) -> None:
    a_good_kit(drive)
    drive.click(drive.screen.give.issue)
    from app.window.correct import CorrectDialog

    links = [one for one in drive.window.strip.findChildren(QPushButton) if one.text() == "Correct..."]
    drive.click(links[0])
    dialog = drive.dialog()
    assert isinstance(dialog, CorrectDialog)
    drive.click(dialog.do)
    assert dialog.isVisible()
    drive.type_in(dialog.reason, "wrong bus")
    drive.click(dialog.do)
    desk = desk_on(register)
    assert show_piece(desk, "G1").out is None
    desk.store.close()
