"""One table model over frozen rows in memory: sorting and filtering rewrite a list of numbers, the rows stay."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

R = TypeVar("R")
Index = QModelIndex | QPersistentModelIndex
_NOWHERE = QModelIndex()
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
VALUE_ROLE = Qt.ItemDataRole.UserRole


class Column(Generic[R]):
    """One column. `key`: what it sorts by, its text where none is given; `mark`: a row's icon; `tip`: of its title."""

    def __init__(
        self,
        title: str,
        text: Callable[[R], str],
        key: Callable[[R], Any] | None = None,
        *,
        mark: Callable[[R], Any] | None = None,
        is_figure: bool = False,
        width: int = 120,
        tip: str = "",
    ) -> None:
        self.title = title
        self.text = text
        self.key = key or text
        self.mark = mark
        self.is_figure = is_figure
        self.width = width
        self.tip = tip


class RowsModel(QAbstractTableModel, Generic[R]):
    """`name`: what makes a row the same row after it was asked anew; `searched`: the words a filter looks in."""

    def __init__(
        self,
        columns: Sequence[Column[R]],
        name: Callable[[R], str],
        searched: Callable[[R], str],
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.columns = tuple(columns)
        self.name = name
        #: A row's mark as it is drawn; whoever shows the rows knows how.
        self.drawn: Callable[[Any], Any] = lambda mark: mark
        self._searched = searched
        self._rows: tuple[R, ...] = ()
        self._texts: list[str] = []
        self._keys: dict[int, list[Any]] = {}
        self._order: list[int] = []
        self._filter: tuple[str, ...] = ()
        self._kept: Callable[[R], bool] | None = None
        self._sorted: tuple[int, bool] | None = None

    # What it holds.

    def set_rows(self, rows: Iterable[R], texts: Iterable[str] = ()) -> None:
        """Put these rows in the place of those there; order and filter stay as they were set.

        `texts`: what a filter looks in, row by row and without capitals, where somebody has made it in another thread.
        """
        self.beginResetModel()
        self._rows = tuple(rows)
        self._texts = list(texts)
        self._keys = {}
        self._order = self._worked_out()
        self.endResetModel()

    def row_at(self, number: int) -> R:
        """The row shown at this place."""
        return self._rows[self._order[number]]

    def shown(self) -> list[R]:
        """The rows that pass the filter, in the order shown."""
        return [self._rows[number] for number in self._order]

    @property
    def total(self) -> int:
        """How many rows there are, shown or not."""
        return len(self._rows)

    def place_of(self, name: str) -> int:
        """Where the row of that name is shown, -1 where it is not."""
        return next((place for place, number in enumerate(self._order) if self.name(self._rows[number]) == name), -1)

    # Order and filter.

    def set_filter(self, words: str, kept: Callable[[R], bool] | None = None) -> None:
        """Show only rows in which every word occurs and that `kept` keeps; capitals do not matter."""
        self._filter, self._kept = tuple(words.casefold().split()), kept
        self._rearrange(self._worked_out)

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Sort by a column; rows that are alike keep the order they had."""
        self._sorted = None if column < 0 else (column, order == Qt.SortOrder.DescendingOrder)
        self._rearrange(self._worked_out)

    def _worked_out(self) -> list[int]:
        order: Iterable[int] = range(len(self._rows))
        if self._filter:
            texts = self._searchable()
            first, *others = self._filter
            order = [number for number, text in enumerate(texts) if first in text]
            for word in others:
                order = [number for number in order if word in texts[number]]
        if self._kept is not None:
            kept, rows = self._kept, self._rows
            order = [number for number in order if kept(rows[number])]
        if self._sorted is None:
            return list(order)
        column, is_reversed = self._sorted
        return sorted(order, key=self._keys_of(column).__getitem__, reverse=is_reversed)

    def _searchable(self) -> list[str]:
        if not self._texts:
            self._texts = [self._searched(row).casefold() for row in self._rows]
        return self._texts

    def _keys_of(self, column: int) -> list[Any]:
        if column not in self._keys:
            key = self.columns[column].key
            self._keys[column] = [key(row) for row in self._rows]
        return self._keys[column]

    def _rearrange(self, calculate: Callable[[], list[int]]) -> None:
        """Change which rows stand where; a row that is selected stays selected if it is still shown."""
        self.layoutAboutToBeChanged.emit()
        held = self.persistentIndexList()
        numbers = [self._order[index.row()] for index in held]
        self._order = calculate()
        if held:
            wanted = set(numbers)
            places = {number: place for place, number in enumerate(self._order) if number in wanted}
            moved = [
                self.index(places[number], index.column()) if number in places else _NOWHERE
                for index, number in zip(held, numbers, strict=True)
            ]
            self.changePersistentIndexList(held, moved)
        self.layoutChanged.emit()

    # What the toolkit asks.

    def rowCount(self, parent: Index = _NOWHERE) -> int:  # noqa: N802
        """Rows shown."""
        return 0 if parent.isValid() else len(self._order)

    def columnCount(self, parent: Index = _NOWHERE) -> int:  # noqa: N802
        """Columns."""
        return 0 if parent.isValid() else len(self.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401  # the toolkit's
        """What a cell shows."""
        if not index.isValid():
            return None
        row, column = self._rows[self._order[index.row()]], self.columns[index.column()]
        match role:
            case Qt.ItemDataRole.DisplayRole | Qt.ItemDataRole.ToolTipRole | Qt.ItemDataRole.AccessibleTextRole:
                return column.text(row)
            case Qt.ItemDataRole.DecorationRole:
                return None if column.mark is None else self.drawn(column.mark(row))
            case Qt.ItemDataRole.TextAlignmentRole:
                return _RIGHT if column.is_figure else _LEFT
            case Qt.ItemDataRole.UserRole:
                return row
        return None

    def headerData(  # noqa: N802
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:  # noqa: ANN401  # the toolkit's
        """Headings."""
        if orientation == Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return self.columns[section].title
        if orientation == Qt.Orientation.Horizontal and role == Qt.ItemDataRole.ToolTipRole:
            return self.columns[section].tip or None
        return None
