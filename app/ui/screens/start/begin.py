"""Beginning a register: one page, filled in from top to bottom, looked over, and made in one piece."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QListWidget, QListWidgetItem, QScrollArea, QVBoxLayout, QWidget

from app.compose import SheetRows, begin, own_folder, read_document, read_rows, this_day, write_left_out
from app.domain.errors import CuffdateError
from app.ui.forms import ChoiceField, Field, FigureField, TextField, button, card, label
from app.ui.screens.start.state import (
    BeginState,
    about_set,
    least_margin,
    margin_example,
    most_margin,
    sets_offered,
)
from app.ui.shell import Shell
from app.words.saying import say, say_fault

ENCODINGS = ("utf-8", "cp1252", "latin-1", "cp850", "mac-roman", "utf-16")
Made = Callable[[Path, str], None]


class BeginPage(QWidget):
    """`left`: somebody goes back to the choices; what is filled in stays."""

    left = Signal()

    def __init__(self, shell: Shell, made: Made) -> None:
        super().__init__()
        self.shell = shell
        self.state = BeginState(folder=own_folder())
        self._made = made
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(8)
        self._area = QScrollArea()
        self._area.setWidgetResizable(True)
        self._area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        inner = QWidget()
        self._area.setWidget(inner)
        outer.addWidget(self._area, 1)
        down = QVBoxLayout(inner)
        down.setContentsMargins(0, 0, 8, 0)
        down.setSpacing(12)
        for part in (self._where(), self._who(), self._rules(), self._kit(), self._review()):
            down.addWidget(part)
        down.addStretch(1)
        outer.addLayout(self._keys())
        self._fields: tuple[Field[str] | FigureField, ...] = (
            self.file, self.code, self.name, self.role, self.rule_set, self.margin, self.crib,
        )  # fmt: skip
        for field in self._fields:
            field.changed.connect(self._changed)
        self._changed()

    def arrived(self) -> None:
        """Begin where something is missing."""
        self.file.editor.setFocus()

    # What it is made of.

    def _where(self) -> QWidget:
        frame, down = card()
        down.addWidget(label(say("start.where", {}), "lead"))
        self.file = TextField(say("start.file", {}), is_needed=True)
        down.addWidget(self.file)
        across = QHBoxLayout()
        self.folder = label("", "quiet")
        across.addWidget(self.folder, 1)
        across.addWidget(button(say("start.folder-choose", {}), self._choose_folder))
        down.addLayout(across)
        return frame

    def _who(self) -> QWidget:
        frame, down = card()
        down.addWidget(label(say("start.who", {}), "lead"))
        down.addWidget(label(say("start.who.says", {}), "quiet"))
        self.code = TextField(say("start.code", {}), is_needed=True)
        self.name = TextField(say("start.name", {}))
        self.role = TextField(say("start.role", {}))
        across = QHBoxLayout()
        for field in (self.code, self.name, self.role):
            across.addWidget(field, 1)
        down.addLayout(across)
        return frame

    def _rules(self) -> QWidget:
        frame, down = card()
        down.addWidget(label(say("start.rules", {}), "lead"))
        self.rule_set = ChoiceField(say("start.rule-set", {}), sets_offered(), is_needed=True)
        down.addWidget(self.rule_set)
        self.about = label("", "quiet")
        down.addWidget(self.about)
        down.addWidget(label(margin_example()))
        self.margin = FigureField(say("start.margin", {}), "%", least=least_margin(), most=most_margin())
        down.addWidget(self.margin)
        down.addWidget(label(say("start.crib", {}), "lead"))
        self.crib = TextField(say("start.crib-name", {}))
        down.addWidget(self.crib)
        return frame

    def _kit(self) -> QWidget:
        frame, down = card()
        down.addWidget(label(say("start.kit", {}), "lead"))
        down.addWidget(label(say("start.kit.says", {}), "quiet"))
        across = QHBoxLayout()
        self.sheet = button(say("start.sheet", {}), self._choose_sheet)
        self.none = button(say("start.sheet-none", {}), self._without_sheet)
        self.depot = button(say("start.depot", {}), self._choose_depot)
        for pressed in (self.sheet, self.none, self.depot):
            across.addWidget(pressed)
        across.addStretch(1)
        down.addLayout(across)
        self.encoding = ChoiceField(say("start.encoding", {}), [(one, one) for one in ENCODINGS])
        self.encoding.hide()
        self.encoding.changed.connect(self._read_again)
        down.addWidget(self.encoding)
        self.read, self.depot_read = label(""), label("")
        self.headings, self.bad = label("", "quiet"), label("")
        for one in (self.depot_read, self.read, self.headings, self.bad):
            one.hide()
            down.addWidget(one)
        self.leave_out = QCheckBox(say("start.leave-out", {}))
        self.leave_out.toggled.connect(lambda _: self._changed())
        self.leave_out.hide()
        down.addWidget(self.leave_out)
        down.addWidget(self._certificates())
        return frame

    def _certificates(self) -> QWidget:
        self.certificates = QWidget()
        down = QVBoxLayout(self.certificates)
        down.setContentsMargins(0, 8, 0, 0)
        down.addWidget(label(say("start.seen", {}), "lead"))
        down.addWidget(label(say("start.seen.says", {}), "quiet"))
        self.all_seen = button(say("start.seen-all", {}), self._tick_all)
        down.addWidget(self.all_seen, 0, Qt.AlignmentFlag.AlignLeft)
        self.seen = QListWidget()
        self.seen.setAccessibleName(say("start.seen", {}))
        self.seen.setMinimumHeight(150)
        self.seen.itemChanged.connect(lambda _: self._changed())
        down.addWidget(self.seen)
        self.certificates.hide()
        return self.certificates

    def _review(self) -> QWidget:
        frame, down = card()
        down.addWidget(label(say("start.review", {}), "lead"))
        self.review = label("")
        self.missing = label("", "short")
        down.addWidget(self.review)
        down.addWidget(self.missing)
        return frame

    def _keys(self) -> QHBoxLayout:
        across = QHBoxLayout()
        across.addWidget(button(say("start.back-to-choices", {}), self.left.emit))
        across.addStretch(1)
        self.make = button(say("start.make", {}), self._make, "counter")
        across.addWidget(self.make)
        return across

    # What is filled in.

    def _changed(self) -> None:
        state = self.state
        wrong = [text for field in self._fields if (text := field.complaint()) and not _is_left_empty(field)]
        if not wrong:
            state.file_name, state.code = self.file.value() or "", self.code.value() or ""
            state.name, state.role_words = self.name.value() or "", self.role.value() or ""
            state.rule_set, state.crib = self.rule_set.value() or "", self.crib.value() or ""
            margin = self.margin.value()
            state.margin_percent = None if margin is None else int(margin)
        state.leaves_out = self.leave_out.isChecked()
        state.seen = tuple(
            item.text() for row in range(self.seen.count())
            if (item := self.seen.item(row)) is not None and item.checkState() == Qt.CheckState.Checked
        )  # fmt: skip
        self.folder.setText(say("start.folder", {"folder": str(state.folder)}))
        self.about.setText(about_set(state.rule_set))
        self.review.setText("\n".join(state.review()))
        missing = [*wrong, *state.missing()]
        self.missing.setText(say("start.missing", {"what": "; ".join(missing)}) if missing else "")
        self.missing.setVisible(bool(missing))
        self.make.setEnabled(not missing)

    def _choose_folder(self) -> None:
        self.shell.ask.folder(say("start.folder-choose", {}), self._take_folder)

    def _take_folder(self, folder: Path) -> None:
        self.state.folder = folder
        self._changed()

    def _choose_sheet(self) -> None:
        self.shell.ask.file_to_open(say("start.sheet", {}), say("start.sheet-kinds", {}), self.take_sheet)

    def take_sheet(self, path: Path) -> None:
        """Look through a sheet; nothing of it is kept before it could be read."""
        self.state.sheet = path
        self._read_again()

    def _read_again(self) -> None:
        path, encoding = self.state.sheet, self.encoding.value()
        if path is None:
            return
        self.shell.tell(say("start.reading", {"file": path.name}), kind="wait")
        self.shell.doors.aside(
            lambda: read_rows(path, this_day(), encoding), self._sheet_read, self._sheet_failed, owner=self,
            slot="sheet",
        )  # fmt: skip

    def _sheet_read(self, rows: SheetRows) -> None:
        state = self.state
        state.rows = rows
        name = "" if state.sheet is None else state.sheet.name
        said = say("start.sheet-read", {"file": name, "good": len(rows.good), "bad": len(rows.bad)})
        _put(self.read, said)
        heads = [say("start.headings", {}), *rows.headings] if rows.headings else []
        _put(self.headings, "\n".join(heads))
        bad = [f"\u2022 {one.says}" for one in rows.bad]
        _put(self.bad, "\n".join([say("start.bad", {}), *bad]) if bad else "")
        self.leave_out.setVisible(bool(bad))
        self.leave_out.setChecked(False)
        self.seen.clear()
        for code in state.to_be_seen():
            item = QListWidgetItem(code)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(Qt.CheckState.Unchecked)
            self.seen.addItem(item)
        self.certificates.setVisible(self.seen.count() > 0)
        self.shell.tell(said, kind="done")
        self._changed()

    def _sheet_failed(self, fault: CuffdateError) -> None:
        self._without_rows()
        _put(self.read, " ".join(part for part in say_fault(fault) if part))
        self.encoding.setVisible(fault.key.startswith("sheet.encoding"))
        self.shell.complain(fault)
        self._changed()

    def _without_sheet(self) -> None:
        self.state.sheet = None
        self.encoding.hide()
        self._without_rows()
        _put(self.read, "")
        self._changed()

    def _without_rows(self) -> None:
        self.state.rows = None
        for one in (self.headings, self.bad):
            _put(one, "")
        self.leave_out.hide()
        self.certificates.hide()
        self.seen.clear()

    def _tick_all(self) -> None:
        for row in range(self.seen.count()):
            self.seen.item(row).setCheckState(Qt.CheckState.Checked)

    def _choose_depot(self) -> None:
        self.shell.ask.file_to_open(say("start.depot", {}), say("start.depot-kinds", {}), self.take_depot)

    def take_depot(self, path: Path) -> None:
        """Look through a depot file."""
        self.state.depot = path
        self.shell.doors.aside(
            lambda: read_document(path), self._depot_read, self._depot_failed, owner=self, slot="depot"
        )  # fmt: skip

    def _depot_read(self, document: Mapping[str, object]) -> None:
        self.state.document = document
        counted = {key: len(found) for key in ("people", "systems") if isinstance(found := document.get(key, []), list)}
        name = "" if self.state.depot is None else self.state.depot.name
        _put(self.depot_read, say("start.depot-read", {"file": name, "people": 0, "systems": 0, **counted}))
        self._changed()

    def _depot_failed(self, fault: CuffdateError) -> None:
        self.state.document = None
        _put(self.depot_read, " ".join(part for part in say_fault(fault) if part))
        self.shell.complain(fault)
        self._changed()

    # What is made.

    def _make(self) -> None:
        if not self.make.isEnabled():
            return
        self.make.setEnabled(False)
        path, beginning = self.state.path, self.state.beginning()
        self.shell.tell(say("start.making", {"file": str(path)}), kind="wait")
        self.shell.doors.aside(
            lambda: begin(path, beginning), lambda _: self._done(path), self._failed, owner=self, slot="make"
        )  # fmt: skip

    def _done(self, path: Path) -> None:
        left: tuple[Path, ...] = ()
        if self.state.sheet is not None and self.state.bad:
            try:
                left = write_left_out(self.state.sheet, self.state.bad, self.encoding.value())
            except CuffdateError as fault:
                self.shell.complain(fault)
        values = {"file": str(path), "left": ", ".join(str(one) for one in left)}
        self._made(path, say("start.made-left-out" if left else "start.made", values))

    def _failed(self, fault: CuffdateError) -> None:
        self.make.setEnabled(True)
        self.shell.complain(fault)


def _put(one: QWidget, text: str) -> None:
    one.setText(text)  # type: ignore[attr-defined]  # a label
    one.setVisible(bool(text))


def _is_left_empty(field: Field[str] | FigureField) -> bool:
    try:
        return field.value() is None
    except CuffdateError:
        return False
