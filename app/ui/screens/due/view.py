"""Due: what needs doing, and by when?"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Literal

from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QAbstractItemView,
    QButtonGroup,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QTableView,
    QVBoxLayout,
)

from app.ui.forms import ChoiceField, FigureField, button, label
from app.ui.guards import leave_by_tab
from app.ui.paint import SceneView, icon
from app.ui.rows_model import Column, RowsModel
from app.ui.screens.due.export import Export
from app.ui.screens.due.state import GROUPS, DueState, cribs_of, due_order, due_words, with_whom
from app.ui.screens.due.strip_column import WIDTH, StripColumn
from app.ui.screens.shelf import state as rows_said
from app.ui.shell import Screen, Shell
from app.usecases.look_at_shelf import Asked, OnShelf, Shelf, look_at_shelf
from app.words.saying import say

if TYPE_CHECKING:
    from app.usecases.look_up import Meant

FIRST = 200
ROOM_PX = 600
# The column the strip is drawn in; what it shows stands in words beside it, so it is not exported.
STRIP = 4
_WITHIN = Qt.ShortcutContext.WidgetWithChildrenShortcut


class DueScreen(Screen):
    """Groups with their counts, the list of one of them, and the months ahead."""

    place = "due"

    def __init__(self, shell: Shell) -> None:
        super().__init__(shell)
        self.state = DueState(today=shell.here.today)
        self.rows: tuple[OnShelf, ...] = ()
        self._icons: dict[object, object] = {}
        self._counted: tuple[object, ...] = ()
        self.writing: Export[OnShelf] = Export(shell, self)
        self.body.addLayout(self._tabs())
        self.body.addLayout(self._narrowing())
        above = QHBoxLayout()
        self.listed = label("", "quiet")
        self.export = button(say("due.export", {}), self._export)
        self.open = button(say("due.open", {}), self._open)
        self.months = QPushButton(say("due.months", {}))
        self.months.setCheckable(True)
        self.months.setAutoDefault(False)
        self.months.toggled.connect(lambda _: self._draw())
        above.addWidget(self.listed, 1)
        above.addWidget(self.months)
        above.addWidget(self.open)
        above.addWidget(self.export)
        self.body.addLayout(above)
        self.model = RowsModel(self._columns(), lambda row: row.code, rows_said.searched, self)
        self.table = self._table()
        self.body.addWidget(self.table, 1)
        self.about = label("")
        self.body.addWidget(self.about)
        self.picture = SceneView()
        self.body.addWidget(self.picture)
        QShortcut(QKeySequence(QKeySequence.StandardKey.Find), self, self.line.setFocus, context=_WITHIN)
        shell.theme.changed.connect(lambda _: self._retheme())
        self.writing.changed.connect(self._enable)
        shell.here.changed.connect(self._take_names)
        self._take_names()
        self._show()

    def _tabs(self) -> QHBoxLayout:
        across = QHBoxLayout()
        across.setSpacing(2)
        self.tabs: dict[str, QPushButton] = {}
        group = QButtonGroup(self)
        for key in GROUPS:
            tab = QPushButton()
            tab.setCheckable(True)
            tab.setAutoDefault(False)
            tab.setMinimumHeight(48)
            tab.setProperty("look", "tab")
            tab.setToolTip(say(f"due.group.{key}.full", {}))
            tab.clicked.connect(lambda _=False, key=key: self.choose(key))
            group.addButton(tab)
            across.addWidget(tab, 1)
            self.tabs[key] = tab
        self.tabs[self.state.group].setChecked(True)
        return across

    def _narrowing(self) -> QHBoxLayout:
        across = QHBoxLayout()
        across.setSpacing(10)
        find = QVBoxLayout()
        find.setSpacing(2)
        name = label(say("due.find", {}), wraps=False)
        self.line = QLineEdit()
        self.line.setMaxLength(80)
        self.line.setPlaceholderText(say("due.find-hint", {}))
        self.line.setAccessibleName(say("due.find", {}))
        name.setBuddy(self.line)
        find.addWidget(name)
        find.addWidget(self.line)
        across.addLayout(find, 3)
        self.days = FigureField(say("due.days", {}), say("due.days-unit", {}), most=3650)
        self.crib = ChoiceField(say("due.crib", {}), [], none=say("due.any-crib", {}))
        for field in (self.days, self.crib):
            field.changed.connect(self._narrow)
            across.addWidget(field, 2)
        self.line.textChanged.connect(lambda _: self._narrow())
        return across

    def _columns(self) -> list[Column[OnShelf]]:
        def mark(row: OnShelf) -> object:
            kind, role = rows_said.MARKS[row.row.standing.state]
            return self._icons.setdefault((kind, role), icon(kind, role, self.shell.theme.name, 16))

        return [
            Column(say("due.head.piece", {}), lambda row: row.code, width=84),
            Column(say("due.head.standing", {}), rows_said.standing_words, mark=mark, width=176),
            Column(say("due.head.until", {}), rows_said.until_words, due_order, width=100),
            Column(say("due.head.due", {}), due_words, due_order, width=112),
            Column(say("due.head.strip", {}), due_words, due_order, width=WIDTH),
            Column(say("due.head.why", {}), rows_said.why_words, lambda row: row.row.standing.why.key, width=400),
            Column(say("due.head.with", {}), with_whom, width=130),
            Column(say("due.head.crib", {}), lambda row: row.row.crib, width=120),
            Column(say("due.head.kind", {}), rows_said.kind_words, width=180),
        ]

    def _table(self) -> QTableView:
        table = QTableView()
        table.setModel(self.model)
        table.setAccessibleName(say("due.list", {}))
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setAlternatingRowColors(True)
        table.setSortingEnabled(True)
        table.sortByColumn(3, Qt.SortOrder.AscendingOrder)
        table.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        table.verticalHeader().hide()
        table.verticalHeader().setDefaultSectionSize(30)
        table.setWordWrap(False)
        leave_by_tab(table)
        for number, column in enumerate(self.model.columns):
            table.setColumnWidth(number, column.width)
        self._strips = StripColumn(lambda: self.shell.theme.name, lambda: self.state.site_days, table)
        table.setItemDelegateForColumn(STRIP, self._strips)
        # Enter on a row, or a double click, goes to the card.
        table.activated.connect(lambda _: self._open())
        table.selectionModel().selectionChanged.connect(lambda *_: self._enable())
        return table

    # What it shows.

    def arrived(self) -> None:
        """Ask for everything; the months ahead where there is room for them beside the list."""
        if not self.rows:
            self.months.setChecked(self.height() >= ROOM_PX)
        self._ask()
        self.table.setFocus()

    def moved(self, subjects: frozenset[str]) -> None:
        """Ask again."""
        _ = subjects
        self._ask()

    def scanned(self, meant: Meant) -> bool:
        """A piece that is scanned is looked for among all of them."""
        if not meant.pieces:
            return False
        self.choose("every")
        self.show_code(meant.pieces[0])
        return True

    def show_code(self, code: str) -> None:
        """Choose this piece in the list."""
        place = self.model.place_of(code)
        if place >= 0:
            flags = QItemSelectionModel.SelectionFlag
            self.table.selectionModel().setCurrentIndex(self.model.index(place, 0), flags.ClearAndSelect | flags.Rows)
            self.table.scrollTo(self.model.index(place, 0))

    def choose(self, group: str) -> None:
        """List this group."""
        self.state.group = group
        self.tabs[group].setChecked(True)
        self._narrow()

    def first_look(self) -> Callable[[Asked], Shelf]:
        """What can be shown before the register is open."""
        return lambda glance: look_at_shelf(glance, FIRST)

    def show_first(self, found: Shelf) -> None:
        """The first rows, until everything is there."""
        if not self.rows:
            self._fill(found, "all" if len(found.rows) == found.total else "first")

    def _ask(self) -> None:
        self.shell.doors.ask(
            look_at_shelf,
            lambda found: self._fill(found, "all"),
            self.shell.complain,
            owner=self,
            slot="list",
            is_long=True,
        )

    def _fill(self, found: Shelf, read: Literal["first", "all"]) -> None:
        chosen = self._code()
        self.rows, self._counted = found.rows, ()
        self.state.take(found, read)
        # The site's own warning days hold until somebody asks for others.
        self.days.line.setPlaceholderText(str(self.state.site_days))
        self.crib.set_options((one, one) for one in cribs_of(found.rows))
        self.model.set_rows(found.rows)
        self._narrow()
        if chosen:
            self.show_code(chosen)

    def _narrow(self) -> None:
        self.state.crib, self.state.words = self.crib.value() or "", self.line.text()
        if not self.days.complaint():
            days = self.days.value()
            self.state.days = None if days is None else int(days)
        self.model.set_filter(self.state.words, self.state.keeps())
        self._show()

    def _show(self) -> None:
        # Counts and months ask every row: only where they can have become others, and not with each letter typed.
        asked = (self.state.crib, self.state.within, self.state.today)
        if asked != self._counted:
            self._counted = asked
            self._count()
        self.listed.setText(self.state.listed(self.model.rowCount(), self.model.total))
        self._enable()

    def _count(self) -> None:
        counts: Mapping[str, int] = self.state.counts(self.rows)
        for group, tab in self.tabs.items():
            values = {"group": say(f"due.group.{group}", {}), "count": counts[group]}
            tab.setText(say("due.tab", values))
            tab.setAccessibleName(say("due.tab-said", values))
        self._draw()

    def _enable(self) -> None:
        row = self._row()
        self.open.setEnabled(row is not None)
        self.export.setEnabled(self.model.rowCount() > 0 and not self.writing.is_writing)
        self.about.setText(self.state.about(row))
        self.about.setVisible(bool(self.rows))

    def _take_names(self) -> None:
        self.state.names = self.shell.here.people
        self.table.viewport().update()

    def _draw(self) -> None:
        from app.pictures.forecast import forecast_picture

        if not self.rows or not self.months.isChecked():
            self.picture.show_scene(None)
            return
        ahead = self.state.ahead(self.rows)
        width = float(max(700, min(1100, self.width() - 40)))
        scene = forecast_picture(
            ahead.past, ahead.months, ahead.later, ahead.undated, self.shell.theme.name, width=width
        )  # fmt: skip
        self.picture.show_scene(scene)

    def _retheme(self) -> None:
        self._icons.clear()
        self.table.viewport().update()
        self._draw()

    def _row(self) -> OnShelf | None:
        chosen = self.table.selectionModel().selectedRows()
        return self.model.row_at(chosen[0].row()) if chosen else None

    def _code(self) -> str:
        row = self._row()
        return "" if row is None else row.code

    def _open(self) -> None:
        if code := self._code():
            self.shell.go("shelf", code)

    def _export(self) -> None:
        name = say("due.file-name", {"group": self.state.group, "today": self.state.today})
        columns = [column for number, column in enumerate(self.model.columns) if number != STRIP]
        self.writing.put(name, columns, self.model.shown)


SCREEN = DueScreen
