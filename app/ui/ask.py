"""Questions to whoever sits at the window: verbs on buttons, nothing chosen beforehand, never waiting in the middle."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFileDialog,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.ui.forms import fit_height
from app.words.saying import say


class Question:
    """What is asked. `choices`: key and verb, in order; `wants`: label of a line of words that must be filled in."""

    def __init__(
        self, title: str, lines: tuple[str, ...], choices: tuple[tuple[str, str], ...], wants: str = ""
    ) -> None:
        self.title = title
        self.lines = lines
        self.choices = choices
        self.wants = wants


Answered = Callable[[str, str], None]


class Ask(QObject):
    """Puts questions as dialogs. `is_open`: one is waiting, so a scan has nowhere to land."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self.window = window
        self._open: list[QDialog] = []

    @property
    def is_open(self) -> bool:
        """Whether a question waits for an answer."""
        return any(dialog.isVisible() for dialog in self._open)

    def put(self, question: Question, answered: Answered) -> None:
        """Ask; `answered` gets the key chosen and the words filled in, ("", "") where it was closed without."""
        self.show(QuestionDialog(question, answered, self.window))

    def show(self, dialog: QDialog) -> None:
        """Show any dialog of ours, so that scans know of it."""
        self._open = [one for one in self._open if one.isVisible()] + [dialog]
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
        dialog.open()

    def file_to_open(self, title: str, kinds: str, answered: Callable[[Path], None]) -> None:
        """Choose a file that is there; not called where none is chosen."""
        self._file(title, kinds, answered, is_new=False)

    def file_to_save(self, title: str, kinds: str, name: str, answered: Callable[[Path], None]) -> None:
        """Choose a name to write under."""
        self._file(title, kinds, answered, is_new=True, name=name)

    def folder(self, title: str, answered: Callable[[Path], None]) -> None:
        """Choose a folder that is there."""
        dialog = QFileDialog(self.window, title)
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.fileSelected.connect(lambda chosen: answered(Path(chosen)))
        self.show(dialog)

    def _file(self, title: str, kinds: str, answered: Callable[[Path], None], *, is_new: bool, name: str = "") -> None:
        dialog = QFileDialog(self.window, title, name, kinds)
        if is_new:
            dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        else:
            dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(lambda chosen: answered(Path(chosen)))
        self.show(dialog)


class QuestionDialog(QDialog):
    """One question. No button is the default: Enter on a question answers nothing."""

    def __init__(self, question: Question, answered: Answered, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setWindowTitle(question.title)
        self._answered = answered
        layout = QVBoxLayout(self)
        layout.setContentsMargins(24, 20, 24, 20)
        layout.setSpacing(12)
        for number, line in enumerate(question.lines):
            label = QLabel(line, self, wordWrap=True, textFormat=Qt.TextFormat.PlainText)
            label.setProperty("look", "lead" if number == 0 else "")
            layout.addWidget(label)
        self.words = QLineEdit(self, maxLength=400)
        self.words.setAccessibleName(question.wants)
        self.words.setVisible(bool(question.wants))
        if question.wants:
            name = QLabel(question.wants, self)
            name.setBuddy(self.words)
            layout.addWidget(name)
            layout.addWidget(self.words)
        buttons = QDialogButtonBox(self)
        self.buttons: dict[str, QPushButton] = {}
        for key, verb in question.choices:
            button = buttons.addButton(verb, QDialogButtonBox.ButtonRole.ActionRole)
            button.setAutoDefault(False)
            button.setDefault(False)
            button.clicked.connect(lambda _=False, key=key: self._answer(key))
            self.buttons[key] = button
        close = buttons.addButton(say("ask.leave", {}), QDialogButtonBox.ButtonRole.RejectRole)
        close.setAutoDefault(False)
        layout.addWidget(buttons)
        self.rejected.connect(lambda: answered("", ""))
        self._wants = bool(question.wants)
        self.words.textChanged.connect(self._enable)
        self._enable()
        fit_height(self, 480)

    def _enable(self) -> None:
        is_ready = not self._wants or bool(self.words.text().strip())
        for button in self.buttons.values():
            button.setEnabled(is_ready)

    def _answer(self, key: str) -> None:
        words = self.words.text().strip()
        self.accept()
        self._answered(key, words)
