"""Lists of rows: one look, what is chosen through every new filling, and the line that narrows them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QItemSelection, QItemSelectionModel, Qt, Signal
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QAbstractItemView, QHBoxLayout, QHeaderView, QTableView

from app.outputs.pictures.scene import Role, ShapeKind
from app.window.build import code_line, column, label
from app.window.forms import Field
from app.window.guards import leave_by_tab
from app.window.paint import icon
from app.window.rows_model import RowsModel
from app.window.theme import Theme

R = TypeVar("R")
_FLAGS = QItemSelectionModel.SelectionFlag
_MODES = QAbstractItemView.SelectionMode
ROW_PX = 30
_ICON_PX = 16


class RowsTable(QTableView, Generic[R]):
    """`chosen`: other rows are chosen now, or none. What is chosen stays so as long as it is shown.

    `takes_many`: several rows can be chosen at once; `wraps`: long cells take several lines.
    """

    chosen = Signal()

    def __init__(
        self, theme: Theme, rows: RowsModel[R], name: str, *, takes_many: bool = False, wraps: bool = False
    ) -> None:
        super().__init__()
        self.rows = rows
        self._theme = theme
        self._icons: dict[object, QIcon] = {}
        rows.setParent(self)
        rows.drawn = self._icon
        self.setModel(rows)
        self.setAccessibleName(name)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(_MODES.ExtendedSelection if takes_many else _MODES.SingleSelection)
        self.setWordWrap(wraps)
        self._put_heads(wraps=wraps)
        if wraps:
            self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
            self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        else:
            self.setAlternatingRowColors(True)
        leave_by_tab(self)
        for number, of_rows in enumerate(rows.columns):
            self.setColumnWidth(number, of_rows.width)
        self.selectionModel().selectionChanged.connect(lambda *_: self.chosen.emit())
        theme.changed.connect(lambda _: self._redraw_marks())

    def _put_heads(self, *, wraps: bool) -> None:
        head, beside = self.horizontalHeader(), self.verticalHeader()
        # A selection of its own, always empty: else the heading asks every row of every column whether it is chosen,
        # which takes seconds where all are.
        head.setSelectionModel(QItemSelectionModel(self.rows, head))
        head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        beside.hide()
        if wraps:
            beside.setMinimumSectionSize(ROW_PX)
        else:
            beside.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
            beside.setDefaultSectionSize(ROW_PX)

    def sort_by(self, number: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Let headings sort; this column does to begin with, -1 for the order the rows come in."""
        self.horizontalHeader().setSortIndicator(number, order)
        self.setSortingEnabled(True)

    def _icon(self, mark: tuple[ShapeKind, Role]) -> QIcon:
        if mark not in self._icons:
            self._icons[mark] = icon(*mark, self._theme.name, _ICON_PX)
        return self._icons[mark]

    def _redraw_marks(self) -> None:
        self._icons.clear()
        self.viewport().update()

    # What is chosen.

    def places(self) -> list[int]:
        """Where the rows chosen stand; run by run, as the toolkit's own list takes seconds where all are chosen."""
        places: set[int] = set()
        chosen = self.selectionModel().selection()
        for number in range(chosen.count()):
            run = chosen.at(number)
            places.update(range(run.top(), run.bottom() + 1))
        return sorted(places)

    def chosen_rows(self) -> list[R]:
        """The rows chosen, in the order shown."""
        return [self.rows.row_at(place) for place in self.places()]

    def names(self) -> list[str]:
        """Their names, as the model calls them."""
        return [self.rows.name(row) for row in self.chosen_rows()]

    def choose(self, name: str) -> bool:
        """Choose the row of this name alone and bring it into sight; False where it is not shown."""
        place = self.rows.place_of(name)
        if place < 0:
            return False
        self.selectionModel().setCurrentIndex(self.rows.index(place, 0), _FLAGS.ClearAndSelect | _FLAGS.Rows)
        self.scrollTo(self.rows.index(place, 0))
        return True

    def choose_first(self) -> None:
        """Go on in the list by keyboard, from its first row where none is chosen."""
        if self.rows.rowCount():
            if not self.selectionModel().hasSelection():
                self.choose(self.rows.name(self.rows.row_at(0)))
            self.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def fill(self, rows: Iterable[R], texts: Iterable[str] = ()) -> None:
        """Show these rows in place of those there; what is chosen, and the place scrolled to, stay."""
        chosen = self.names()
        at = (self.verticalScrollBar().value(), self.horizontalScrollBar().value())
        self.rows.set_rows(rows, texts)
        self._select(chosen)
        self.updateGeometries()
        self.verticalScrollBar().setValue(at[0])
        self.horizontalScrollBar().setValue(at[1])
        if chosen:
            # The rows are other ones now, and so may be what is known of them.
            self.chosen.emit()

    def narrow(self, words: str, keeps: Callable[[R], bool] | None) -> None:
        """Show what passes; a row that does not is no longer chosen, so that nothing is done to what is not seen."""
        before = len(self.places())
        self.rows.set_filter(words, keeps)
        if before != len(self.places()):
            self.chosen.emit()

    def _select(self, names: Iterable[str]) -> None:
        wanted = set(names)
        places: list[int] = []
        for place in range(self.rows.rowCount() if wanted else 0):
            if self.rows.name(self.rows.row_at(place)) in wanted:
                places.append(place)
                if len(places) == len(wanted):
                    break
        if not places:
            return
        selection, last = QItemSelection(), self.rows.columnCount() - 1
        for begin, end in _runs(places):
            selection.select(self.rows.index(begin, 0), self.rows.index(end, last))
        model = self.selectionModel()
        model.blockSignals(True)
        model.select(selection, _FLAGS.ClearAndSelect)
        model.setCurrentIndex(self.rows.index(places[0], 0), _FLAGS.NoUpdate)
        model.blockSignals(False)


def _runs(places: Iterable[int]) -> list[tuple[int, int]]:
    """Rising numbers as runs without a gap, first and last of each."""
    runs: list[tuple[int, int]] = []
    for place in places:
        if runs and runs[-1][1] == place - 1:
            runs[-1] = (runs[-1][0], place)
        else:
            runs.append((place, place))
    return runs


class FilterLine(QHBoxLayout):
    """Words to look for, and fields beside them. `changed`: narrow anew; `entered`: Enter was pressed in the words."""

    changed = Signal()
    entered = Signal()

    def __init__(self, name: str, hint: str, fields: Sequence[Field[Any]]) -> None:
        super().__init__()
        self.setSpacing(10)
        self.fields = tuple(fields)
        self.line = code_line(name, hint, self.entered.emit)
        self.line.setClearButtonEnabled(True)
        above = label(name, wraps=False)
        above.setBuddy(self.line)
        self.addLayout(column(above, self.line, spacing=2), 3)
        for field in self.fields:
            field.changed.connect(self.changed)
            self.addWidget(field, 2)
        self.line.textChanged.connect(lambda _: self.changed.emit())

    def clear(self) -> None:
        """Narrow nothing."""
        for field in self.fields:
            field.clear()
        self.line.clear()

    def find(self) -> None:
        """Type over the words."""
        self.line.setFocus()
        self.line.selectAll()
