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
from app.domain.piece import Piece
from app.pictures.colours import CLASS_COLOURS
from app.pictures.scene import Scene
from app.reports import history, usable
from app.reports.due_list import why
from app.ui.forms import button, label
from app.ui.guards import leave_by_tab
from app.ui.paint import SceneView, icon
from app.ui.rows_model import Column, RowsModel
from app.ui.screens.shelf.listing import ROW_PX
from app.ui.screens.shelf.marks import marks_words
from app.ui.screens.shelf.state import MARKS, not_now
from app.ui.theme import Theme
from app.words.saying import listed, say
from app.words.vocabulary import KINDS, STANDINGS

if TYPE_CHECKING:
    from app.reports.history import Card

HistoryRow = tuple[Name, tuple[str, ...]]
# The class system whose label colours are known (facts T1: ASTM D120, IEC/EN 60903).
_COLOURED = "iec"
# When, what and with which content first; who and under which number last: the widths they are shown with.
_HISTORY = {"when": 124, "what": 96, "content": 280, "by": 56, "entry": 150}


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

    @property
    def code(self) -> str:
        """The piece shown, "" for none."""
        return "" if self._card is None else self._card.piece.code

    def show_nothing(self) -> None:
        """No piece is chosen."""
        self._card = None
        self._draw()

    def show_card(self, card: Card, facts: Facts, zone: tzinfo) -> None:
        """Show this piece; the same one again stays where it was scrolled to, with the entry chosen in its history."""
        is_same = card.piece.code == self.code
        chosen, had_keys = self._entry(), self.table is not None and self.table.hasFocus()
        self._card, self._facts, self._zone = card, facts, zone
        self._draw()
        if not is_same:
            self._area.verticalScrollBar().setValue(0)
            return
        place = -1 if chosen is None else self.history.place_of(str(chosen))
        if self.table is not None and place >= 0:
            self.table.selectRow(place)
        if self.table is not None and had_keys:
            self.table.setFocus()

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
            down.addWidget(_band(piece))
        down.addWidget(self._standing(standing.state, why(standing)))
        if card.out is not None:
            values = {"person": card.out.person, "until": card.out.until, "entry": str(card.out.entry)}
            down.addWidget(label(say("shelf.out", values)))
        if card.labels:
            down.addWidget(label(say("shelf.labels", {"labels": listed(card.labels)}), "quiet"))
        down.addWidget(label(say("shelf.usable", {}), "heading"))
        if doubt := not_now(standing.state):
            down.addWidget(label(doubt, "short"))
        down.addWidget(label("\n".join(usable.build(piece, facts))))
        for key in history.CAUTIONS:
            down.addWidget(label(say(key, {}), "quiet"))
        ribbon = SceneView()
        ribbon.show_scene(_ribbon(card, facts, self._theme))
        down.addWidget(ribbon)
        marks = marks_words(piece)
        if marks:
            down.addWidget(label(say("shelf.marks", {}), "heading"))
            down.addWidget(label("\n".join(marks)))
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
        made.verticalHeader().setDefaultSectionSize(ROW_PX)
        made.setWordWrap(False)
        leave_by_tab(made)
        for number, column in enumerate(self.history.columns):
            made.setColumnWidth(number, column.width)
        made.setMinimumHeight(min(300, 60 + 30 * len(card.lines)))
        down.addWidget(made)
        down.addWidget(button(say("shelf.correct", {}), self._correct), 0, Qt.AlignmentFlag.AlignLeft)

    def _correct(self) -> None:
        self.corrected.emit(self._entry())

    def _entry(self) -> Name | None:
        chosen = [] if self.table is None else self.table.selectionModel().selectedRows()
        return self.history.row_at(chosen[0].row())[0] if chosen else None


def _history_model() -> RowsModel[HistoryRow]:
    columns = [
        Column(say(f"history.column.{key}", {}), _cell(history.COLUMNS.index(key)), width=width)
        for key, width in _HISTORY.items()
    ]
    return RowsModel(columns, lambda row: str(row[0]), lambda row: " ".join(row[1]))


def _cell(number: int) -> Callable[[HistoryRow], str]:
    return lambda row: row[1][number]


def _band(piece: Piece) -> QWidget:
    """The colour printed on the real glove, with its name: the only place where it is shown.

    The colours are those of one class system; of a mark of another one, or of none that is known, nothing is claimed.
    """
    assert piece.insulation_class is not None
    name, tint = CLASS_COLOURS[piece.insulation_class]
    is_known = piece.class_system == _COLOURED
    says = say("shelf.band", {"class": piece.insulation_class, "colour": name})
    if not is_known:
        says, tint = say("shelf.band-unknown", {"class": piece.insulation_class}), "#8a949e"
    row = QWidget()
    across = QHBoxLayout(row)
    across.setContentsMargins(0, 0, 0, 0)
    across.setSpacing(10)
    band = QFrame()
    band.setFixedSize(120, 16)
    band.setStyleSheet(f"background: {tint}; border: 1px solid #55606b;")
    across.addWidget(band)
    across.addWidget(label(says, "quiet"), 1)
    return row


def _ribbon(card: Card, facts: Facts, theme: Theme) -> Scene:
    from app.pictures.due_ribbon import due_ribbon
    from app.reports.pictures import ribbon_of

    return due_ribbon(ribbon_of(card.row.standing, facts.site.warning_days), theme.name, width=540.0)
