"""What keeps a slip of the hand from becoming an entry, for every widget at once.

The wheel turns nothing it was not clicked into; a key held down presses a button once; Tab leaves a table; copying rows
gives them with their headings.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QTableView,
)

# By name: each class of the toolkit that is imported has all its words made, used or not.
_TURNED = ("QComboBox", "QAbstractSpinBox", "QSlider", "QTabBar")
_PRESSED = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)


class Guards(QObject):
    """An event filter on the whole application."""

    def install(self, application: QApplication) -> None:
        """Watch every event from now on."""
        application.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802  # the toolkit's name
        """Swallow what would be a slip."""
        kind = event.type()
        if kind == QEvent.Type.Wheel:
            # Even a focused list is turned by mistake more often than on purpose; arrows and letters choose in it.
            if any(watched.inherits(name) for name in _TURNED):
                event.ignore()
                return True
        elif kind == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            return self._key(watched, event)
        return False

    @staticmethod
    def _key(watched: QObject, event: QKeyEvent) -> bool:
        if event.isAutoRepeat() and event.key() in _PRESSED:
            # A key held down is one press; letters and arrows may repeat.
            return True
        if isinstance(watched, QTableView) and event.matches(QKeySequence.StandardKey.Copy):
            copy_rows(watched)
            return True
        return False


def copy_rows(table: QTableView) -> None:
    """Put the selected rows on the clipboard, with the headings, as tab-separated lines."""
    model = table.model()
    columns = [number for number in range(model.columnCount()) if not table.isColumnHidden(number)]
    lines = [[_said(model.headerData(number, Qt.Orientation.Horizontal)) for number in columns]]
    rows = sorted({index.row() for index in table.selectedIndexes()})
    lines += [[_said(model.index(row, number).data()) for number in columns] for row in rows]
    QGuiApplication.clipboard().setText("\n".join("\t".join(line) for line in lines) + "\n")


def _said(value: object) -> str:
    text = "" if value is None else str(value)
    return " ".join(text.split())


def leave_by_tab(view: QAbstractItemView) -> None:
    """Tab goes on to the next widget instead of the next cell."""
    view.setTabKeyNavigation(False)


def no_default(button: QAbstractButton) -> None:
    """A button that Enter elsewhere never presses."""
    if hasattr(button, "setAutoDefault"):
        button.setAutoDefault(False)
