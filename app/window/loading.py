"""Bringing files into the register that is open: people and systems of a depot file, kit of a sheet.

Each is looked through first; what would be entered is shown and asked before anything is.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from app.compose import DepotFile, SheetRows, read_document, read_rows, write_left_out
from app.decision.judging.answers import Saved
from app.intake.register_sheet import SheetRow
from app.usecases.load_register import load_depot, load_sheet, taken
from app.window.doors import EVERYTHING
from app.window.places.start.state import BeginState
from app.window.question import Question
from app.window.shell import Shell
from app.words.saying import say, say_here


class Loading:
    """Asked from the menu, wherever one is in the window."""

    def __init__(self, shell: Shell) -> None:
        self._shell = shell

    def depot(self) -> None:
        """People, systems and site rules of a depot file."""
        if self._may_begin():
            self._shell.ask.file_to_open(say("bring.depot", {}), say("start.depot-kinds", {}), self._look_at_depot)

    def sheet(self) -> None:
        """Kit of a register sheet."""
        if self._may_begin():
            self._shell.ask.file_to_open(say("bring.sheet", {}), say("start.sheet-kinds", {}), self._look_at_sheet)

    def _may_begin(self) -> bool:
        if self._shell.doors.path is None:
            self._shell.tell(say("bring.none-open", {}), kind="wrong", is_heard=True)
            return False
        return self._shell.needs_by()

    def _look_at_depot(self, path: Path) -> None:
        self._shell.doors.aside(
            lambda: read_document(path), lambda brought: self._ask_depot(path, brought), self._shell.complain,
            owner=self._shell.here, slot="load",
        )  # fmt: skip

    def _ask_depot(self, path: Path, brought: DepotFile) -> None:
        document = brought.document
        read = BeginState(depot=path, brought=brought).depot_words()
        lines = (read, say("bring.depot-again", {}), *([say("bring.depot-rules", {})] if document.get("site") else []))

        def answered(key: str, _words: str) -> None:
            if key:
                self._load_depot(document)

        self._shell.ask.put(
            Question(say("bring.depot", {}), lines, (("load", say("bring.depot.do", {})),)), answered
        )  # fmt: skip

    def _load_depot(self, document: Mapping[str, object]) -> None:
        by = self._shell.here.by
        self._shell.doors.change(
            lambda desk: load_depot(desk, by, document), self._loaded, self._shell.complain, subjects=EVERYTHING
        )

    def _look_at_sheet(self, path: Path) -> None:
        today = self._shell.here.today
        self._shell.tell(say("start.reading", {"file": path.name}), kind="wait")
        self._shell.doors.aside(
            lambda: read_rows(path, today, None), lambda rows: self._look_what_is_new(path, rows), self._shell.complain,
            owner=self._shell.here, slot="load",
        )  # fmt: skip

    def _look_what_is_new(self, path: Path, rows: SheetRows) -> None:
        self._shell.doors.ask(
            lambda desk: taken(desk, rows.good), lambda there: self._ask_sheet(path, rows, there), self._shell.complain,
            owner=self._shell.here, slot="load",
        )  # fmt: skip

    def _ask_sheet(self, path: Path, rows: SheetRows, there: Mapping[str, str]) -> None:
        state = BeginState(sheet=path, rows=rows)
        read, bad = state.sheet_words(), state.bad_said()
        self._shell.tell(read)
        known = say("bring.sheet-there", {"count": len(there)}) if there else ""
        lines = tuple(part for part in (read, known, state.crib_words(), say("bring.sheet-seen", {}), bad) if part)
        new = [row for row in rows.good if row.piece.code not in there]
        verb = say("bring.sheet.do" if not rows.bad else "bring.sheet.do-leave-out", {"count": len(new)})

        def answered(key: str, _words: str) -> None:
            if key:
                self._load_sheet(path, rows, new)

        choices = (("load", verb),) if new else ()
        self._shell.ask.put(Question(say("bring.sheet", {}), lines, choices), answered)

    def _load_sheet(self, path: Path, rows: SheetRows, new: list[SheetRow]) -> None:
        by = self._shell.here.by

        def loaded(saved: Saved) -> None:
            self._loaded(saved)
            if rows.bad:
                self._leave_out(path, rows)

        self._shell.doors.change(
            lambda desk: load_sheet(desk, by, new), loaded, self._shell.complain, subjects=EVERYTHING
        )

    def _leave_out(self, path: Path, rows: SheetRows) -> None:
        """The rows that could not be used, in a sheet of their own beside the one they came from."""
        self._shell.doors.aside(
            lambda: write_left_out(path, rows.bad, None),
            lambda left: self._shell.tell(say("bring.left-out", {"left": [str(file) for file in left]})),
            lambda fault: self._shell.tell(say_here(fault), kind="wrong", is_heard=True),
            owner=self._shell.here, slot="left-out",
        )  # fmt: skip

    def _loaded(self, saved: Saved) -> None:
        told = say("bring.done", {"count": len(saved.entries)})
        self._shell.tell(told, kind="done", is_heard=True)
