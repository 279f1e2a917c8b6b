"""What was entered about a piece, newest first, narrowed to what somebody looks for, with the chosen entry kept."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import tzinfo

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from app.decision.domain.entries import Name
from app.outputs.documents import history
from app.register.reads.card import Card
from app.window.build import column, label
from app.window.forms import ChoiceField
from app.window.rows_model import Column, RowsModel
from app.window.tables import RowsTable
from app.window.theme import Theme
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
    rows = [
        (line.name, str(line.content.get("what", line.kind)), row)
        for line, row in zip(card.lines, cells, strict=True)
    ]  # fmt: skip
    return rows[::-1]


class HistoryPanel(QWidget):
    """The table with its choice above; the choice and the chosen entry stay when another card is shown in it."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        options = [(key, say(words, {})) for key, words in _SAID.items()]
        self.only = ChoiceField(say("shelf.history.only", {}), options, none=say("shelf.history.everything", {}))
        self.only.changed.connect(self._narrow)
        columns = [Column(say(f"history.column.{key}", {}), _cell(history.COLUMNS.index(key))) for key in _WIDEST]
        self.rows: RowsModel[HistoryRow] = RowsModel(columns, lambda row: str(row[0]), lambda row: " ".join(row[2]))
        self.table = RowsTable(theme, self.rows, say("shelf.history", {}), wraps=True)
        heading = label(say("shelf.history", {}), "heading")
        column(heading, self.only, self.table, on=self, spacing=6)

    def show_rows(self, rows: list[HistoryRow]) -> None:
        """Show these; the entry that was chosen stays chosen where it is among them."""
        self.table.fill(rows)
        self._narrow()

    def entry(self) -> Name | None:
        """The entry chosen."""
        chosen = self.table.chosen_rows()
        return chosen[0][0] if chosen else None

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


def _cell(number: int) -> Callable[[HistoryRow], str]:
    return lambda row: row[2][number]
