"""A small form in a dialog: fields, a verb, and what went wrong; what was typed stays until it has been saved."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtWidgets import QDialog, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from app.decision.domain.errors import BadInput, CuffdateError
from app.decision.judging.answers import Saved
from app.usecases.desk import Desk
from app.window.build import button, fit_height, label
from app.window.forms import Field, complaints
from app.window.shell import Shell
from app.words.saying import say, say_here

Act = Callable[["Desk"], Saved]


class FormDialog(QDialog):
    """`act` makes what is to be done from the fields, BadInput where they clash; `codes` are the pieces touched."""

    def __init__(
        self, shell: Shell, title: str, lead: str, fields: Sequence[Field[Any]], verb: str, act: Callable[[], Act],
        codes: Sequence[str],
    ) -> None:  # fmt: skip
        super().__init__(shell.ask.window)
        self._shell = shell
        self._act = act
        self._codes = list(codes)
        self.fields = list(fields)
        self.setWindowTitle(title)
        down = QVBoxLayout(self)
        down.setContentsMargins(24, 20, 24, 20)
        down.setSpacing(12)
        down.addWidget(label(lead, "lead"))
        down.addWidget(self._body(), 1)
        self.wrong = label("", "short")
        self.wrong.hide()
        down.addWidget(self.wrong)
        row = QHBoxLayout()
        row.addStretch(1)
        self.do = button(verb, self._do)
        row.addWidget(self.do)
        row.addWidget(button(say("ask.leave", {}), self.reject))
        down.addLayout(row)
        fit_height(self, 540)
        if self.fields:
            self.fields[0].editor.setFocus()

    def _body(self) -> QWidget:
        inner = QWidget()
        down = QVBoxLayout(inner)
        down.setContentsMargins(0, 0, 8, 0)
        down.setSpacing(10)
        for field in self.fields:
            down.addWidget(field)
        down.addStretch(1)
        if len(self.fields) < 6:
            return inner
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setMinimumHeight(380)
        area.setWidget(inner)
        return area

    def put(self) -> FormDialog:
        """Show it, if somebody is chosen who enters."""
        if self._shell.needs_by():
            self._shell.ask.show(self)
        return self

    def _do(self) -> None:
        if complaints([one for one in self.fields if one.isVisible()]):
            return
        try:
            act = self._act()
        except BadInput as fault:
            self._failed(fault)
            return
        self.do.setEnabled(False)
        self._shell.doors.change(act, self._done, self._failed, subjects=self._codes or ["*"])

    def _done(self, saved: Saved) -> None:
        self.accept()
        self._shell.saved(saved, self._codes)

    def _failed(self, fault: CuffdateError) -> None:
        self.do.setEnabled(True)
        self.wrong.setText(say_here(fault))
        self.wrong.show()
        fit_height(self, self.width())
        self._shell.complain(fault)
