"""What was entered about a piece, newest first, narrowed to what somebody looks for, with the chosen entry kept."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import tzinfo

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QVBoxLayout, QWidget

from app.decision.domain.entries import Name
from app.outputs.documents import history
from app.outputs.documents.history import Card
from app.window.build import label
from app.window.forms import ChoiceField
from app.window.guards import leave_by_tab
from app.window.places.shelf.listing import ROW_PX
from app.window.rows_model import Column, RowsModel
from app.words.saying import say

#: the entry, the sort of what was entered, and its cells
HistoryRow = tuple[Name, str, tuple[str, ...]]
# When, what and with which content first; who and under which number last. The longest that stands on one line in each;
# the content has what is left.
_WIDEST: Mapping[str, str] = {
    "when": "2026-02-19", "what": "reservation", "content": "", "by": "P00000",
    "entry": "Workshop crib:0000",
}  # fmt: skip
_ROOM_PX = 14
_CONTENT_PX = 100
_LEAST_PX, _MOST_PX = 150, 420
#: a choice -> the sorts of entries it keeps
SORTS: Mapping[str, frozenset[str]] = {
    "out": frozenset({"issue", "return", "hand-over", "reservation", "transfer", "lost", "found"}),
    "tests": frozenset(
        {"electrical-test", "air-test", "inspection", "calibration", "self-test", "event", "certificate-seen"}
    ),
    "holds": frozenset({"hold", "release", "withdrawal", "event", "lost", "found"}),
}
_SAID: Mapping[str, str] = {
    "out": "shelf.history.out", "tests": "shelf.history.tests", "holds": "shelf.history.holds",
}  # fmt: skip


def history_rows(card: Card, zone: tzinfo) -> list[HistoryRow]:
    """The rows of a card, newest first."""
    table = history.build(card.piece.code, card.lines, zone, card.given).sections[0].table
    cells = () if table is None else table.words()
    made = [
        (one.name, str(one.content.get("what", one.kind)), row)
        for one, row in zip(card.lines, cells, strict=True)
    ]  # fmt: skip
    return made[::-1]


class HistoryPanel(QWidget):
    """The table with its choice above; the choice and the chosen entry stay when another card is shown in it."""

    def __init__(self) -> None:
        super().__init__()
        down = QVBoxLayout(self)
        down.setContentsMargins(0, 0, 0, 0)
        down.setSpacing(6)
        down.addWidget(label(say("shelf.history", {}), "heading"))
        options = [(key, say(words, {})) for key, words in _SAID.items()]
        self.only = ChoiceField(say("shelf.history.only", {}), options, none=say("shelf.history.everything", {}))
        self.only.changed.connect(self._narrow)
        down.addWidget(self.only)
        self.rows = _model()
        self.table = _table(self.rows)
        down.addWidget(self.table)

    def show_rows(self, rows: list[HistoryRow]) -> None:
        """Show these; the entry that was chosen stays chosen where it is among them."""
        chosen = self.entry()
        self.rows.set_rows(rows)
        self._narrow()
        place = -1 if chosen is None else self.rows.place_of(str(chosen))
        if place >= 0:
            self.table.selectRow(place)

    def entry(self) -> Name | None:
        """The entry chosen."""
        chosen = self.table.selectionModel().selectedRows()
        return self.rows.row_at(chosen[0].row())[0] if chosen else None

    def _narrow(self) -> None:
        sorts = SORTS.get(self.only.value() or "")
        self.rows.set_filter("", None if sorts is None else lambda row: row[1] in sorts)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """The content takes the width there is."""
        super().resizeEvent(event)
        self._fit()

    def _high(self) -> None:
        down = self.table.verticalHeader()
        high = down.length() + self.table.horizontalHeader().sizeHint().height() + 24
        self.table.setFixedHeight(max(_LEAST_PX, min(_MOST_PX, high)))

    def _fit(self) -> None:
        metrics = self.table.fontMetrics()
        wide = {key: metrics.horizontalAdvance(words) + _ROOM_PX for key, words in _WIDEST.items()}
        left = self.table.viewport().width() - wide["when"] - wide["what"]
        wide["content"] = max(_CONTENT_PX, left)
        for number, pixels in enumerate(wide.values()):
            self.table.setColumnWidth(number, pixels)
        self.table.resizeRowsToContents()
        self._high()


def _model() -> RowsModel[HistoryRow]:
    columns = [Column(say(f"history.column.{key}", {}), _cell(history.COLUMNS.index(key))) for key in _WIDEST]
    return RowsModel(columns, lambda row: str(row[0]), lambda row: " ".join(row[2]))


def _cell(number: int) -> Callable[[HistoryRow], str]:
    return lambda row: row[2][number]


def _table(rows: RowsModel[HistoryRow]) -> QTableView:
    made = QTableView()
    made.setModel(rows)
    made.setAccessibleName(say("shelf.history", {}))
    made.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    made.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    made.verticalHeader().hide()
    made.verticalHeader().setMinimumSectionSize(ROW_PX)
    made.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    made.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
    made.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
    made.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
    made.setWordWrap(True)
    leave_by_tab(made)
    return made
