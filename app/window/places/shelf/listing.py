"""The shelf's list: columns, what is chosen in it through every new filling, its order by heading or keyboard."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from PySide6.QtCore import QItemSelection, QItemSelectionModel, Qt, Signal
from PySide6.QtGui import QAction, QActionGroup, QIcon
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QMenu, QTableView, QToolButton

from app.usecases.look_at_shelf import OnShelf
from app.window.guards import leave_by_tab
from app.window.paint import icon
from app.window.places.shelf import state as shown
from app.window.rows_model import Column, RowsModel
from app.window.theme import Theme
from app.words.saying import say

_ASCENDING, _DESCENDING = Qt.SortOrder.AscendingOrder, Qt.SortOrder.DescendingOrder
_FLAGS = QItemSelectionModel.SelectionFlag
ROW_PX = 30


def columns(mark: Callable[[OnShelf], QIcon]) -> list[Column[OnShelf]]:
    """What stands in a row; `mark` is the icon of its standing."""
    return [
        Column(say("shelf.column.piece", {}), lambda row: row.code, width=84),
        Column(say("shelf.column.status", {}), shown.status_words, shown.status_order, mark=mark, width=156),
        Column(say("shelf.column.until", {}), shown.until_words, width=96),
        Column(say("shelf.column.kind", {}), shown.kind_words, width=170),
        Column(say("shelf.column.class", {}), lambda row: row.insulation_class, shown.class_order, width=60),
        Column(say("shelf.column.size", {}), lambda row: row.size, shown.size_order, width=54),
        Column(say("shelf.column.with", {}), shown.with_words, width=160),
        Column(say("shelf.column.why", {}), shown.why_words, lambda row: row.row.status.why.key, width=420),
    ]


class ShelfTable(QTableView):
    """`chosen`: other pieces are chosen now, or none. What is chosen stays so as long as it is shown."""

    chosen = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._icons: dict[object, QIcon] = {}
        self.rows = RowsModel(columns(self._mark), lambda row: row.code, shown.searched, self)
        self.setModel(self.rows)
        self.setAccessibleName(say("shelf.list", {}))
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setAlternatingRowColors(True)
        self.setSortingEnabled(True)
        head = self.horizontalHeader()
        # A selection of its own, always empty: else the heading asks every row of every column whether it is chosen,
        # which takes seconds where all are.
        head.setSelectionModel(QItemSelectionModel(self.rows, head))
        head.setSortIndicator(-1, _ASCENDING)
        head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        down = self.verticalHeader()
        down.hide()
        down.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        down.setDefaultSectionSize(ROW_PX)
        self.setWordWrap(False)
        self.setMinimumWidth(360)
        leave_by_tab(self)
        for number, column in enumerate(self.rows.columns):
            self.setColumnWidth(number, column.width)
        self.selectionModel().selectionChanged.connect(lambda *_: self.chosen.emit())
        theme.changed.connect(lambda _: self._redraw_marks())

    def _mark(self, row: OnShelf) -> QIcon:
        key = shown.MARKS[row.row.status.state]
        if key not in self._icons:
            self._icons[key] = icon(*key, self._theme.name, 16)
        return self._icons[key]

    def _redraw_marks(self) -> None:
        self._icons.clear()
        self.viewport().update()

    def codes(self) -> list[str]:
        """The pieces chosen, in the order shown."""
        return [self.rows.row_at(place).code for place in self.places()]

    def kinds(self) -> set[str]:
        """The kinds of the pieces chosen."""
        return {self.rows.row_at(place).row.status.piece.kind for place in self.places()}

    def places(self) -> list[int]:
        """Where the pieces chosen stand; run by run, as the toolkit's own list takes seconds where all are chosen."""
        found: set[int] = set()
        chosen = self.selectionModel().selection()
        for number in range(chosen.count()):
            run = chosen.at(number)
            found.update(range(run.top(), run.bottom() + 1))
        return sorted(found)

    def fill(self, found: Iterable[OnShelf], texts: Iterable[str] = ()) -> None:
        """Show these rows in place of those there; what is chosen, and the place scrolled to, stay."""
        chosen = self.codes()
        at = (self.verticalScrollBar().value(), self.horizontalScrollBar().value())
        self.rows.set_rows(found, texts)
        self._select(chosen)
        self.updateGeometries()
        self.verticalScrollBar().setValue(at[0])
        self.horizontalScrollBar().setValue(at[1])
        if chosen:
            # The rows are other ones now, and so may be what is known of the piece.
            self.chosen.emit()

    def narrow(self, words: str, keeps: Callable[[OnShelf], bool] | None) -> None:
        """Show what passes; a piece that does not is no longer chosen, so that nothing is done to what is not seen."""
        before = len(self.places())
        self.rows.set_filter(words, keeps)
        if before != len(self.places()):
            self.chosen.emit()

    def choose(self, code: str) -> bool:
        """Choose this piece alone and bring it into sight; False where it is not shown."""
        place = self.rows.place_of(code)
        if place < 0:
            return False
        self.selectionModel().setCurrentIndex(self.rows.index(place, 0), _FLAGS.ClearAndSelect | _FLAGS.Rows)
        self.scrollTo(self.rows.index(place, 0))
        return True

    def choose_first(self) -> None:
        """Go on in the list by keyboard, from its first row where none is chosen."""
        if self.rows.rowCount():
            if not self.selectionModel().hasSelection():
                self.choose(self.rows.row_at(0).code)
            self.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _select(self, codes: Iterable[str]) -> None:
        wanted = set(codes)
        if not wanted:
            return
        places: list[int] = []
        for place in range(self.rows.rowCount()):
            if self.rows.row_at(place).code in wanted:
                places.append(place)
                if len(places) == len(wanted):
                    break
        selection = QItemSelection()
        last = self.rows.columnCount() - 1
        for begin, end in _runs(places):
            selection.select(self.rows.index(begin, 0), self.rows.index(end, last))
        model = self.selectionModel()
        model.blockSignals(True)
        model.select(selection, _FLAGS.ClearAndSelect)
        if places:
            model.setCurrentIndex(self.rows.index(places[0], 0), _FLAGS.NoUpdate)
        model.blockSignals(False)


def _runs(places: Iterable[int]) -> list[tuple[int, int]]:
    """Rising numbers as runs without a gap, first and last of each."""
    found: list[tuple[int, int]] = []
    for place in places:
        if found and found[-1][1] == place - 1:
            found[-1] = (found[-1][0], place)
        else:
            found.append((place, place))
    return found


class OrderKey(QToolButton):
    """The order of the list for whoever has no mouse to click a heading with; it and the headings say the same."""

    def __init__(self, table: ShelfTable) -> None:
        super().__init__()
        self._table = table
        self.setText(say("shelf.order", {}))
        self.setAccessibleName(say("shelf.order-name", {}))
        self.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(self)
        group = QActionGroup(menu)
        self.by: list[QAction] = []
        for number, column in enumerate(table.rows.columns):
            one = QAction(column.title, menu, checkable=True)
            one.triggered.connect(lambda _=False, number=number: self._put(number))
            group.addAction(one)
            menu.addAction(one)
            self.by.append(one)
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
