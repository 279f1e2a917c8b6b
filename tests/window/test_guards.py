"""A slip of the hand is no entry: wheel, held keys, Tab, copying, and the toolkit's own count of None."""

from __future__ import annotations

import sys

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QGuiApplication, QKeyEvent, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QTableView

from app.window.guards import copy_rows, leave_by_tab
from app.window.rows_model import Column, RowsModel
from tests.drive import Drive


def turned(drive: Drive, widget: QLineEdit | object) -> None:
    event = QWheelEvent(
        QPointF(5, 5), QPointF(5, 5), QPoint(0, -120), QPoint(0, -120), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(widget, event)  # type: ignore[arg-type]  # a widget
    drive.settle()


def test_the_wheel_over_a_choice_turns_nothing_focused_or_not(drive: Drive) -> None:
    task = drive.screen.give.job.task
    turned(drive, task.box)
    assert task.value() is None
    task.box.setFocus()
    turned(drive, task.box)
    assert task.value() is None
    turned(drive, drive.window.bar.by)
    assert drive.window.here.by == ""


def test_a_key_held_down_presses_once(drive: Drive) -> None:
    pressed: list[int] = []
    button = drive.screen.give.empty
    button.setEnabled(True)
    button.clicked.connect(lambda: pressed.append(1))
    button.setFocus()
    for is_repeat in (False, True, True, True):
        for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            event = QKeyEvent(kind, Qt.Key.Key_Space, Qt.KeyboardModifier.NoModifier, " ", is_repeat)
            QApplication.sendEvent(button, event)
    assert len(pressed) == 1


def test_enter_held_in_the_line_picks_once(drive: Drive) -> None:
    line = drive.screen.give.kit.line
    line.setText("G1")
    for is_repeat in (False, True, True):
        QApplication.sendEvent(
            line,
            QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Return, Qt.KeyboardModifier.NoModifier, "\r", is_repeat),
        )
    drive.settle()
    assert drive.screen.give.state.kit == ["G1"]


def test_rows_are_copied_with_their_headings_and_tab_leaves_a_table(drive: Drive) -> None:
    model: RowsModel[tuple[str, str]] = RowsModel(
        (Column("Piece", lambda row: row[0]), Column("Why", lambda row: row[1])), lambda row: row[0], " ".join
    )
    model.set_rows([("G1", "two\tparts"), ("G2", "=1+1")])
    table = QTableView()
    table.setModel(model)
    leave_by_tab(table)
    table.selectAll()
    copy_rows(table)
    assert QGuiApplication.clipboard().text() == "Piece\tWhy\nG1\ttwo parts\nG2\t=1+1\n"
    assert not table.tabKeyNavigation()


def test_words_of_users_are_plain_text(drive: Drive) -> None:
    drive.scan("<b>x</b>")
    assert "<b>x</b>" in drive.line
    labels = [one for one in drive.main.findChildren(QLabel) if one.text()]
    assert len(labels) > 20
    rich = [one.text() for one in labels if one.textFormat() != Qt.TextFormat.PlainText]
    assert rich == ["Opening ..."]


def test_none_is_not_used_up_by_calls_into_the_toolkit() -> None:
    """6.12.0 of the toolkit lost a reference to None at every call that answers nothing, and then aborted."""
    line = QLineEdit()
    before = sys.getrefcount(None)
    for _ in range(2_000):
        line.setText("x")
    assert sys.getrefcount(None) > before - 500


def test_typing_without_the_prefix_is_typing(drive: Drive) -> None:
    line = drive.screen.give.kit.line
    QTest.keyClicks(line, "G1")
    assert line.text() == "G1"
    assert drive.screen.give.state.kit == []
    QTest.keyClick(line, Qt.Key.Key_Return)
    drive.settle()
    assert drive.screen.give.state.kit == ["G1"]
    assert line.text() == ""


def test_a_scan_that_breaks_off_is_said_and_types_nothing(drive: Drive) -> None:
    line = drive.screen.give.kit.line
    line.setFocus()
    QTest.keyClick(line, Qt.Key.Key_F9)
    QTest.keyClicks(line, "G")
    drive.until(lambda: "broke off" in drive.line)
    assert line.text() == ""
    QTest.keyClicks(line, "K")
    assert line.text() == "K"
