"""A small form in a dialog: fields, a verb, and what went wrong; what was typed stays until it has been saved."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtWidgets import QDialog, QWidget

from app.decision.domain.errors import BadInput, CuffdateError
from app.decision.judging.answers import Saved
from app.usecases.desk import Desk
from app.window.build import REST, box, button, column, fit_height, label, row
from app.window.forms import Field, complaints
from app.window.lists import scrolled
from app.window.shell import Shell
from app.window.writing import Writing
from app.words.saying import say, say_here

Act = Callable[["Desk"], Saved]
# With this many fields a dialog scrolls.
_MANY, _SCROLLED_PX = 6, 380


class FormDialog(QDialog):
    """`words`: title, verb and sentences, the first of them the lead; `codes` are the pieces touched.

    `act` makes what is to be done from the fields, BadInput where they clash.
    """

    def __init__(
        self,
        shell: Shell,
        words: tuple[str, str, Sequence[str]],
        fields: Sequence[Field[Any]],
        act: Callable[[], Act],
        codes: Sequence[str],
    ) -> None:
        super().__init__(shell.ask.window)
        title, verb, (lead, *more) = words
        self._shell = shell
        self._act = act
        self._codes = list(codes)
        self._writing = Writing(shell, self._enable)
        self.fields = list(fields)
        self.setWindowTitle(title)
        self.wrong = label("", "short")
        self.wrong.hide()
        self.do = button(verb, self._do)
        keys = row(REST, self.do, button(say("ask.leave", {}), self.reject))
        sentences = (label(lead, "lead"), *(label(line, "quiet") for line in more))
        column(*sentences, (self._body(), 1), self.wrong, keys, on=self, spacing=12, margins=(24, 20, 24, 20))
        fit_height(self, 540)
        if self.fields:
            self.fields[0].editor.setFocus()

    def _body(self) -> QWidget:
        inner = box(column(*self.fields, REST, spacing=10, margins=(0, 0, 8, 0)))
        if len(self.fields) < _MANY:
            return inner
        area = scrolled(inner)
        area.setMinimumHeight(_SCROLLED_PX)
        return area

    def put(self) -> FormDialog:
        """Show it, if somebody is chosen who enters."""
        if self._shell.needs_by():
            self._shell.ask.show(self)
        return self

    def _enable(self) -> None:
        self.do.setEnabled(not self._writing.is_on)

    def _do(self) -> None:
        if complaints([field for field in self.fields if field.isVisible()]):
            return
        try:
            act = self._act()
        except BadInput as fault:
            self._failed(fault)
            self._shell.complain(fault)
            return
        self._writing.save(act, self._codes, self.done_with, self._failed)

    def done_with(self) -> None:
        """It has been saved."""
        self.accept()

    def _failed(self, fault: CuffdateError) -> None:
        """What was typed stays."""
        self.wrong.setText(say_here(fault))
        self.wrong.show()
        fit_height(self, self.width())
