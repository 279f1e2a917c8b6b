"""The part of beginning in which a sheet and a depot file are looked through, and certificates are ticked off."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QListWidget,
    QListWidgetItem,
    QWidget,
)

from app.compose import DepotFile, SheetRows, read_document, read_rows, row_words, this_day
from app.decision.domain.errors import CuffdateError
from app.decision.domain.record import ElectricalTest
from app.intake.register_sheet import SheetRow
from app.usecases.begin_register import waiting_for_certificates
from app.window.build import LEFT, REST, add, box, button, card, column, label, put, row, toggle
from app.window.forms import ChoiceField
from app.window.places.start.state import BeginState, certificate_words, day_of_test
from app.window.rows_model import Column, RowsModel
from app.window.shell import Shell
from app.window.tables import RowsTable
from app.window.theme import TARGET_PX
from app.words.saying import say, say_here
from app.words.vocabulary import KINDS

ENCODINGS = ("utf-8", "cp1252", "latin-1", "cp850", "mac-roman", "utf-16")
_OF_ENCODING = ("sheet.encoding-unknown", "sheet.encoding-not-offered")
CODE_ROLE = Qt.ItemDataRole.UserRole


class KitPart(QWidget):
    """Fills in sheet, depot file and certificates of a `BeginState`; `changed` tells that it has."""

    changed = Signal()

    def __init__(self, shell: Shell, state: BeginState) -> None:
        super().__init__()
        self.shell = shell
        self.state = state
        frame, down = card()
        column(frame, on=self)
        self.sheet = button(say("start.sheet", {}), self._choose_sheet)
        self.depot = button(say("start.depot", {}), self._choose_depot)
        self.none = button(say("start.sheet-none", {}), self.start_empty)
        self.depot_read = label("")
        self.encoding = ChoiceField(
            say("start.encoding", {}), [(name, name) for name in ENCODINGS], hint=say("start.encoding-hint", {})
        )
        self.encoding.changed.connect(self._read_again)
        self.read = label("")
        down.addWidget(label(say("start.kit", {}), "lead"))
        down.addWidget(label(say("start.kit.says", {}), "quiet"))
        down.addLayout(row(self.sheet, self.none, REST))
        down.addLayout(row(self.depot, REST))
        # What is read comes only once there is something to say of it.
        self._certificates()
        for part in (self.depot_read, self.encoding, self.read, *self._sheet_parts(), self.certificates):
            part.hide()
            add(down, (part, 0, LEFT) if part is self.every else part)

    def _sheet_parts(self) -> tuple[QWidget, ...]:
        self.cribs, self.headings, self.bad = label("", "quiet"), label("", "quiet"), label("")
        self.every = toggle(say("start.headings-every", {}), self._show_headings)
        self.leave_out = QCheckBox(say("start.leave-out", {}))
        self.leave_out.toggled.connect(self._leave_out)
        self.preview_name = label(say("start.preview", {}), "heading")
        self.model = RowsModel(_columns(), lambda row: row.piece.code, lambda row: row.piece.code)
        self.preview = RowsTable(self.shell.theme, self.model, say("start.preview", {}))
        self.preview.setMinimumHeight(170)
        return self.cribs, self.headings, self.every, self.bad, self.leave_out, self.preview_name, self.preview

    def _certificates(self) -> None:
        self.all_seen = button(say("start.seen-all", {}), lambda: self._tick(Qt.CheckState.Checked))
        self.none_seen = button(say("start.seen-none", {}), lambda: self._tick(Qt.CheckState.Unchecked))
        self.seen = QListWidget()
        self.seen.setAccessibleName(say("start.seen", {}))
        self.seen.setMinimumHeight(170)
        self.seen.itemChanged.connect(lambda _: self._ticked())
        heading, says = label(say("start.seen", {}), "lead"), label(say("start.seen.says", {}), "quiet")
        keys = row(self.all_seen, self.none_seen, REST)
        self.certificates = box(column(heading, says, keys, self.seen, margins=(0, 8, 0, 0)))

    # A sheet.

    def _choose_sheet(self) -> None:
        self.shell.ask.file_to_open(say("start.sheet", {}), say("start.sheet-kinds", {}), self.take_sheet)

    def take_sheet(self, path: Path) -> None:
        """Look through a sheet; nothing of it is kept before it could be read. Its encoding is its own question."""
        self.state.sheet = path
        self.encoding.blockSignals(True)
        self.encoding.clear()
        self.encoding.blockSignals(False)
        self.encoding.hide()
        self._read_again()

    def _read_again(self) -> None:
        path, encoding = self.state.sheet, self.encoding.value()
        if path is None:
            return
        self.state.encoding = encoding
        self.shell.tell(say("start.reading", {"file": path.name}), kind="wait")
        self.shell.doors.aside(
            lambda: read_rows(path, this_day(), encoding), self._sheet_read, self._sheet_failed, owner=self,
            slot="sheet",
        )  # fmt: skip

    def _sheet_read(self, rows: SheetRows) -> None:
        state = self.state
        state.rows, state.seen, state.leaves_out = rows, (), False
        told = state.sheet_words()
        put(self.read, told)
        self.every.setVisible(bool(rows.every_heading))
        self._show_headings()
        put(self.bad, state.bad_said())
        self.leave_out.setVisible(bool(rows.bad))
        self.leave_out.setChecked(False)
        self.model.set_rows(rows.good)
        self.preview.setVisible(bool(rows.good))
        self.preview_name.setVisible(bool(rows.good))
        self.look_for_certificates()
        self.shell.tell(told, kind="done")
        self.show_cribs()
        self.changed.emit()

    def look_for_certificates(self) -> None:
        """Ask which tests wait for their certificates; rule set and site rules decide with the sheet."""
        rows, rule_set = self.state.good, self.state.rule_set
        depot = None if self.state.brought is None else self.state.brought.depot
        self.shell.doors.aside(
            lambda: waiting_for_certificates(rows, rule_set, depot, this_day()), self._list_certificates,
            self.shell.complain, owner=self, slot="certificates",
        )  # fmt: skip

    def show_cribs(self) -> None:
        """Say which cribs the rows go to; the crib they fall back on is filled in elsewhere."""
        put(self.cribs, self.state.crib_words())

    def _show_headings(self) -> None:
        rows = self.state.rows
        lines: tuple[str, ...] = ()
        if rows is not None:
            lines = rows.every_heading if self.every.isChecked() else rows.headings
        heading = say("start.headings-every" if self.every.isChecked() else "start.headings", {})
        put(self.headings, "\n".join([heading, *lines] if lines else []))

    def _list_certificates(self, tests: Iterable[tuple[str, ElectricalTest]]) -> None:
        ticked = set(self.state.seen)
        self.seen.blockSignals(True)
        self.seen.clear()
        for code, test in tests:
            item = QListWidgetItem(certificate_words(code, test))
            item.setData(CODE_ROLE, code)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(Qt.CheckState.Checked if code in ticked else Qt.CheckState.Unchecked)
            item.setSizeHint(QSize(0, TARGET_PX))
            self.seen.addItem(item)
        self.seen.blockSignals(False)
        self.certificates.setVisible(self.seen.count() > 0)
        self._ticked()

    def _sheet_failed(self, fault: CuffdateError) -> None:
        self._without_rows()
        put(self.read, say_here(fault))
        self.encoding.setVisible(fault.key in _OF_ENCODING)
        self.shell.complain(fault)
        self.changed.emit()

    def start_empty(self) -> None:
        """Neither a sheet nor a depot file."""
        self.state.sheet = self.state.depot = self.state.brought = None
        self.encoding.hide()
        self._without_rows()
        for words in (self.read, self.depot_read):
            put(words, "")
        self.changed.emit()

    def _without_rows(self) -> None:
        self.state.rows, self.state.seen, self.state.leaves_out = None, (), False
        for words in (self.headings, self.bad, self.cribs):
            put(words, "")
        self.model.set_rows(())
        for hidden in (self.every, self.leave_out, self.preview, self.preview_name):
            hidden.hide()
        self.look_for_certificates()

    # What is ticked.

    def _leave_out(self, is_so: bool) -> None:  # noqa: FBT001  # the toolkit's
        self.state.leaves_out = is_so
        self.changed.emit()

    def _tick(self, to: Qt.CheckState) -> None:
        self.seen.blockSignals(True)
        for number in range(self.seen.count()):
            self.seen.item(number).setCheckState(to)
        self.seen.blockSignals(False)
        self._ticked()

    def _ticked(self) -> None:
        items = (self.seen.item(number) for number in range(self.seen.count()))
        self.state.seen = tuple(
            str(item.data(CODE_ROLE)) for item in items if item.checkState() == Qt.CheckState.Checked
        )  # fmt: skip
        self.changed.emit()

    # A depot file.

    def _choose_depot(self) -> None:
        self.shell.ask.file_to_open(say("start.depot", {}), say("start.depot-kinds", {}), self.take_depot)

    def take_depot(self, path: Path) -> None:
        """Look through a depot file."""
        self.state.depot = path
        self.shell.doors.aside(
            lambda: read_document(path), self._depot_read, self._depot_failed, owner=self, slot="depot"
        )  # fmt: skip

    def _depot_read(self, brought: DepotFile) -> None:
        self.state.brought = brought
        put(self.depot_read, self.state.depot_words())
        self.look_for_certificates()
        self.changed.emit()

    def _depot_failed(self, fault: CuffdateError) -> None:
        self.state.brought = None
        self.look_for_certificates()
        put(self.depot_read, say_here(fault))
        self.shell.complain(fault)
        self.changed.emit()


def _columns() -> list[Column[SheetRow]]:
    return [
        Column(say("start.column.row", {}), lambda row: row_words(row.place.sheet, row.place.row), width=200),
        Column(say("start.column.piece", {}), lambda row: row.piece.code, width=90),
        Column(say("start.column.kind", {}), lambda row: KINDS[row.piece.kind], width=190),
        Column(say("start.column.crib", {}), lambda row: row.crib, width=130),
        Column(say("start.column.test", {}), day_of_test, width=190),
    ]
