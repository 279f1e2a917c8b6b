"""One piece's card: how it stands, its due ribbon, what its marks allow, its marks, everything entered about it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import tzinfo
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.domain.entries import Name
from app.domain.facts import Facts
from app.pictures.colours import CLASS_COLOURS
from app.pictures.scene import Scene
from app.reports import history, usable
from app.reports.due_list import why
from app.ui.forms import button, label
from app.ui.guards import leave_by_tab
from app.ui.paint import SceneView, icon
from app.ui.rows_model import Column, RowsModel
from app.ui.screens.shelf.state import MARKS
from app.ui.theme import Theme
from app.words.saying import listed, say
from app.words.vocabulary import KINDS, STANDINGS

if TYPE_CHECKING:
    from app.reports.history import Card

HistoryRow = tuple[Name, tuple[str, ...]]


class CardPanel(QFrame):
    """`corrected`: an entry somebody wants to strike."""

    corrected = Signal(object)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setProperty("look", "card")
        self._theme = theme
        self._card: Card | None = None
        self._facts: Facts | None = None
        self._zone: tzinfo | None = None
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        self._area = QScrollArea()
        self._area.setWidgetResizable(True)
        self._area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._area.setAccessibleName(say("shelf.choose", {}))
        outer.addWidget(self._area)
        self.history = _history_model()
        self.table: QTableView | None = None
        theme.changed.connect(lambda _: self._draw())
        self.show_nothing()

    def show_nothing(self) -> None:
        """No piece is chosen."""
        self._card = None
        self._draw()

    def show_card(self, card: Card, facts: Facts, zone: tzinfo) -> None:
        """Show this piece."""
        self._card, self._facts, self._zone = card, facts, zone
        self._draw()

    def _draw(self) -> None:
        inner = QWidget()
        down = QVBoxLayout(inner)
        down.setContentsMargins(16, 12, 16, 12)
        down.setSpacing(8)
        self.table = None
        if self._card is None or self._facts is None:
            down.addWidget(label(say("shelf.choose", {}), "quiet"))
        else:
            self._fill(down, self._card, self._facts)
        down.addStretch(1)
        place = self._area.verticalScrollBar().value()
        self._area.setWidget(inner)
        self._area.verticalScrollBar().setValue(place)

    def _fill(self, down: QVBoxLayout, card: Card, facts: Facts) -> None:
        piece, standing = card.piece, card.row.standing
        words = KINDS[piece.kind]
        if piece.insulation_class is not None:
            words = say("shelf.classed", {"kind": words, "class": piece.insulation_class})
        down.addWidget(label(f"{piece.code}  {words}", "question"))
        if piece.label:
            down.addWidget(label(piece.label, "quiet"))
        if piece.insulation_class is not None:
            down.addWidget(_band(piece.insulation_class))
        down.addWidget(self._standing(standing.state, why(standing)))
        if card.out is not None:
            values = {"person": card.out.person, "until": card.out.until, "entry": str(card.out.entry)}
            down.addWidget(label(say("shelf.out", values)))
        if card.labels:
            down.addWidget(label(say("shelf.labels", {"labels": listed(card.labels)}), "quiet"))
        ribbon = SceneView()
        ribbon.show_scene(_ribbon(card, facts, self._theme))
        down.addWidget(ribbon)
        down.addWidget(label(say("shelf.usable", {}), "heading"))
        down.addWidget(label("\n".join(usable.build(piece, facts))))
        for key in history.CAUTIONS:
            down.addWidget(label(say(key, {}), "quiet"))
        marks = history.marks_said(piece)
        if marks:
            down.addWidget(label(say("shelf.marks", {}), "heading"))
            down.addWidget(label("\n".join(f"{key}: {value}" for key, value in marks)))
        self._fill_history(down, card)

    def _standing(self, state: str, says: str) -> QWidget:
        kind, role = MARKS[state]
        row = QWidget()
        across = QHBoxLayout(row)
        across.setContentsMargins(0, 0, 0, 0)
        across.setSpacing(10)
        mark = QLabel()
        mark.setPixmap(icon(kind, role, self._theme.name, 30).pixmap(30, 30))
        mark.setFixedWidth(32)
        across.addWidget(mark, 0, Qt.AlignmentFlag.AlignTop)
        words = QVBoxLayout()
        words.setSpacing(0)
        look = {"fit": "fit", "short": "short", "warn": "warn"}.get(role.value, "lead")
        words.addWidget(label(STANDINGS[state], look))
        words.addWidget(label(says))
        across.addLayout(words, 1)
        return row

    def _fill_history(self, down: QVBoxLayout, card: Card) -> None:
        assert self._zone is not None
        document = history.build(card.piece.code, card.lines, self._zone)
        table = document.sections[0].table
        rows = () if table is None else table.rows
        self.history.set_rows(reversed(list(zip((one.name for one in card.lines), rows, strict=True))))
        down.addWidget(label(say("shelf.history", {}), "heading"))
        self.table = made = QTableView()
        made.setModel(self.history)
        made.setAccessibleName(say("shelf.history", {}))
        made.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        made.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        made.verticalHeader().hide()
        made.horizontalHeader().setStretchLastSection(True)
        made.setWordWrap(False)
        leave_by_tab(made)
        for number, column in enumerate(self.history.columns):
            made.setColumnWidth(number, column.width)
        made.setMinimumHeight(min(300, 60 + 30 * len(card.lines)))
        down.addWidget(made)
        down.addWidget(button(say("shelf.correct", {}), self._correct), 0, Qt.AlignmentFlag.AlignLeft)

    def _correct(self) -> None:
        chosen = [] if self.table is None else self.table.selectionModel().selectedRows()
        self.corrected.emit(self.history.row_at(chosen[0].row())[0] if chosen else None)


def _history_model() -> RowsModel[HistoryRow]:
    widths = (110, 130, 60, 120, 300)
    columns = [
        Column(say(f"history.column.{key}", {}), _cell(number), width=widths[number])
        for number, key in enumerate(history.COLUMNS)
    ]
    return RowsModel(columns, lambda row: str(row[0]), lambda row: " ".join(row[1]))


def _cell(number: int) -> Callable[[HistoryRow], str]:
    return lambda row: row[1][number]


def _band(insulation_class: str) -> QWidget:
    """The colour printed on the real glove, with its name: the only place where it is shown."""
    name, tint = CLASS_COLOURS[insulation_class]
    row = QWidget()
    across = QHBoxLayout(row)
    across.setContentsMargins(0, 0, 0, 0)
    across.setSpacing(10)
    band = QFrame()
    band.setFixedSize(120, 16)
    band.setStyleSheet(f"background: {tint}; border: 1px solid #55606b;")
    across.addWidget(band)
    across.addWidget(label(say("shelf.band", {"class": insulation_class, "colour": name}), "quiet"), 1)
    return row


def _ribbon(card: Card, facts: Facts, theme: Theme) -> Scene:
    from app.pictures.due_ribbon import due_ribbon
    from app.reports.pictures import ribbon_of

    return due_ribbon(ribbon_of(card.row.standing, facts.site.warning_days), theme.name, width=540.0)
