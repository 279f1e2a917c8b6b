"""Due: what needs doing, and by when?"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, Literal

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout

from app.outputs.pictures.forecast import forecast_picture
from app.usecases.look_at_shelf import Asked, OnShelf, Shelf, look_at_shelf
from app.window.build import button, label, one_of, row, toggle
from app.window.forms import ChoiceField, FigureField
from app.window.paint import SceneView
from app.window.places.due.export import Export, Filtered
from app.window.places.due.state import GROUPS, DueState, cribs_of, due_order, due_words, statuses_of, with_whom
from app.window.places.due.strip_column import WIDTH, StripColumn
from app.window.places.shelf import state as rows_said
from app.window.rows_model import Column, RowsModel
from app.window.shell import Screen, Shell
from app.window.tables import ROW_PX, FilterLine, RowsTable
from app.words.saying import say

if TYPE_CHECKING:
    from app.decision.domain.facts import Facts
    from app.usecases.look_up import Meant

FIRST = 200
# The least height of the window at which the months ahead have room beside a list of some rows.
ROOM_PX = 720
LEAST_ROWS = 5
# The column the strip is drawn in; what it shows stands in words beside it, so it is not exported.
STRIP = 4
_WITHIN = Qt.ShortcutContext.WidgetWithChildrenShortcut


def columns() -> list[Column[OnShelf]]:
    """What stands in a row."""
    return [
        Column(say("due.head.piece", {}), lambda row: row.code, width=84),
        Column(say("due.head.status", {}), rows_said.status_words, mark=rows_said.mark, width=176),
        Column(say("due.head.until", {}), rows_said.until_words, due_order, width=100),
        Column(say("due.head.due", {}), due_words, due_order, width=112),
        Column(say("due.head.strip", {}), due_words, due_order, width=WIDTH, tip=say("due.strip-key", {})),
        Column(say("due.head.why", {}), rows_said.why_words, lambda row: row.row.status.why.key, width=400),
        Column(say("due.head.with", {}), with_whom, width=160),
        Column(say("due.head.crib", {}), lambda row: row.row.crib, width=120),
        Column(say("due.head.kind", {}), rows_said.kind_words, width=180),
    ]


class DueScreen(Screen):
    """Groups with their counts, the list of one of them, and the months ahead."""

    place = "due"

    def __init__(self, shell: Shell) -> None:
        super().__init__(shell)
        self.state = DueState(today=shell.here.today)
        self.rows: tuple[OnShelf, ...] = ()
        self._facts: Facts | None = None
        self._counted: tuple[object, ...] = ()
        self.writing = Export(shell, self)
        self.model = RowsModel(columns(), lambda row: row.code, rows_said.searched)
        self.table = self._table()
        self.days = FigureField(say("due.days", {}), say("due.days-unit", {}), most=3650)
        self.crib = ChoiceField(say("due.crib", {}), [], none=say("due.any-crib", {}))
        narrowing = FilterLine(say("due.find", {}), say("due.find-hint", {}), (self.days, self.crib))
        narrowing.changed.connect(self._narrow)
        self.line = narrowing.line
        self.listed, self.about = label("", "quiet"), label("")
        self.export = button(say("due.export", {}), self._export)
        self.open = button(say("due.open", {}), self._open)
        self.months = toggle(say("due.months", {}), self._draw)
        self.picture = SceneView()
        self.body.addLayout(self._tabs())
        self.body.addLayout(narrowing)
        self.body.addLayout(row((self.listed, 1), self.months, self.open, self.export))
        self.body.addWidget(self.table, 1)
        self.body.addWidget(self.about)
        self.body.addWidget(self.picture)
        # Takes the room of the list where that is hidden; beside the list it takes none.
        self.body.addStretch(0)
        QShortcut(QKeySequence(QKeySequence.StandardKey.Find), self, self.line.setFocus, context=_WITHIN)
        shell.theme.changed.connect(lambda _: self._draw())
        self.writing.changed.connect(self._enable)
        shell.here.changed.connect(self._take_names)
        self._take_names()
        self._show()

    def _tabs(self) -> QHBoxLayout:
        # Their words have their counts, which are told later.
        self.tabs = one_of(self, dict.fromkeys(GROUPS, ""), self.choose, "tab")
        for key, tab in self.tabs.items():
            # Two lines of words, the frame and room around them.
            tab.setStyleSheet(f"min-height: {max(40, 2 * tab.fontMetrics().lineSpacing() + 8)}px;")
            tab.setToolTip(say(f"due.group.{key}.full", {}))
        self.tabs[self.state.group].setChecked(True)
        return row(*((tab, 1) for tab in self.tabs.values()), spacing=2)

    def _table(self) -> RowsTable[OnShelf]:
        table = RowsTable(self.shell.theme, self.model, say("due.list", {}))
        table.sort_by(3)
        table.setMinimumHeight((LEAST_ROWS + 1) * ROW_PX + 8)
        self._strips = StripColumn(lambda: self.shell.theme.name, lambda: self.state.site_days, table)
        table.setItemDelegateForColumn(STRIP, self._strips)
        # Enter on a row, or a double click, goes to the card.
        table.activated.connect(lambda _: self._open())
        table.chosen.connect(self._enable)
        return table

    # What it shows.

    def arrived(self) -> None:
        """Ask for everything; the months ahead where there is room for them beside the list."""
        if not self.rows:
            self.months.setChecked(self.window().height() >= ROOM_PX)
        self._ask()
        self.table.setFocus()

    def moved(self, subjects: frozenset[str]) -> None:
        """Ask again."""
        _ = subjects
        self._ask()

    def scanned(self, meant: Meant) -> bool:
        """A piece that is scanned is chosen in the list shown; of one that is not in it, it is said why."""
        if not meant.pieces:
            return False
        code = meant.pieces[0]
        if self.table.choose(code):
            return True
        row = next((listed for listed in self.rows if listed.code == code), None)
        action = (say("due.open", {}), lambda: self.shell.go("shelf", code))
        self.shell.tell(self.state.not_listed(code, row), action)
        return True

    def show_code(self, code: str) -> None:
        """Choose this piece in the list."""
        self.table.choose(code)

    def choose(self, group: str) -> None:
        """List this group."""
        self.state.group = group
        self.tabs[group].setChecked(True)
        self._narrow()

    @staticmethod
    def first_look() -> Callable[[Asked], Shelf]:
        """What can be shown before the register is open."""
        return lambda glance: look_at_shelf(glance, FIRST)

    def show_first(self, shelf: Shelf) -> None:
        """The first rows, until everything is there."""
        if not self.rows:
            self._fill(shelf, "all" if len(shelf.rows) == shelf.total else "first")

    def _ask(self) -> None:
        def read(desk: Asked) -> tuple[Shelf, list[str]]:
            shelf = look_at_shelf(desk)
            return shelf, rows_said.texts(shelf.rows)

        self.shell.doors.ask(
            read, lambda shelf: self._fill(shelf[0], "all", shelf[1]), self.shell.complain, owner=self, slot="list",
            is_long=True,
        )  # fmt: skip

    def _fill(self, shelf: Shelf, read: Literal["first", "all"], texts: Iterable[str] = ()) -> None:
        self.rows, self._facts, self._counted = shelf.rows, shelf.facts, ()
        self.state.take(shelf, read)
        # The site's own warning days hold until somebody asks for others.
        self.days.line.setPlaceholderText(str(self.state.site_days))
        self.crib.set_options((crib, crib) for crib in cribs_of(shelf.rows))
        self.table.fill(shelf.rows, texts)
        self._narrow()

    def _narrow(self) -> None:
        self.state.crib, self.state.words = self.crib.value() or "", self.line.text()
        if not self.days.complaint():
            days = self.days.value()
            self.state.days = None if days is None else int(days)
        self.table.narrow(rows_said.looked_for(self.state.words), self.state.keeps())
        self._show()

    def _show(self) -> None:
        # Counts and months ask every row: only where they can have become others, and not with each letter typed.
        asked = (self.state.crib, self.state.within, self.state.today)
        if asked != self._counted:
            self._counted = asked
            self._count()
        standings = statuses_of(self.model.shown()) if self.state.group == "overdue" else {}
        self.listed.setText(self.state.listed(self.model.rowCount(), self.model.total, standings))
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
        self.about.setVisible(bool(self.rows) and not self.table.isHidden())

    def _take_names(self) -> None:
        self.state.names = self.shell.here.people
        self.table.viewport().update()

    def _draw(self) -> None:
        is_drawn = bool(self.rows) and self.months.isChecked()
        # Where there is no room for both, the months stand in the list's place, and not beside a list of one row.
        self.table.setVisible(not is_drawn or self.window().height() >= ROOM_PX)
        self.about.setVisible(bool(self.rows) and not self.table.isHidden())
        if not is_drawn:
            self.picture.show_scene(None)
            return
        ahead = self.state.ahead(self.rows)
        width = float(max(700, min(1100, self.width() - 40)))
        scene = forecast_picture(
            ahead.past, ahead.months, ahead.later, ahead.undated, self.shell.theme.name, width=width
        )  # fmt: skip
        self.picture.show_scene(scene)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """What has room beside what is another matter now."""
        super().resizeEvent(event)
        self._draw()

    def _row(self) -> OnShelf | None:
        chosen = self.table.chosen_rows()
        return chosen[0] if chosen else None

    def _open(self) -> None:
        if (row := self._row()) is not None:
            self.shell.go("shelf", row.code)

    def _export(self) -> None:
        name = say("due.file-name", {"group": self.state.group, "today": self.state.today})
        columns = [column for number, column in enumerate(self.model.columns) if number != STRIP]
        if (facts := self._facts) is not None:
            self.writing.put(name, columns, self.model.shown, lambda: Filtered(self.listed.text(), facts))


SCREEN = DueScreen
