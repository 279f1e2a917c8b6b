"""Correcting what was just saved: which entry, why it is wrong, and it is struck by a new one that names it."""

from __future__ import annotations

from collections.abc import Sequence

from app.decision.domain.entries import Name
from app.usecases.correct_entry import correct_entry
from app.window.form_dialog import Act, FormDialog
from app.window.forms import ChoiceField, TextField
from app.window.shell import Shell
from app.words.saying import say

_MOST_NAMED = 12


class CorrectDialog(FormDialog):
    """Strikes one entry. What it should have said is entered anew where it was entered."""

    def __init__(self, shell: Shell, entries: Sequence[Name], codes: Sequence[str]) -> None:
        names = [str(entry) for entry in entries]
        self.entry = ChoiceField(say("correct.entry", {}), [(name, name) for name in names], is_needed=True)
        self.reason = TextField(say("correct.reason", {}), is_needed=True)
        lead = say("correct.lead", {"pieces": codes[:_MOST_NAMED]})
        words = (say("correct.title", {}), say("correct.strike", {}), (lead, say("correct.how", {})))
        super().__init__(shell, words, [self.entry, self.reason], self._strike, codes)
        if len(names) == 1:
            self.entry.choose(names[0])
        self.reason.editor.setFocus()

    def _strike(self) -> Act:
        by, entry, reason = self._shell.here.by, self.entry.value() or "", self.reason.value() or ""
        return lambda desk: correct_entry(desk, by, entry, reason)
