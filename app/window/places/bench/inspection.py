"""The inspection of a scanned list: everything without a defect but what is said otherwise, in one act."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout

from app.decision.domain.errors import BadInput
from app.usecases.log_check import inspect_list
from app.usecases.look_at_kit import OnCounter, look_at_kit
from app.window.build import button, column, label, row
from app.window.places.bench.form import Act, BenchForm
from app.window.places.bench.look_row import LookRow
from app.window.places.bench.look_state import LookState
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
        self.count = label("", "lead")
        self.put_shown = button("", self._put_shown)
        self.clear_list = button(say("bench.look.empty", {}), self.clear)
        leave = button(say("bench.look.leave", {}), self.left.emit)
        self._rows = column(spacing=6)
        down.addWidget(label(say("bench.look.lead", {})))
        down.addLayout(row((self.count, 1), self.put_shown, self.clear_list, leave))
        down.addLayout(self._rows)

    # The list.

    def add(self, codes: Iterable[str]) -> None:
        """Take what was scanned; what is there already stands once."""
        if self.writing.is_on:
            return
        new, there = self.state.add(codes)
        key = "bench.look.put" if new else "bench.look.put-there"
        told = say(key, {"pieces": new or there})
        self.shell.tell(told, kind="done" if new else "told", is_heard=True)
        self.refresh()

    def refresh(self) -> None:
        """Look at the pieces of the list again."""
        codes = tuple(self.state.rows)
        self.shell.doors.ask(
            lambda desk: look_at_kit(desk, codes), self._seen, self.shell.complain, owner=self, slot="list"
        )
        self.changed()

    def _seen(self, pieces: Mapping[str, OnCounter]) -> None:
        self.state.seen = pieces
        self.changed()

    def _put_shown(self) -> None:
        if self.code:
            self.add([self.code])

    def remove(self, code: str) -> None:
        """It was not inspected."""
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
            piece = self.state.seen.get(code)
            if code not in self.lines and piece is not None:
                self.lines[code] = line = LookRow(self.shell.theme, code, looked, piece)
                line.changed.connect(self.show_state)
                line.removed.connect(self.remove)
                self._rows.addWidget(line)
                has_grown = True
        self.show_state()
        self._has_grown = self._has_grown or has_grown

    def _show_newest(self) -> None:
        """The newest row in sight, as soon as it has been laid out."""
        if self._has_grown:
            self._has_grown = False
            self.area.verticalScrollBar().setValue(self.area.verticalScrollBar().maximum())

    def show_state(self) -> None:
        """Marks and counts of what is said now."""
        count, bad = len(self.state.rows), len(self.state.exceptions)
        self._answer = self.state.review()
        self.count.setText(say("bench.look.count" if count else "bench.look.none", {"count": count, "bad": bad}))
        for code, line in self.lines.items():
            line.show_row(*self.state.row(code))
        self.clear_list.setEnabled(count > 0)
        self.put_shown.setVisible(bool(self.code) and self.code not in self.state.rows)
        self.put_shown.setText(say("bench.look.put-shown", {"piece": self.code}))
        self.save_key.setText(say("bench.look.save", {"count": count}))
        super().show_state()

    def can_save(self) -> bool:
        """A list with something in it."""
        return bool(self.state.rows) and not self.writing.is_on

    def focus(self) -> None:
        """Scans go into the list wherever the keyboard is."""

    # Saving.

    def codes(self) -> Sequence[str]:
        """All of the list: it is one act."""
        return list(self.state.rows)

    def complained(self) -> bool:
        """A figure that cannot be read is complained about in its row."""
        wrong = next((line for line in self.lines.values() if line.complaint()), None)
        if wrong is not None:
            wrong.focus_wrong()
            self.shell.complain(BadInput("bench.look.row-wrong", thing=wrong.code, why=wrong.complaint()))
        return wrong is not None

    def not_saved(self) -> None:
        """Somebody may have entered something about them."""
        self.refresh()

    def act(self, by: str) -> Act:
        """Enter it; nothing is said of all of them."""
        codes, exceptions, of_each = tuple(self.state.rows), self.state.exceptions, self.state.of_each()
        return lambda desk: inspect_list(desk, by, codes, exceptions, {}, of_each)
