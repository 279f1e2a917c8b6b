"""Correcting what was just saved: which entry, why it is wrong, and it is struck by a new one that names it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QDialog, QHBoxLayout, QVBoxLayout, QWidget

from app.domain.entries import Name
from app.ui.forms import ChoiceField, TextField, button, complaints, fit_height, label
from app.ui.shell import Shell
from app.words.saying import say


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
        from app.usecases.correct_entry import correct_entry

        if complaints([self.entry, self.reason]):
            return
        by, entry, reason = self._shell.here.by, self.entry.value() or "", self.reason.value() or ""
        self.accept()
        codes = self._codes
        self._shell.doors.change(
            lambda desk: correct_entry(desk, by, entry, reason),
            lambda saved: self._shell.saved(saved, codes),
            self._shell.complain,
            subjects=codes or ["*"],
        )
