"""A question as a dialog; loaded with the first that is asked."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from app.window.build import fit_height
from app.window.question import Answered, Question
from app.words.saying import say


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
