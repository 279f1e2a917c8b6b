"""The look-over of a scanned list: everything without a defect but what is said otherwise, in one act."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout

from app.decision.domain.errors import BadInput, CuffdateError
from app.decision.judging.answers import Saved
from app.usecases.desk import Desk
from app.usecases.log_check import inspect_list
from app.usecases.look_at_kit import OnCounter, look_at_kit
from app.window.build import button, label
from app.window.places.bench.form import BenchForm, Table
from app.window.places.bench.look_row import LookRow
from app.window.places.bench.look_state import LookState
from app.window.places.bench.state import kind_of
from app.window.shell import Shell
from app.words.saying import say


class LookForm(BenchForm):
    """The list stays until it has been entered or taken off, wherever one goes meanwhile. `left`: one piece instead."""

    key = "look"
    left = Signal()

    def __init__(self, shell: Shell) -> None:
        self.state = LookState()
        self.lines: dict[str, LookRow] = {}
        self._has_grown = False
        super().__init__(shell)
        self.area.setAccessibleName(say("bench.look.list", {}))
        self.area.verticalScrollBar().rangeChanged.connect(lambda *_: self._show_newest())
        shell.theme.changed.connect(lambda _: self.show_state())

    def build(self, down: QVBoxLayout) -> None:
        """The lead, the count, the rows."""
        down.addWidget(label(say("bench.look.lead", {})))
        across = QHBoxLayout()
        self.count = label("", "lead")
        across.addWidget(self.count, 1)
        self.put_shown = button("", self._put_shown)
        across.addWidget(self.put_shown)
        self.clear_list = button(say("bench.look.empty", {}), self.clear)
        across.addWidget(self.clear_list)
        across.addWidget(button(say("bench.look.leave", {}), self.left.emit))
        down.addLayout(across)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(6)
        down.addLayout(self._rows)

    # The list.

    def add(self, codes: Iterable[str]) -> None:
        """Take what was scanned; what is there already stands once."""
        if self.writing.is_on:
            return
        new, there = self.state.add(codes)
        key = "bench.look.put" if new else "bench.look.put-there"
        said = say(key, {"pieces": ", ".join(new or there)})
        self.shell.tell(said, kind="done" if new else "told", is_heard=True)
        self.refresh()

    def refresh(self) -> None:
        """Look at the pieces of the list again."""
        codes = tuple(self.state.rows)
        self.shell.doors.ask(
            lambda desk: look_at_kit(desk, codes), self._seen, self.shell.complain, owner=self, slot="list"
        )
        self.changed()

    def _seen(self, found: Mapping[str, OnCounter]) -> None:
        self.state.seen = found
        self.changed()

    def _put_shown(self) -> None:
        if self.code:
            self.add([self.code])

    def remove(self, code: str) -> None:
        """It was not looked over."""
        self.state.rows.pop(code, None)
        self.changed()

    def empty(self) -> None:
        """Nothing scanned."""
        self.state.rows.clear()

    def is_typed(self) -> bool:
        """A list is something to lose."""
        return bool(self.state.rows)

    # What is shown.

    def changed(self) -> None:
        """The rows that are there stay as they are, with what is filled in; new ones come below."""
        for code in [code for code in self.lines if code not in self.state.rows]:
            gone = self.lines.pop(code)
            self._rows.removeWidget(gone)
            gone.hide()
            gone.deleteLater()
        has_grown = False
        for code, looked in self.state.rows.items():
            one = self.state.seen.get(code)
            if code not in self.lines and one is not None:
                self.lines[code] = row = LookRow(self.shell.theme, code, looked, one, kind_of(one))
                row.changed.connect(self.show_state)
                row.removed.connect(self.remove)
                self._rows.addWidget(row)
                has_grown = True
        self._answer = self.state.review()
        self.show_state()
        self._has_grown = self._has_grown or has_grown

    def _show_newest(self) -> None:
        """The newest row in sight, as soon as it has been laid out."""
        if self._has_grown:
            self._has_grown = False
            self.area.verticalScrollBar().setValue(self.area.verticalScrollBar().maximum())

    def show_state(self) -> None:
        """Marks and counts of what is said now."""
        if hasattr(self, "save_key"):
            self._answer = self.state.review()
            bad = len(self.state.exceptions)
            self.count.setText(
                say("bench.look.count", {"count": len(self.state.rows), "bad": bad})
                if self.state.rows else say("bench.look.none", {})
            )  # fmt: skip
            for code, line in self.lines.items():
                line.show_row(*self.state.row(code))
            self.clear_list.setEnabled(bool(self.state.rows))
            self.put_shown.setVisible(bool(self.code) and self.code not in self.state.rows)
            self.put_shown.setText(say("bench.look.put-shown", {"piece": self.code}))
            self.save_key.setText(say("bench.look.save", {"count": len(self.state.rows)}))
            super().show_state()

    def can_save(self) -> bool:
        """A list with something in it."""
        return bool(self.state.rows) and not self.writing.is_on

    def focus(self) -> None:
        """Scans go into the list wherever the keyboard is."""

    # Saving.

    def save(self) -> None:
        """One act for the whole list; a figure that cannot be read is complained about in its row."""
        if not self.can_save() or not self.writing.may_begin():
            return
        wrong = [line for line in self.lines.values() if line.complaint()]
        if wrong:
            wrong[0].focus_wrong()
            fault = BadInput("bench.look.row-wrong", thing=wrong[0].code, why=wrong[0].complaint())
            self.shell.complain(fault)
            return
        self.write(self.act(self.shell.here.by, "", {}), tuple(self.state.rows))

    def not_saved(self, fault: CuffdateError) -> None:
        """Somebody may have entered something about them."""
        del fault
        self.refresh()

    def table(self) -> Table:
        """Nothing is said of all of them."""
        return {}

    def act(self, by: str, code: str, table: Table) -> Callable[[Desk], Saved]:
        """Enter it."""
        del code
        codes, exceptions, of_each = tuple(self.state.rows), self.state.exceptions, self.state.of_each()
        return lambda desk: inspect_list(desk, by, codes, exceptions, table, of_each)
