"""Questions to whoever sits at the window: verbs on buttons, nothing chosen beforehand, never waiting in the middle."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QWidget

from app.window.question import Answered, Question

# Dialogs are loaded with the first that is shown: a window that starts asks nothing.
if TYPE_CHECKING:
    from PySide6.QtWidgets import QDialog


class Ask(QObject):
    """Puts questions as dialogs. `is_open`: one is waiting, so a scan has nowhere to land."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self.window = window
        self._open: list[QDialog] = []

    @property
    def is_open(self) -> bool:
        """Whether a question waits for an answer."""
        return any(dialog.isVisible() for dialog in self._open)

    def put(self, question: Question, answered: Answered) -> None:
        """Ask; `answered` gets the key chosen and the words filled in, ("", "") where it was closed without."""
        from app.window.question_dialog import QuestionDialog  # noqa: PLC0415  # dialogs, as said above

        self.show(QuestionDialog(question, answered, self.window))

    def show(self, dialog: QDialog) -> None:
        """Show any dialog of ours, so that scans know of it."""
        self._open = [shown for shown in self._open if shown.isVisible()] + [dialog]
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
        dialog.open()

    def file_to_open(self, title: str, kinds: str, answered: Callable[[Path], None]) -> None:
        """Choose a file that is there; not called where none is chosen."""
        self._file(title, kinds, answered, is_new=False)

    def file_to_save(self, title: str, kinds: str, name: str, answered: Callable[[Path], None]) -> None:
        """Choose a name to write under."""
        self._file(title, kinds, answered, is_new=True, name=name)

    def folder(self, title: str, answered: Callable[[Path], None]) -> None:
        """Choose a folder that is there."""
        from PySide6.QtWidgets import QFileDialog  # noqa: PLC0415  # as above

        dialog = QFileDialog(self.window, title)
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.fileSelected.connect(lambda chosen: answered(Path(chosen)))
        self.show(dialog)

    def _file(self, title: str, kinds: str, answered: Callable[[Path], None], *, is_new: bool, name: str = "") -> None:
        from PySide6.QtWidgets import QFileDialog  # noqa: PLC0415  # as above

        dialog = QFileDialog(self.window, title, name, kinds)
        if is_new:
            dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        else:
            dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(lambda chosen: answered(Path(chosen)))
        self.show(dialog)
