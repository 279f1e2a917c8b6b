"""Shelf: what is there, and may it be used?"""

from __future__ import annotations

from collections.abc import Callable
from datetime import tzinfo
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtGui import QAction, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QHBoxLayout,
    QLineEdit,
    QMenu,
    QSplitter,
    QTableView,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.domain.entries import Name
from app.domain.facts import Facts
from app.ui.forms import ChoiceField, button, label
from app.ui.guards import leave_by_tab
from app.ui.paint import icon
from app.ui.rows_model import Column, RowsModel
from app.ui.screens.shelf import state as shown
from app.ui.screens.shelf.state import ShelfState
from app.ui.shell import Screen, Shell
from app.usecases.look_at_shelf import Asked, OnShelf, Shelf, look_at_shelf
from app.words.saying import say
from app.words.vocabulary import KINDS, STANDINGS

if TYPE_CHECKING:
    from app.reports.history import Card
    from app.usecases.look_up import Meant

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
        self.body.addLayout(self._narrowing())
        self.filtered = label("", "quiet")
        self.export = button(say("shelf.export", {}), self._export)
        above = QHBoxLayout()
        above.addWidget(self.filtered, 1)
        above.addWidget(button(say("shelf.add", {}), self._add))
        above.addWidget(self.export)
        self.body.addLayout(above)
        self.model = RowsModel(self._columns(), lambda row: row.code, shown.searched, self)
        self.table = self._table()
        split = QSplitter(Qt.Orientation.Horizontal)
        split.setChildrenCollapsible(False)
        split.addWidget(self.table)
        split.addWidget(self._side())
        split.setStretchFactor(0, 5)
        split.setStretchFactor(1, 4)
        split.setSizes([560, 480])
        self.body.addWidget(split, 1)
        shell.theme.changed.connect(lambda _: self._redraw_marks())
        QShortcut(QKeySequence(QKeySequence.StandardKey.Find), self, self.line.setFocus, context=_WITHIN)
        self._show_counts()

    # What it is made of.

    def _narrowing(self) -> QHBoxLayout:
        across = QHBoxLayout()
        across.setSpacing(10)
        find = QVBoxLayout()
        find.setSpacing(2)
        name = label(say("shelf.find", {}), wraps=False)
        self.line = QLineEdit()
        self.line.setMaxLength(80)
        self.line.setClearButtonEnabled(True)
        self.line.setPlaceholderText(say("shelf.find-hint", {}))
        self.line.setAccessibleName(say("shelf.find", {}))
        name.setBuddy(self.line)
        find.addWidget(name)
        find.addWidget(self.line)
        across.addLayout(find, 3)
        every = say("shelf.any", {})
        self.kind = ChoiceField(say("shelf.kind", {}), KINDS.items(), none=every)
        self.standing = ChoiceField(say("shelf.standing", {}), STANDINGS.items(), none=every)
        self.crib = ChoiceField(say("shelf.crib", {}), [], none=every)
        for field in (self.kind, self.standing, self.crib):
            field.changed.connect(self._narrow)
            across.addWidget(field, 2)
        self.line.textChanged.connect(lambda _: self._narrow())
        return across

    def _columns(self) -> list[Column[OnShelf]]:
        def mark(row: OnShelf) -> object:
            kind, role = shown.MARKS[row.row.standing.state]
            return self._icons.setdefault((kind, role), icon(kind, role, self.shell.theme.name, 16))

        self._icons: dict[object, object] = {}
        return [
            Column(say("shelf.column.piece", {}), lambda row: row.code, width=80),
            Column(say("shelf.column.standing", {}), shown.standing_words, mark=mark, width=150),
            Column(say("shelf.column.until", {}), shown.until_words, width=96),
            Column(say("shelf.column.kind", {}), shown.kind_words, width=170),
            Column(say("shelf.column.class", {}), lambda row: row.insulation_class, width=60),
            Column(say("shelf.column.size", {}), lambda row: row.size, width=54),
            Column(say("shelf.column.with", {}), shown.with_words, width=110),
            Column(say("shelf.column.why", {}), shown.why_words, lambda row: row.row.standing.why.key, width=420),
        ]

    def _table(self) -> QTableView:
        table = QTableView()
        table.setModel(self.model)
        table.setAccessibleName(say("shelf.list", {}))
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        table.setAlternatingRowColors(True)
        table.setSortingEnabled(True)
        table.horizontalHeader().setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        table.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        table.verticalHeader().hide()
        table.verticalHeader().setDefaultSectionSize(30)
        table.setWordWrap(False)
        table.setMinimumWidth(360)
        leave_by_tab(table)
        for number, column in enumerate(self.model.columns):
            table.setColumnWidth(number, column.width)
        table.selectionModel().selectionChanged.connect(lambda *_: self._chosen())
        return table

    def _side(self) -> QWidget:
        from app.ui.screens.shelf.card import CardPanel

        side = QWidget()
        down = QVBoxLayout(side)
        down.setContentsMargins(0, 0, 0, 0)
        down.setSpacing(6)
        self.card = CardPanel(self.shell.theme)
        self.card.corrected.connect(self._correct)
        down.addWidget(self.card, 1)
        self.acts: dict[str, QAbstractButton | QAction] = {}
        across = QHBoxLayout()
        across.setSpacing(6)
        for key in ("bench", "hold"):
            one = button(say(f"shelf.{key}", {}), self._act(key))
            self.acts[key] = one
            across.addWidget(one)
        across.addWidget(self._more())
        down.addLayout(across)
        side.setMinimumWidth(360)
        return side

    def _more(self) -> QToolButton:
        """What is done less often."""
        more = QToolButton()
        more.setText(say("shelf.more", {}))
        more.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(more)
        for key in ("release", "counter", "seen", "bag", "alias", "withdraw"):
            action = QAction(say(f"shelf.{key}", {}), menu)
            action.triggered.connect(lambda _=False, key=key: self._act(key)())
            menu.addAction(action)
            self.acts[key] = action
        more.setMenu(menu)
        return more

    # What it shows.

    def arrived(self) -> None:
        """Ask for the whole shelf."""
        self._ask()
        self.line.setFocus()

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
        """Choose this piece, whatever was filtered."""
        if self.model.place_of(code) < 0:
            for field in (self.kind, self.standing, self.crib):
                field.clear()
            self.line.clear()
        self._wanted = code
        self._choose_wanted()

    def first_look(self) -> Callable[[Asked], Shelf]:
        """What can be shown before the register is open: the first rows."""
        return lambda glance: look_at_shelf(glance, FIRST)

    def show_first(self, found: Shelf) -> None:
        """The first rows, until the whole shelf is there."""
        if self.shelf is None:
            self._fill(found)

    def _ask(self) -> None:
        self.shell.doors.ask(
            look_at_shelf, self._fill_whole, self.shell.complain, owner=self, slot="list", is_long=True
        )

    def _fill_whole(self, found: Shelf) -> None:
        self.shelf = found
        self._fill(found)

    def _fill(self, found: Shelf) -> None:
        chosen = self.codes()
        self._facts = found.facts
        self.crib.set_options((one, one) for one in shown.cribs_of(found.rows))
        self.model.set_rows(found.rows)
        self._show_counts()
        self._wanted = self._wanted or (chosen[0] if chosen else "")
        self._choose_wanted()

    def _choose_wanted(self) -> None:
        place = self.model.place_of(self._wanted) if self._wanted else -1
        if place < 0:
            if self.shelf is not None and self._wanted:
                self._wanted = ""
            self._chosen()
            return
        self._wanted = ""
        flags = QItemSelectionModel.SelectionFlag
        self.table.selectionModel().setCurrentIndex(
            self.model.index(place, 0), flags.ClearAndSelect | flags.Rows
        )  # fmt: skip
        self.table.scrollTo(self.model.index(place, 0))
        self._chosen()

    def _narrow(self) -> None:
        state = self.state
        state.kind, state.standing = self.kind.value() or "", self.standing.value() or ""
        state.crib, state.words = self.crib.value() or "", self.line.text()
        self.model.set_filter(state.words, state.keeps())
        self._show_counts()

    def _show_counts(self) -> None:
        count = self.model.rowCount()
        self.filtered.setText(self.state.filtered(count, self.model.total))
        self.export.setEnabled(count > 0)

    def _redraw_marks(self) -> None:
        self._icons.clear()
        self.table.viewport().update()

    def codes(self) -> list[str]:
        """The pieces chosen, in the order shown."""
        rows = sorted(index.row() for index in self.table.selectionModel().selectedRows())
        return [self.model.row_at(row).code for row in rows]

    def _chosen(self) -> None:
        codes = self.codes()
        for key in ("bench", "counter", "hold", "release", "seen", "bag", "withdraw"):
            self.acts[key].setEnabled(bool(codes))
        self.acts["alias"].setEnabled(len(codes) == 1)
        if not codes:
            self.shell.doors.drop(self, "card")
            self.card.show_nothing()
            return
        self._ask_card(codes[0])

    def _ask_card(self, code: str) -> None:
        from app.usecases.show_piece import show_piece

        self.shell.doors.ask(
            lambda desk: (show_piece(desk, code), desk.zone()), self._show_card, self.shell.complain, owner=self,
            slot="card",
        )  # fmt: skip

    def _show_card(self, found: tuple[Card, tzinfo]) -> None:
        if self._facts is not None:
            self.card.show_card(found[0], self._facts, found[1])

    # What is done.

    def _act(self, key: str) -> Callable[[], object]:
        from app.ui.screens.shelf import acts

        by_name = {
            "hold": acts.hold, "release": acts.release, "withdraw": acts.withdraw, "seen": acts.seen,
            "alias": acts.alias, "bag": acts.bag,
        }  # fmt: skip
        if key in by_name:
            return lambda: by_name[key](self.shell, self.codes())
        return lambda: self.shell.go(key, self.codes()[0])

    def _add(self) -> None:
        from app.ui.screens.shelf.add import AddPiece

        AddPiece(self.shell, [] if self.shelf is None else shown.cribs_of(self.shelf.rows)).put()

    def _correct(self, entry: Name | None) -> None:
        from app.ui.screens.shelf import acts

        if entry is None:
            self.shell.tell(say("shelf.correct-choose", {}))
            return
        acts.correct(self.shell, entry, self.codes()[0])

    def _export(self) -> None:
        self.shell.ask.file_to_save(say("shelf.export", {}), say("shelf.kinds-of-file", {}), "shelf.csv", self._write)

    def _write(self, path: Path) -> None:
        from app.compose import write_file
        from app.domain.errors import BadInput
        from app.paper.csv_table import render_rows

        rows = self.model.shown()
        cells = [[column.text(row) for column in self.model.columns] for row in rows]
        try:
            write_file(path, render_rows([column.title for column in self.model.columns], cells))
        except BadInput as fault:
            self.shell.complain(fault)
            return
        self.shell.tell(say("shelf.exported", {"count": len(rows), "file": str(path)}), kind="done")


_WITHIN = Qt.ShortcutContext.WidgetWithChildrenShortcut
SCREEN = ShelfScreen
