"""A question as a dialog; loaded with the first that is asked."""

from __future__ import annotations

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLineEdit, QWidget

from app.window.build import button, column, fit_height, label
from app.window.question import Answered, Question
from app.words.saying import say


class QuestionDialog(QDialog):
    """One question. No button is the default: Enter on a question answers nothing."""

    def __init__(self, question: Question, answered: Answered, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setWindowTitle(question.title)
        self._answered = answered
        sentences = [label(line, "" if number else "lead") for number, line in enumerate(question.lines)]
        self.words = QLineEdit(self, maxLength=400)
        self.words.setAccessibleName(question.wants)
        self.words.setVisible(bool(question.wants))
        name = label(question.wants)
        name.setBuddy(self.words)
        asked = (name, self.words) if question.wants else ()
        keys = QDialogButtonBox(self)
        self.buttons = {key: button(verb, lambda key=key: self._answer(key)) for key, verb in question.choices}  # type: ignore[misc]  # bound now
        for verb in self.buttons.values():
            keys.addButton(verb, QDialogButtonBox.ButtonRole.ActionRole)
        keys.addButton(button(say("ask.leave", {}), self.reject), QDialogButtonBox.ButtonRole.RejectRole)
        column(*sentences, *asked, keys, on=self, spacing=12, margins=(24, 20, 24, 20))
        self.rejected.connect(lambda: answered("", ""))
        self._wants = bool(question.wants)
        self.words.textChanged.connect(self._enable)
        self._enable()
        fit_height(self, 480)

    def _enable(self) -> None:
        is_ready = not self._wants or bool(self.words.text().strip())
        for verb in self.buttons.values():
            verb.setEnabled(is_ready)

    def _answer(self, key: str) -> None:
        words = self.words.text().strip()
        self.accept()
        self._answered(key, words)
