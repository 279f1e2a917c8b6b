"""Beginning a register: one page, filled in from top to bottom, looked over, and made in one piece."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QWidget

from app.compose import BadRow, begin, look_where, write_left_out
from app.decision.domain.errors import BadInput, CuffdateError
from app.usecases.begin_register import Beginning
from app.window.build import REST, TOP, Part, add, box, button, card, column, label, put, row
from app.window.desktop import own_folder
from app.window.forms import ChoiceField, Field, FigureField, TextField
from app.window.lists import scrolled
from app.window.places.start.kit import KitPart
from app.window.places.start.state import (
    BeginState,
    about_set,
    cannot_serve,
    check_file_name,
    least_margin,
    margin_example,
    most_margin,
    sets_offered,
)
from app.window.shell import Shell
from app.words.saying import say, say_here

# Where it lies, what to tell, and whether that has to be read before going on.
Made = Callable[[Path, str, bool], None]


class FileNameField(TextField):
    """A name a file can have."""

    def value(self) -> str | None:
        """The name, without its folder."""
        written = super().value()
        if written is not None:
            check_file_name(written)
        return written


class BeginPage(QWidget):
    """`left`: somebody goes back to the choices; what is filled in stays."""

    left = Signal()

    def __init__(self, shell: Shell, when_made: Made) -> None:
        super().__init__()
        self.shell = shell
        self.state = BeginState(folder=own_folder())
        self._made = when_made
        self._is_making = False
        self.kit = KitPart(shell, self.state)
        parts = (self._where(), self._who(), self._rules(), self._crib(), self.kit, self._review())
        self.area = scrolled(box(column(*parts, REST, spacing=12, margins=(0, 0, 8, 0))), takes_keys=True)
        column((self.area, 1), self._keys(), on=self, spacing=8)
        self._fields: tuple[Field[str] | FigureField, ...] = (
            self.file, self.code, self.name, self.role, self.rule_set, self.margin, self.crib,
        )  # fmt: skip
        for field in self._fields:
            field.changed.connect(self._changed)
        self.file.changed.connect(self._look_where)
        self.crib.changed.connect(self.kit.show_cribs)
        self.rule_set.changed.connect(self.kit.look_for_certificates)
        self.kit.changed.connect(self._changed)
        self._changed()

    def arrived(self) -> None:
        """Begin at the top."""
        self.file.editor.setFocus()

    # What it is made of.

    def _where(self) -> QWidget:
        self.file = FileNameField(say("start.file", {}), hint=say("start.file-hint", {}), is_needed=True)
        self.folder, self.refused = label("", "quiet"), label("", "short")
        self.refused.hide()
        folder = row((self.folder, 1), button(say("start.folder-choose", {}), self._choose_folder))
        return _part("start.where", self.file, folder, self.refused)

    def _who(self) -> QWidget:
        self.code = TextField(say("start.code", {}), is_needed=True)
        self.name = TextField(say("start.name", {}))
        self.role = TextField(say("start.role", {}))
        fields = row(*((field, 1, TOP) for field in (self.code, self.name, self.role)))
        return _part("start.who", label(say("start.who.says", {}), "quiet"), fields)

    def _rules(self) -> QWidget:
        self.rule_set = ChoiceField(say("start.rule-set", {}), sets_offered(), is_needed=True)
        # Not among the quiet lines: whoever chooses the set in a hurry must see it.
        self.notice, self.about = label("", "short"), label("", "quiet")
        self.margin = FigureField(
            say("start.margin", {}), "%", least=least_margin(), most=most_margin(), hint=say("start.margin-hint", {})
        )
        return _part("start.rules", self.rule_set, self.notice, self.about, label(margin_example()), self.margin)

    def _crib(self) -> QWidget:
        self.crib = TextField(say("start.crib-name", {}), hint=say("start.crib-hint", {}))
        return _part("start.crib", self.crib)

    def _review(self) -> QWidget:
        self.review = label("")
        return _part("start.review", self.review)

    def _keys(self) -> QHBoxLayout:
        back = button(say("start.back-to-choices", {}), self.left.emit)
        # Beside the button and not at the end of the page: why it cannot be pressed is always seen.
        self.missing = label("", "short")
        self.make = button(say("start.make", {}), self._make, "counter")
        return row(back, (self.missing, 1), self.make, spacing=14)

    # What is filled in.

    def _changed(self) -> None:
        state = self.state
        wrong = [text for field in self._fields if (text := _wrong(field))]
        state.file_name, state.code = _taken(self.file), _taken(self.code)
        state.name, state.role_words = _taken(self.name), _taken(self.role)
        state.rule_set, state.crib = _taken(self.rule_set), _taken(self.crib)
        margin = None if _wrong(self.margin) else self.margin.value()
        state.margin_percent = None if margin is None else int(margin)
        self.folder.setText(say("start.folder", {"folder": str(state.folder)}))
        put(self.notice, cannot_serve(state.rule_set))
        self.about.setText(about_set(state.rule_set))
        put(self.review, "\n".join(state.review()))
        missing = [] if wrong else state.missing()
        why = say("start.missing", {"what": missing}) if missing else " ".join(wrong)
        self.missing.setText(why)
        self.make.setEnabled(not why and not self._is_making)

    def _look_where(self) -> None:
        """Whether the name is taken or the folder closed is asked at once, not when all else is filled in."""
        state = self.state
        if not state.file_name:
            self._where_looked("")
            return
        path = state.path
        self.shell.doors.aside(
            lambda: look_where(path), lambda _: self._where_looked(""),
            lambda fault: self._where_looked(say_here(fault)), owner=self,
            slot="where",
        )  # fmt: skip

    def _where_looked(self, refused: str) -> None:
        self.state.refused_where = refused
        put(self.refused, refused)
        self._changed()

    def _choose_folder(self) -> None:
        self.shell.ask.folder(say("start.folder-choose", {}), self.take_folder)

    def take_folder(self, folder: Path) -> None:
        """Put the register into this folder."""
        self.state.folder = folder
        self._changed()
        self._look_where()

    # What is made.

    def _make(self) -> None:
        self._is_making = True
        self.make.setEnabled(False)
        state = self.state
        path, beginning, sheet, bad, encoding = state.path, state.beginning(), state.sheet, state.bad, state.encoding
        self.shell.tell(say("start.making", {"file": str(path)}), kind="wait")
        self.shell.doors.aside(
            lambda: _made_at(path, beginning, sheet, bad, encoding), lambda told: self._done(path, told), self._failed,
            owner=self, slot="make",
        )  # fmt: skip

    def _done(self, path: Path, told: str) -> None:
        self._is_making = False
        self._made(path, told, bool(self.state.bad))

    def _failed(self, fault: CuffdateError) -> None:
        self._is_making = False
        self._changed()
        self._look_where()
        self.shell.complain(fault)


def _part(key: str, *parts: Part) -> QFrame:
    """One part of the page in its frame, under its heading."""
    frame, down = card()
    for part in (label(say(key, {}), "lead"), *parts):
        add(down, part)
    return frame


def _made_at(
    path: Path, beginning: Beginning, sheet: Path | None, bad: tuple[BadRow, ...], encoding: str | None
) -> str:
    """Make it, then write the rows left out; answers what to tell. A register that is made stays made."""
    begin(path, beginning)
    if sheet is None or not bad:
        return say("start.made", {"file": str(path)})
    try:
        left = write_left_out(sheet, bad, encoding)
    except CuffdateError as fault:
        return say("start.made-not-left-out", {"file": str(path), "why": say_here(fault)})
    return say("start.made-left-out", {"file": str(path), "left": [str(file) for file in left]})


def _wrong(field: Field[str] | FigureField) -> str:
    """What is wrong with a field that is filled in."""
    try:
        field.value()
    except BadInput:
        return field.complaint()
    return ""


def _taken(field: Field[str]) -> str:
    return "" if _wrong(field) else field.value() or ""
