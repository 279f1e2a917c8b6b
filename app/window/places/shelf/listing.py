"""The shelf's list: what stands in a row, and its order by heading or keyboard."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QActionGroup
from PySide6.QtWidgets import QMenu, QToolButton

from app.usecases.look_at_shelf import OnShelf
from app.window.places.shelf import state as shown
from app.window.rows_model import Column
from app.window.tables import RowsTable
from app.words.saying import say

_ASCENDING, _DESCENDING = Qt.SortOrder.AscendingOrder, Qt.SortOrder.DescendingOrder


def columns() -> list[Column[OnShelf]]:
    """What stands in a row."""
    return [
        Column(say("shelf.column.piece", {}), lambda row: row.code, width=84),
        Column(say("shelf.column.status", {}), shown.status_words, shown.status_order, mark=shown.mark, width=156),
        Column(say("shelf.column.until", {}), shown.until_words, width=96),
        Column(say("shelf.column.kind", {}), shown.kind_words, width=170),
        Column(say("shelf.column.class", {}), lambda row: row.insulation_class, shown.class_order, width=60),
        Column(say("shelf.column.size", {}), lambda row: row.size, shown.size_order, width=54),
        Column(say("shelf.column.with", {}), shown.with_words, width=160),
        Column(say("shelf.column.why", {}), shown.why_words, lambda row: row.row.status.why.key, width=420),
    ]


class OrderKey(QToolButton):
    """The order of the list for whoever has no mouse to click a heading with; it and the headings say the same."""

    def __init__(self, table: RowsTable[OnShelf]) -> None:
        super().__init__()
        self._table = table
        self.setText(say("shelf.order", {}))
        self.setAccessibleName(say("shelf.order-name", {}))
        self.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(self)
        group = QActionGroup(menu)
        self.by: list[QAction] = []
        for number, column in enumerate(table.rows.columns):
            action = QAction(column.title, menu, checkable=True)
            action.triggered.connect(lambda _=False, number=number: self._put(number))
            group.addAction(action)
            menu.addAction(action)
            self.by.append(action)
        menu.addSeparator()
        self.backwards = QAction(say("shelf.reversed", {}), menu, checkable=True)
        self.backwards.triggered.connect(lambda _=False: self._put(max(0, self._now())))
        menu.addAction(self.backwards)
        self.setMenu(menu)
        table.horizontalHeader().sortIndicatorChanged.connect(self._show)

    def _now(self) -> int:
        return self._table.horizontalHeader().sortIndicatorSection()

    def _put(self, column: int) -> None:
        self._table.sortByColumn(column, _DESCENDING if self.backwards.isChecked() else _ASCENDING)

    def _show(self, column: int, order: Qt.SortOrder) -> None:
        if 0 <= column < len(self.by):
            self.by[column].setChecked(True)
        self.backwards.setChecked(order == _DESCENDING)
