"""Writing a list to a file: exactly its rows, in the register's thread, whole or not at all."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Generic, TypeVar

from PySide6.QtCore import QObject, Signal

from app.words.saying import listed, say

if TYPE_CHECKING:
    from app.domain.errors import CuffdateError
    from app.ui.rows_model import Column
    from app.ui.shell import Shell
    from app.usecases.desk import Desk

R = TypeVar("R")


class Export(QObject, Generic[R]):
    """Asks for a name and writes; `changed` tells that writing began or ended."""

    changed = Signal()

    def __init__(self, shell: Shell, parent: QObject) -> None:
        super().__init__(parent)
        self._shell = shell
        self.is_writing = False

    def put(self, name: str, columns: Sequence[Column[R]], shown: Callable[[], Sequence[R]]) -> None:
        """Ask where to; the rows are those shown once a name is chosen."""
        self._shell.ask.file_to_save(
            say("due.export", {}), say("due.kinds-of-file", {}), name, lambda path: self._write(path, columns, shown())
        )  # fmt: skip

    def _write(self, path: Path, columns: Sequence[Column[R]], rows: Sequence[R]) -> None:
        self._begun(is_writing=True)
        self._shell.tell(say("due.exporting", {"file": str(path)}), kind="wait")
        self._shell.doors.ask(
            lambda desk: write(desk, path, columns, rows), lambda anchors: self._written(path, len(rows), anchors),
            self._failed, owner=self, slot="export", is_long=True,
        )  # fmt: skip

    def _begun(self, *, is_writing: bool) -> None:
        self.is_writing = is_writing
        self.changed.emit()

    def _written(self, path: Path, count: int, anchors: Mapping[str, str]) -> None:
        self._begun(is_writing=False)
        anchor = say("entry.anchor", {"anchor": listed(f"{book} {one}" for book, one in anchors.items())})
        told = say("due.exported", {"count": count, "file": str(path), "anchor": anchor if anchors else ""})
        self._shell.tell(told.strip(), kind="done")

    def _failed(self, fault: CuffdateError) -> None:
        self._begun(is_writing=False)
        self._shell.complain(fault)


def write(desk: Desk, path: Path, columns: Sequence[Column[R]], rows: Sequence[R]) -> Mapping[str, str]:
    """Write these rows under their headings; answers the register's anchors. BadInput where the disk refuses."""
    from app.compose import write_file
    from app.paper.csv_table import render_rows

    cells = ([column.text(row) for column in columns] for row in rows)
    write_file(path, render_rows([column.title for column in columns], cells))
    return desk.anchors()
