"""Shelf: what is there, and may it be used?"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import tzinfo
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QWidget

from app.decision.domain.entries import Name
from app.decision.domain.facts import Facts
from app.usecases.look_at_shelf import Asked, Shelf, look_at_shelf
from app.window.build import box, button, column, label, put, row
from app.window.places.due.export import Export, Filtered
from app.window.places.shelf import state as shown
from app.window.places.shelf.act_bar import ActBar
from app.window.places.shelf.listing import OrderKey, columns
from app.window.places.shelf.narrowing import Narrowing
from app.window.places.shelf.state import ShelfState
from app.window.rows_model import RowsModel
from app.window.shell import Screen, Shell
from app.window.tables import RowsTable
from app.words.saying import say

if TYPE_CHECKING:
    from app.register.reads.card import Card
    from app.usecases.look_up import Meant
    from app.window.places.shelf.card import CardPanel

FIRST = 200


class ShelfScreen(Screen):
    """The list of all kit, and the card of the piece chosen in it."""

    place = "shelf"

    def __init__(self, shell: Shell) -> None:
        super().__init__(shell)
        self.state = ShelfState()
        self.shelf: Shelf | None = None
        self._facts: Facts | None = None
        self._wanted = ""
        self._export_to: Export | None = None
        self.model = RowsModel(columns(), lambda row: row.code, shown.searched)
        self.table = RowsTable(shell.theme, self.model, say("shelf.list", {}), takes_many=True)
        self.table.sort_by(-1)
        self.table.setMinimumWidth(360)
        self.narrowing = Narrowing()
        self.narrowing.changed.connect(self._narrow)
        self.narrowing.entered.connect(self._entered)
        self.body.addLayout(self.narrowing)
        self.body.addLayout(self._above())
        split = QSplitter(Qt.Orientation.Horizontal)
        split.setChildrenCollapsible(False)
        split.addWidget(self.table)
        split.addWidget(self._side())
        split.setStretchFactor(0, 5)
        split.setStretchFactor(1, 4)
        split.setSizes([620, 420])
        self.body.addWidget(split, 1)
        self.table.chosen.connect(self._chosen)
        QShortcut(QKeySequence(QKeySequence.StandardKey.Find), self, self.narrowing.find, context=_WITHIN)
        QShortcut(QKeySequence(Qt.Key.Key_Down), self.narrowing.line, self.table.choose_first, context=_ITSELF)
        self._show_counts()
        self._chosen()

    # What it is made of.

    def _above(self) -> QHBoxLayout:
        self.filtered = label("", "quiet")
        self.order = OrderKey(self.table)
        self.export = button(say("shelf.export", {}), self._export)
        add = button(say("shelf.add", {}), self._add)
        return row((self.filtered, 1), self.order, add, self.export)

    def _side(self) -> QWidget:
        self.several = label("", "lead")
        self._room = QWidget()
        self._room.setMinimumWidth(360)
        self.acts = ActBar(self._act)
        self._down = column(self.several, (self._room, 1), self.acts, spacing=6)
        return box(self._down)

    @cached_property
    def card(self) -> CardPanel:
        """Made with the first that is shown on it: what it needs is the database's, and the first rows come before."""
        from app.window.places.shelf.card import CardPanel  # noqa: PLC0415  # 210 modules, as it says

        card = CardPanel(self.shell.theme)
        card.corrected.connect(self._correct)
        # The side's own least width stays that of its keys, whose words may be longer in another language.
        card.setMinimumWidth(360)
        self._down.replaceWidget(self._room, card)
        self._room.deleteLater()
        return card

    # What it shows.

    def arrived(self) -> None:
        """Ask for the whole shelf."""
        self._ask()
        self.narrowing.line.setFocus()

    def moved(self, subjects: frozenset[str]) -> None:
        """Ask again; what is chosen stays chosen."""
        _ = subjects
        self._ask()

    def scanned(self, meant: Meant) -> bool:
        """Show the piece that was scanned."""
        if not meant.pieces:
            return False
        self.show_code(meant.pieces[0])
        return True

    def show_code(self, code: str) -> None:
        """Choose this piece, whatever was filtered; one that is not listed yet is looked for again."""
        if self.table.choose(code):
            return
        self.narrowing.clear()
        if not self.table.choose(code):
            self._wanted = code
            self._ask()

    @staticmethod
    def first_look() -> Callable[[Asked], Shelf]:
        """What can be shown before the register is open: the first rows."""
        return lambda glance: look_at_shelf(glance, FIRST)

    def show_first(self, shelf: Shelf) -> None:
        """The first rows, until the whole shelf is there."""
        if self.shelf is None:
            self._fill(shelf, (), "first")

    def _ask(self) -> None:
        def read(desk: Asked) -> tuple[Shelf, list[str]]:
            shelf = look_at_shelf(desk)
            return shelf, shown.texts(shelf.rows)

        self.shell.doors.ask(read, self._fill_whole, self.shell.complain, owner=self, slot="list", is_long=True)

    def _fill_whole(self, read: tuple[Shelf, list[str]]) -> None:
        self.shelf, texts = read
        self._fill(self.shelf, texts, "all")
        wanted, self._wanted = self._wanted, ""
        if not wanted and not self.table.places():
            self.card.show_nothing()
        if wanted and not self.table.choose(wanted):
            # It is not on this shelf: asking for its card says why.
            self._ask_card(wanted)

    def _fill(self, shelf: Shelf, texts: Iterable[str], read: Literal["first", "all"]) -> None:
        self._facts = shelf.facts
        self.state.take(shelf, read)
        self.narrowing.offer(shown.kinds_of(shelf.rows), shelf.cribs)
        if (self.narrowing.crib.value() or "", self.narrowing.kind.value() or "") != (self.state.crib, self.state.kind):
            self._narrow()
        self.table.fill(shelf.rows, texts)
        self._show_counts()

    def _narrow(self) -> None:
        self.narrowing.tell(self.state)
        self.table.narrow(shown.looked_for(self.state.words), self.state.keeps())
        self._show_counts()

    def _show_counts(self) -> None:
        count = self.model.rowCount()
        self.filtered.setText(self.state.filtered(count, self.model.total))
        # What is written to a file is the whole of what is shown, so it waits until the whole has been read.
        is_writing = self._export_to is not None and self._export_to.is_writing
        self.export.setEnabled(count > 0 and self.state.read == "all" and not is_writing)

    def codes(self) -> list[str]:
        """The pieces chosen, in the order shown."""
        return self.table.names()

    def _entered(self) -> None:
        """Enter goes on into the list; what is not listed may be a label that means a piece."""
        from app.usecases.look_up import look_up  # noqa: PLC0415  # with the database, after the first rows

        text = self.narrowing.line.text().strip()
        if self.model.rowCount() or not text:
            self.table.choose_first()
            return
        self.shell.doors.ask(
            lambda desk: look_up(desk, text), self._meant, self.shell.complain, owner=self, slot="label"
        )

    def _meant(self, meant: Meant) -> None:
        if not self.scanned(meant):
            self.shell.tell(say("scan.no-use", {"thing": meant.written}), kind="wrong")

    def _chosen(self) -> None:
        places = self.table.places()
        self.acts.allow(len(places))
        put(self.several, shown.chosen_words(len(places)))
        if not places:
            self.shell.doors.drop(self, "card")
            if self.state.read == "all":
                self.card.show_nothing()
            return
        self._ask_card(self.model.row_at(places[0]).code)

    def _ask_card(self, code: str) -> None:
        from app.usecases.show_piece import show_piece  # noqa: PLC0415  # with the database, after the first rows

        self.shell.doors.ask(
            lambda desk: (show_piece(desk, code), desk.zone()), self._show_card, self.shell.complain, owner=self,
            slot="card",
        )  # fmt: skip

    def _show_card(self, card_and_zone: tuple[Card, tzinfo]) -> None:
        if self._facts is not None:
            self.card.show_card(card_and_zone[0], self._facts, card_and_zone[1])

    # What is done.

    def _act(self, key: str) -> Callable[[], object]:
        def act() -> None:
            # Forms bring the use cases and with them the database, 236 modules: after the first rows.
            from app.window.places.shelf import acts  # noqa: PLC0415

            if key in acts.FORMS:
                kinds = {row.row.status.piece.kind for row in self.table.chosen_rows()}
                acts.ask(self.shell, key, self.codes(), sorted(kinds))
            else:
                for code in self.codes():
                    self.shell.go(key, code)

        return act

    def _add(self) -> None:
        from app.window.places.shelf.add import AddPiece  # noqa: PLC0415  # a form, as above

        AddPiece(self.shell, () if self.shelf is None else self.shelf.cribs).put()

    def _correct(self, entry: Name | None) -> None:
        from app.window.correct import CorrectDialog  # noqa: PLC0415  # a form, as above

        if entry is None:
            self.shell.tell(say("shelf.correct-choose", {}))
            return
        CorrectDialog(self.shell, [entry], [self.card.code]).put()

    def _export(self) -> None:
        if self._export_to is None:
            self._export_to = Export(self.shell, self)
            self._export_to.changed.connect(self._show_counts)
        name = f"shelf-{self.shell.here.today:%Y-%m-%d}.csv"
        if (facts := self._facts) is not None:
            self._export_to.put(
                name, self.model.columns, self.model.shown, lambda: Filtered(self.filtered.text(), facts)
            )


_WITHIN = Qt.ShortcutContext.WidgetWithChildrenShortcut
_ITSELF = Qt.ShortcutContext.WidgetShortcut
SCREEN = ShelfScreen
