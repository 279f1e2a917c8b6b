"""Lists and what scrolls: tables over a `RowsModel`, parts with a bar beside them, and a choice in a row."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QComboBox, QScrollArea, QTableView, QWidget

from app.window.guards import leave_by_tab
from app.window.rows_model import RowsModel

ROW_PX = 30
_HEADS = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


def laid_out(table: QTableView, rows: RowsModel[Any], name: str, *, takes_many: bool = False) -> None:
    """Show these rows, whole rows chosen, each column as wide as it is declared; Tab leaves the table."""
    table.setModel(rows)
    table.setAccessibleName(name)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    mode = QAbstractItemView.SelectionMode
    table.setSelectionMode(mode.ExtendedSelection if takes_many else mode.SingleSelection)
    table.horizontalHeader().setDefaultAlignment(_HEADS)
    table.verticalHeader().hide()
    table.setWordWrap(False)
    leave_by_tab(table)
    for number, column in enumerate(rows.columns):
        table.setColumnWidth(number, column.width)


def sortable(table: QTableView) -> None:
    """Rows of one height, every second one shaded, sorted by the heading that is pressed."""
    table.setAlternatingRowColors(True)
    table.setSortingEnabled(True)
    table.verticalHeader().setDefaultSectionSize(ROW_PX)


def scrolled(inner: QWidget | None = None, name: str = "", *, takes_keys: bool = False) -> QScrollArea:
    """A part that scrolls up and down only. `takes_keys`: Tab stops at it, so that arrows can scroll it."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    if not takes_keys:
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    if name:
        area.setAccessibleName(name)
    if inner is not None:
        area.setWidget(inner)
    return area


def choice(name: str, options: Iterable[tuple[str, str]], chosen: str, changed: Callable[[str], object]) -> QComboBox:
    """A choice that stands in a row and has no label of its own; options are (key, words)."""
    box = QComboBox()
    box.setAccessibleName(name)
    for key, words in options:
        box.addItem(words, key)
    box.setCurrentIndex(max(0, box.findData(chosen)))
    box.currentIndexChanged.connect(lambda _: changed(str(box.currentData() or "")))
    return box
