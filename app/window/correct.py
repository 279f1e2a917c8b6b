"""Correcting what was just saved: which entry, why it is wrong, and it is struck by a new one that names it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QDialog, QHBoxLayout, QVBoxLayout, QWidget

from app.decision.domain.entries import Name
from app.decision.domain.errors import CuffdateError
from app.decision.judging.answers import Saved
from app.usecases.correct_entry import correct_entry
from app.window.build import button, fit_height, label
from app.window.forms import ChoiceField, TextField, complaints
from app.window.shell import Shell
from app.words.saying import say, say_here


class CorrectDialog(QDialog):
    """Strikes one entry. What it should have said is entered anew where it was entered."""

    def __init__(self, shell: Shell, entries: Sequence[Name], codes: Sequence[str], parent: QWidget | None) -> None:
        super().__init__(parent)
        self._shell = shell
        self._codes = list(codes)
        self.setWindowTitle(say("correct.title", {}))
        down = QVBoxLayout(self)
        down.setContentsMargins(24, 20, 24, 20)
        down.setSpacing(12)
        down.addWidget(label(say("correct.lead", {"pieces": ", ".join(codes[:12])}), "lead"))
        down.addWidget(label(say("correct.how", {}), "quiet"))
        self.entry = ChoiceField(
            say("correct.entry", {}), [(str(one), str(one)) for one in entries], is_needed=True
        )  # fmt: skip
        if len(entries) == 1:
            self.entry.choose(str(entries[0]))
        self.reason = TextField(say("correct.reason", {}), is_needed=True)
        down.addWidget(self.entry)
        down.addWidget(self.reason)
        self.wrong = label("", "short")
        self.wrong.hide()
        down.addWidget(self.wrong)
        row = QHBoxLayout()
        row.addStretch(1)
        self.strike = button(say("correct.strike", {}), self._strike)
        row.addWidget(self.strike)
        row.addWidget(button(say("ask.leave", {}), self.reject))
        down.addLayout(row)
        fit_height(self, 520)
        self.reason.setFocus()

    @classmethod
    def put(cls, shell: Shell, entries: Sequence[Name], codes: Sequence[str]) -> None:
        """Show it, if somebody is chosen who enters."""
        if shell.needs_by():
            shell.ask.show(cls(shell, entries, codes, shell.ask.window))

    def _strike(self) -> None:
        if complaints([self.entry, self.reason]):
            return
        by, entry, reason = self._shell.here.by, self.entry.value() or "", self.reason.value() or ""
        self.strike.setEnabled(False)
        self._shell.doors.change(
            lambda desk: correct_entry(desk, by, entry, reason), self._struck, self._not_struck,
            subjects=self._codes or ["*"],
        )  # fmt: skip

    def _struck(self, saved: Saved) -> None:
        self.accept()
        self._shell.saved(saved, self._codes)

    def _not_struck(self, fault: CuffdateError) -> None:
        """What was typed stays."""
        self.strike.setEnabled(True)
        self.wrong.setText(say_here(fault))
        self.wrong.show()
        fit_height(self, self.width())
        self._shell.complain(fault)
