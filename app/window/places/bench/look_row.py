"""One piece of an inspection: as scanned it has no defect; what was seen otherwise is said here."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QFrame, QHBoxLayout, QLineEdit

from app.decision.domain.errors import BadInput
from app.decision.judging.defects import of_inspection
from app.outputs.pictures.scene import Role, ShapeKind
from app.usecases.look_at_kit import OnCounter
from app.window.build import (
    LOOKS,
    Part,
    button,
    code_line,
    column,
    label,
    mark,
    put,
    put_mark,
    relook,
    row,
    show_wrong,
)
from app.window.lists import choice
from app.window.places.bench.look_state import Looked
from app.window.places.bench.state import kind_of, line_of, named
from app.window.theme import Theme
from app.window.typed import figure_typed, words_typed
from app.words.saying import say, say_here
from app.words.vocabulary import DEFECTS, KINDS

# A cuff is no longer than its glove; the longest glove of the tables is 800 mm.
MOST_MM = 800
# What is asked of a piece that has it -> what can be answered, "" for nothing said.
_ASKED: Mapping[str, Mapping[str, str]] = {
    "caps": {
        "": "bench.look.caps-unsaid", "present": "bench.look.caps-present", "missing": "bench.look.caps-missing",
    },
    "jack": {
        "": "bench.look.jack-unsaid", "none": "bench.look.jack-none", "voltage": "bench.look.jack-volts",
        "current": "bench.look.jack-current",
    },
}  # fmt: skip


class LookRow(QFrame):
    """`looked` is written into as it is said; `removed` carries the code."""

    changed = Signal()
    removed = Signal(str)

    def __init__(self, theme: Theme, code: str, looked: Looked, seen: OnCounter) -> None:
        super().__init__()
        self.setProperty("look", "card")
        self.code = code
        self.looked = looked
        self._theme = theme
        self._kind_words = KINDS[seen.piece.kind]
        self._wrong: dict[QLineEdit, str] = {}
        self._drawn: tuple[object, ...] = ()
        self._mark, self._word, self._below = mark(20), label("", "quiet"), label("", "short")
        self._below.hide()
        self.off = button(say("bench.look.remove", {}), lambda: self.removed.emit(self.code), "link")
        self.off.setAccessibleName(say("bench.look.remove-piece", {"piece": self.code}))
        stands = label(line_of(seen).word, "quiet")
        head = row(self._mark, (label(named(seen)), 2), (self._word, 2), (stands, 1), self.off, spacing=8)
        column(head, self._asked(seen), self._below, on=self, spacing=4, margins=(10, 6, 10, 8))

    def _asked(self, seen: OnCounter) -> QHBoxLayout:
        kind = kind_of(seen)
        defects = [] if kind is None else [(key, DEFECTS[key]) for key in of_inspection(kind)]
        self.defect = self._box("defect", [("", say("bench.look.no-defect", {})), *defects])
        parts: list[Part] = [(self.defect, 3)]
        if kind is not None and kind.has_caps:
            self.caps = self._box("caps")
            parts.append((self.caps, 3))
        if kind is not None and kind.is_instrument and seen.piece.fixed_leads is not True:
            self.jack = self._box("jack")
            parts.append((self.jack, 3))
        if kind is not None and kind.wants_air_test:
            self.clearance = self._line("clearance", self._clearance_typed)
            parts += [(self.clearance, 2), label(say("bench.look.mm", {}), "quiet", wraps=False)]
        self.remark = self._line("remark", self._remark_typed)
        return row(*parts, (self.remark, 2), spacing=8)

    def _box(self, name: str, options: Iterable[tuple[str, str]] = ()) -> QComboBox:
        words = options or [(key, say(text, {})) for key, text in _ASKED[name].items()]
        says, chosen = say(f"bench.look.{name}-of", {"piece": self.code}), getattr(self.looked, name)
        return choice(says, words, chosen, lambda key: self._chosen(name, key), letters=8)

    def _chosen(self, name: str, key: str) -> None:
        setattr(self.looked, name, key)
        self.changed.emit()

    def _line(self, name: str, typed: Callable[[str], None]) -> QLineEdit:
        says = say(f"bench.look.{name}-of", {"piece": self.code})
        line = code_line(says, say(f"bench.look.{name}", {}), most=200)
        line.setMinimumWidth(80)
        line.textChanged.connect(lambda text: self._read(line, text, typed))
        return line

    def _clearance_typed(self, text: str) -> None:
        self.looked.clearance_mm = figure_typed(text, 1)
        if self.looked.clearance_mm is not None and not 0 <= self.looked.clearance_mm <= MOST_MM:
            raise BadInput("typed.out-of-range", thing=text.strip(), least="0", most=str(MOST_MM))

    def _remark_typed(self, text: str) -> None:
        self.looked.remark = words_typed(text)

    def _read(self, line: QLineEdit, text: str, read: Callable[[str], None]) -> None:
        self._wrong.pop(line, None)
        try:
            read(text)
        except BadInput as fault:
            self._wrong[line] = say_here(fault)
        show_wrong(line, self._wrong.get(line, ""))
        put(self._below, self.complaint())
        self.changed.emit()

    def complaint(self) -> str:
        """What cannot be read in this row, "" for nothing."""
        return next(iter(self._wrong.values()), "")

    def focus_wrong(self) -> None:
        """The field that cannot be read gets the keyboard."""
        next(iter(self._wrong)).setFocus(Qt.FocusReason.OtherFocusReason)

    def show_row(self, shape: ShapeKind, role: Role, word: str) -> None:
        """How it would be entered; drawn anew only where it is another than before, because a list may be long."""
        drawn = (shape, role, word, self._theme.name)
        if drawn == self._drawn:
            return
        self._drawn = drawn
        put_mark(self._mark, shape, role, self._theme.name)
        self._word.setText(word)
        relook(self._word, LOOKS.get(role, "quiet"))
        self.setAccessibleName(say("bench.look.row", {"piece": self.code, "kind": self._kind_words, "word": word}))
