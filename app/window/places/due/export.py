"""Writing a list to a file: exactly its rows, in the register's thread, whole or not at all; beside it what it is."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QObject, Signal

from app.compose import write_file
from app.outputs.paper.csv_table import render_rows
from app.words.saying import listed, say

if TYPE_CHECKING:
    from app.decision.domain.errors import CuffdateError
    from app.decision.domain.facts import Facts
    from app.register.reads.last_tests import LastTest
    from app.usecases.desk import Desk
    from app.usecases.look_at_shelf import OnShelf
    from app.window.rows_model import Column
    from app.window.shell import Shell


class Filtered(NamedTuple):
    """What is known of a list beside its rows: how it is filtered, in words, and under which facts it was made."""

    says: str
    facts: Facts


class Written(NamedTuple):
    """Where the file that says what was written is, and the register's anchors in words."""

    about: Path
    anchor: str


class Export(QObject):
    """Asks for a name and writes; `changed` tells that writing began or ended."""

    changed = Signal()

    def __init__(self, shell: Shell, parent: QObject) -> None:
        super().__init__(parent)
        self._shell = shell
        self.is_writing = False

    def put(
        self,
        name: str,
        columns: Sequence[Column[OnShelf]],
        shown: Callable[[], Sequence[OnShelf]],
        filtered: Callable[[], Filtered],
    ) -> None:
        """Ask where to; the rows are those shown once a name is chosen."""
        self._shell.ask.file_to_save(
            say("due.export", {}), say("due.kinds-of-file", {}), name,
            lambda path: self._write(path, columns, shown(), filtered()),
        )  # fmt: skip

    def _write(
        self, path: Path, columns: Sequence[Column[OnShelf]], rows: Sequence[OnShelf], filtered: Filtered
    ) -> None:
        self._begun(is_writing=True)
        self._shell.tell(say("due.exporting", {"file": str(path)}), kind="wait")
        register = str(self._shell.doors.path or "")
        self._shell.doors.ask(
            lambda desk: write(desk, path, register, columns, rows, filtered),
            lambda done: self._written(path, len(rows), done), self._failed, owner=self, slot="export", is_long=True,
        )  # fmt: skip

    def _begun(self, *, is_writing: bool) -> None:
        self.is_writing = is_writing
        self.changed.emit()

    def _written(self, path: Path, count: int, done: Written) -> None:
        self._begun(is_writing=False)
        values = {"count": count, "file": str(path), "about": str(done.about), "anchor": done.anchor}
        self._shell.tell(say("due.exported", values).strip(), kind="done")

    def _failed(self, fault: CuffdateError) -> None:
        self._begun(is_writing=False)
        self._shell.complain(fault)


def write(
    desk: Desk,
    path: Path,
    register: str,
    columns: Sequence[Column[OnShelf]],
    rows: Sequence[OnShelf],
    filtered: Filtered,
) -> Written:
    """Write these rows under their headings, with what is not on the screen behind them, and what they are beside it.

    BadInput where the disk refuses.
    """
    # The database library, 180 modules: the first rows of a list come before it.
    from app.register.reads.last_tests import last_tests  # noqa: PLC0415

    everything = [(column.title, column.text) for column in columns] + more_columns(desk.ask(last_tests), columns)
    cells = ([text(row) for _, text in everything] for row in rows)
    write_file(path, render_rows([title for title, _ in everything], cells))
    anchors = desk.anchors()
    anchor = say("entry.anchor", {"anchor": listed(f"{book} {end}" for book, end in anchors.items())})
    beside = path.with_name(f"{path.stem}.about.txt")
    write_file(beside, about(path, register, filtered, len(rows), anchor if anchors else ""))
    return Written(beside, anchor if anchors else "")


def more_columns(
    tests: dict[str, LastTest], columns: Sequence[Column[OnShelf]]
) -> list[tuple[str, Callable[[OnShelf], str]]]:
    """What a file tells beside the columns of its list: the marks it does not show, and the last test of each."""
    there = {column.title for column in columns}

    def of_test(part: str) -> Callable[[OnShelf], str]:
        return lambda row: getattr(tests[row.code], part) if row.code in tests else ""

    more: list[tuple[str, Callable[[OnShelf], str]]] = [
        (say("due.head.class", {}), lambda row: row.insulation_class),
        (say("due.head.size", {}), lambda row: row.size),
        (say("due.head.tested", {}), of_test("on")),
        (say("due.head.lab", {}), of_test("lab")),
        (say("due.head.certificate", {}), of_test("certificate")),
    ]
    return [(title, text) for title, text in more if title not in there]


def about(path: Path, register: str, filtered: Filtered, count: int, anchor: str) -> str:
    """What a list is that was written to a file, line by line."""
    facts = filtered.facts
    values = {
        "file": path.name, "count": count, "register": register, "says": filtered.says, "today": facts.on,
        "sets": listed(rule_set.title for rule_set in facts.rule_sets), "anchor": anchor,
    }  # fmt: skip
    keys = (
        "due.about-file.file", "due.about-file.register", "due.about-file.filter", "due.about-file.day",
        "due.about-file.sets",
    )  # fmt: skip
    lines = [say(key, values) for key in keys]
    return "\n".join([*lines, *([anchor] if anchor else []), say("caution.check", {}), say("caution.defer", {}), ""])
