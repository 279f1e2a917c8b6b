"""Drives the real window on a real file: what a hand does, and waiting until the register has answered."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QDialog, QLabel, QWidget

from app.window.ask import Ask
from app.window.forms import ChoiceField, Field, LineField
from app.window.question import Question
from app.window.start import application_of, new_window
from app.window.theme import Theme
from app.window.window import Window
from tests.fakes import FixedClock

PATIENCE_S = 20.0


class RecordingAsk(Ask):
    """Answers questions from a list made beforehand, and keeps what was asked; files are chosen from a list too."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self.asked: list[Question] = []
        self.answers: list[tuple[str, str]] = []
        self.files: list[Path] = []

    def put(self, question: Question, answered: Callable[[str, str], None]) -> None:
        self.asked.append(question)
        answered(*self.answers.pop(0))

    def folder(self, title: str, answered: Callable[[Path], None]) -> None:
        assert title
        answered(self.files.pop(0))

    def _file(self, title: str, kinds: str, answered: Callable[[Path], None], **_more: Any) -> None:
        assert title
        assert kinds
        answered(self.files.pop(0))


class Drive:
    """One window. `asks_for_real`: questions are real dialogs, to be answered by hand."""

    def __init__(self, path: Path | None, *, asks_for_real: bool = False) -> None:
        self.application = application_of()
        self.made: list[Window] = []
        self.main = new_window(self.application, path, self.made.append, ask=None if asks_for_real else RecordingAsk)
        self.main.resize(1240, 800)
        self.main.show()
        self.until(lambda: bool(self.made))
        # A list may be shown, or nothing yet, before the register is open; else something stands in place of the places.
        self.until(lambda: self.window.doors.path is not None or self.main.covered is not None)
        self.settle()

    @property
    def window(self) -> Window:
        return self.made[0]

    @property
    def ask(self) -> RecordingAsk:
        assert isinstance(self.window.ask, RecordingAsk)
        return self.window.ask

    @property
    def line(self) -> str:
        """What the strip says."""
        return self.window.strip.says.text()

    @property
    def screen(self) -> Any:
        """The place shown."""
        return self.main.shown

    def until(self, is_so: Callable[[], bool]) -> None:
        """Wait for something, never for a time."""
        end = time.monotonic() + PATIENCE_S
        while not is_so():
            self.application.processEvents()
            if time.monotonic() > end:
                raise AssertionError(f"waited in vain; the strip says: {self.line if self.made else ''}")
            time.sleep(0.002)

    def settle(self) -> None:
        """Wait until the register has answered everything, and what follows from it is done too."""
        quiet = 0
        while quiet < 3:
            self.until(lambda: not self.window.doors.is_busy)
            self.application.processEvents()
            quiet = 0 if self.window.doors.is_busy else quiet + 1

    def go(self, place: str) -> None:
        self.click(self.main.buttons[place])

    def scan(self, code: str) -> None:
        """What a scanner types: the prefix, the code, Enter."""
        target = QApplication.focusWidget() or self.main
        QTest.keyClick(target, Qt.Key.Key_F9)
        QTest.keyClicks(target, code)
        QTest.keyClick(target, Qt.Key.Key_Return)
        self.settle()

    def click(self, widget: QWidget) -> None:
        assert widget.isVisible(), f"not to be seen: {widget.accessibleName() or words_of(widget)}"
        assert widget.isEnabled(), f"not to be pressed: {widget.accessibleName() or words_of(widget)}"
        QTest.mouseClick(widget, Qt.MouseButton.LeftButton, pos=QPoint(8, widget.height() // 2))
        self.settle()

    def press(self, key: Qt.Key, widget: QWidget | None = None) -> None:
        QTest.keyClick(widget or QApplication.focusWidget() or self.main, key)
        self.settle()

    def type_in(self, field: Field[Any], text: str) -> None:
        """Type into a field, in place of what stood there; choose in a list by its key."""
        if isinstance(field, ChoiceField):
            field.choose(text)
        else:
            assert isinstance(field, LineField)
            field.line.setFocus()
            field.line.selectAll()
            QTest.keyClicks(field.line, text)
        self.settle()

    def enter_as(self, code: str) -> None:
        """Choose who enters."""
        self.window.bar.choose(code)
        self.settle()

    def dialog(self) -> QDialog:
        """The dialog that is open."""
        found = [one for one in self.application.topLevelWidgets() if isinstance(one, QDialog) and one.isVisible()]
        assert len(found) == 1, [one.windowTitle() for one in found]
        return found[0]

    def said(self) -> str:
        """Every word that can be seen, from top to bottom of the widget tree."""
        return "\n".join(text for one in self.main.findChildren(QLabel) if one.isVisible() and (text := one.text()))

    def grab(self, path: Path) -> None:
        self.main.grab().save(str(path))

    def close(self) -> None:
        self.settle()
        self.main.may_close = lambda: True
        self.main.close()
        self.main.theme.deleteLater()
        self.main.deleteLater()
        self.made.clear()
        self.application.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        self.application.processEvents()


def words_of(widget: QWidget) -> str:
    return widget.text() if isinstance(widget, (QAbstractButton, QLabel)) else type(widget).__name__


def theme_of(drive: Drive) -> Theme:
    return drive.main.theme


def fixed_clock(monkeypatch: pytest.MonkeyPatch, clock: FixedClock) -> FixedClock:
    """Let the program live at this clock."""
    monkeypatch.setattr("app.compose.clock", clock)
    return clock
