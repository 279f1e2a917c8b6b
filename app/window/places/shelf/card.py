"""One piece's card: how it stands, its due ribbon, what its marks allow, its marks, everything entered about it."""

from __future__ import annotations

from datetime import tzinfo

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from app.decision.domain.facts import Facts
from app.decision.domain.piece import FirstIssue, Piece
from app.outputs.documents import history, usable
from app.outputs.documents.due_list import why
from app.outputs.documents.field_words import field_line, fields_of, first_issue_said
from app.outputs.documents.pictures import ribbon_of
from app.outputs.pictures.colours import CLASS_COLOURS
from app.outputs.pictures.due_ribbon import due_ribbon
from app.outputs.pictures.scene import Scene
from app.register.reads.card import Card
from app.window.build import LEFT, LOOKS, TOP, add, box, button, column, label, mark, put_mark, row
from app.window.forms import ChoiceField
from app.window.lists import scrolled
from app.window.paint import SceneView
from app.window.places.shelf.history_panel import HistoryPanel, HistoryRow, history_rows
from app.window.places.shelf.state import MARKS, not_now
from app.window.rows_model import RowsModel
from app.window.tables import RowsTable
from app.window.theme import Theme
from app.words.saying import listed, say
from app.words.vocabulary import KINDS, STATUSES

# The class system whose label colours are known (ASTM D120, IEC/EN 60903).
_COLOURED = "iec"
# Said elsewhere on the card than among the marks.
_ELSEWHERE = frozenset({"custody", "label", "first_issue"})


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
        self._area = scrolled(name=say("shelf.choose", {}), takes_keys=True)
        column(self._area, on=self)
        self._history = HistoryPanel(theme)
        theme.changed.connect(lambda _: self._draw())
        self.show_nothing()

    @property
    def table(self) -> RowsTable[HistoryRow]:
        """The history of the piece shown."""
        return self._history.table

    @property
    def history(self) -> RowsModel[HistoryRow]:
        """Its rows."""
        return self._history.rows

    @property
    def only(self) -> ChoiceField:
        """The choice that narrows it."""
        return self._history.only

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
        self._card, self._facts, self._zone = card, facts, zone
        self._draw()
        if not is_same:
            self._area.verticalScrollBar().setValue(0)

    def _draw(self) -> None:
        inner = QWidget()
        down = column(on=inner, spacing=8, margins=(16, 12, 16, 12))
        # Taken out of what is thrown away now, and put back with the keyboard in it where it was there.
        had_keys = self.table.hasFocus()
        self._history.setParent(self)
        self._history.hide()
        if self._card is None or self._facts is None:
            down.addWidget(label(say("shelf.choose", {}), "quiet"))
        else:
            self._fill(down, self._card, self._facts)
        down.addStretch(1)
        place = self._area.verticalScrollBar().value()
        self._area.setWidget(inner)
        self._area.verticalScrollBar().setValue(place)
        if had_keys and self._history.isVisible():
            self.table.setFocus()

    def _fill(self, down: QVBoxLayout, card: Card, facts: Facts) -> None:
        piece, standing = card.piece, card.row.status
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
            until = "" if card.out.until is None else card.out.until.isoformat()
            values = {"person": card.out.person, "until": until, "entry": str(card.out.entry)}
            down.addWidget(label(say("shelf.out", values)))
        for sentence in history.more_said(card):
            down.addWidget(label(sentence))
        if card.labels:
            down.addWidget(label(say("shelf.labels", {"labels": listed(card.labels)}), "quiet"))
        down.addWidget(label(say("shelf.usable", {}), "heading"))
        if doubt := not_now(standing.state):
            down.addWidget(label(doubt, "short"))
        down.addWidget(label("\n".join(usable.build(piece, facts))))
        for key in history.CAUTIONS:
            down.addWidget(label(say(key, {}), "quiet"))
        ribbon = SceneView()
        down.addWidget(ribbon)
        ribbon.show_scene(_ribbon(card, facts, self._theme))
        marks = marks_words(piece, standing.first_issue)
        if marks:
            down.addWidget(label(say("shelf.marks", {}), "heading"))
            down.addWidget(label("\n".join(marks)))
        self._fill_history(down, card)

    def _standing(self, state: str, says: str) -> QWidget:
        kind, role = MARKS[state]
        drawn = mark(30)
        put_mark(drawn, kind, role, self._theme.name)
        drawn.setFixedWidth(32)
        words = column(label(STATUSES[state], LOOKS.get(role, "lead")), label(says), spacing=0)
        return box(row((drawn, 0, TOP), (words, 1), spacing=10))

    def _fill_history(self, down: QVBoxLayout, card: Card) -> None:
        assert self._zone is not None
        self._history.show_rows(history_rows(card, self._zone))
        # It is kept from card to card, with what is chosen in it; the rest of the card is made anew.
        down.addWidget(self._history)
        add(down, (button(say("shelf.correct", {}), self._correct), 0, LEFT))
        self._history.show()

    def _correct(self) -> None:
        self.corrected.emit(self._history.entry())


def marks_words(piece: Piece, first: FirstIssue) -> list[str]:
    """What is printed on a piece or known of it, a line each with its unit.

    `first`: the first hand-over ever as the clock counts it, which may be another than the one stated.
    """
    lines = [field_line(key, value) for key, value in fields_of(piece) if key not in _ELSEWHERE]
    return [*lines, field_line("first_issue", first_issue_said(first))]


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
    band = QFrame()
    band.setFixedSize(120, 16)
    band.setStyleSheet(f"background: {tint}; border: 1px solid #55606b;")
    return box(row(band, (label(says, "quiet"), 1), spacing=10))


def _ribbon(card: Card, facts: Facts, theme: Theme) -> Scene:
    return due_ribbon(ribbon_of(card.row.status, facts.site.warning_days), theme.name, width=540.0)
