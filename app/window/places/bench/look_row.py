"""One piece of a look-over: as scanned it has no defect; what was seen otherwise is said here."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QComboBox, QFrame, QHBoxLayout, QLabel, QLineEdit, QVBoxLayout

from app.decision.domain.declarations import Kind
from app.decision.domain.errors import BadInput
from app.decision.judging.defects import of_inspection
from app.outputs.pictures.scene import Role, ShapeKind
from app.usecases.look_at_kit import OnCounter
from app.window.build import button, label, relook
from app.window.paint import icon
from app.window.places.bench.look_state import Looked
from app.window.places.bench.state import line_of, named
from app.window.theme import Theme
from app.window.typed import figure_typed, words_typed
from app.words.saying import say, say_here
from app.words.vocabulary import DEFECTS, KINDS


class LookRow(QFrame):
    """`looked` is written into as it is said; `removed` carries the code."""

    changed = Signal()
    removed = Signal(str)

    def __init__(self, theme: Theme, code: str, looked: Looked, seen: OnCounter, kind: Kind | None) -> None:
        super().__init__()
        self.setProperty("look", "card")
        self.code = code
        self.looked = looked
        self._theme = theme
        self._kind_words = KINDS[seen.piece.kind]
        self._wrong: dict[QLineEdit, str] = {}
        self._drawn: tuple[object, ...] = ()
        down = QVBoxLayout(self)
        down.setContentsMargins(10, 6, 10, 8)
        down.setSpacing(4)
        down.addLayout(self._head(seen))
        across = QHBoxLayout()
        across.setSpacing(8)
        self._fill(across, seen, kind)
        down.addLayout(across)
        self._below = label("", "short")
        self._below.hide()
        down.addWidget(self._below)

    def _head(self, seen: OnCounter) -> QHBoxLayout:
        across = QHBoxLayout()
        across.setSpacing(8)
        self._mark = QLabel()
        self._mark.setFixedSize(20, 20)
        across.addWidget(self._mark)
        across.addWidget(label(named(seen)), 2)
        self._word = label("", "quiet")
        across.addWidget(self._word, 2)
        across.addWidget(label(line_of(seen).word, "quiet"), 1)
        self.off = button(say("bench.look.remove", {}), lambda: self.removed.emit(self.code), "link")
        self.off.setAccessibleName(say("bench.look.remove-piece", {"piece": self.code}))
        across.addWidget(self.off)
        return across

    def _fill(self, across: QHBoxLayout, seen: OnCounter, kind: Kind | None) -> None:
        defects = [] if kind is None else [(key, DEFECTS[key]) for key in of_inspection(kind)]
        self.defect = self._box(
            "defect", say("bench.look.defect-of", {"piece": self.code}),
            [("", say("bench.look.no-defect", {})), *defects],
        )  # fmt: skip
        across.addWidget(self.defect, 3)
        if kind is not None and kind.has_caps:
            self.caps = self._box("caps", say("bench.look.caps-of", {"piece": self.code}), _caps())
            across.addWidget(self.caps, 3)
        if kind is not None and kind.is_instrument and seen.piece.fixed_leads is not True:
            self.jack = self._box("jack", say("bench.look.jack-of", {"piece": self.code}), _jacks())
            across.addWidget(self.jack, 3)
        if kind is not None and kind.wants_air_test:
            self.clearance = self._line("bench.look.clearance", "bench.look.clearance-of", self._clearance_typed)
            across.addWidget(self.clearance, 2)
            across.addWidget(label(say("bench.look.mm", {}), "quiet", wraps=False))
        self.remark = self._line("bench.look.remark", "bench.look.remark-of", self._remark_typed)
        across.addWidget(self.remark, 2)

    def _box(self, name: str, says: str, options: list[tuple[str, str]]) -> QComboBox:
        box = QComboBox()
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        box.setMinimumContentsLength(8)
        box.setAccessibleName(says)
        for key, words in options:
            box.addItem(words, key)
        box.setCurrentIndex(max(0, box.findData(getattr(self.looked, name))))
        box.currentIndexChanged.connect(lambda _: self._chosen(name, box))
        return box

    def _chosen(self, name: str, box: QComboBox) -> None:
        setattr(self.looked, name, str(box.currentData() or ""))
        self.changed.emit()

    def _line(self, hint: str, says: str, typed: object) -> QLineEdit:
        line = QLineEdit()
        line.setMaxLength(200)
        line.setMinimumWidth(80)
        line.setPlaceholderText(say(hint, {}))
        line.setAccessibleName(say(says, {"piece": self.code}))
        line.textChanged.connect(typed)
        return line

    def _clearance_typed(self, text: str) -> None:
        def read() -> None:
            self.looked.clearance_mm = figure_typed(text, 1)
            if self.looked.clearance_mm is not None and not 0 <= self.looked.clearance_mm <= MOST_MM:
                raise BadInput("typed.out-of-range", thing=text.strip(), least="0", most=str(MOST_MM))

        self._read(self.clearance, read)

    def _remark_typed(self, text: str) -> None:
        def read() -> None:
            self.looked.remark = words_typed(text)

        self._read(self.remark, read)

    def _read(self, line: QLineEdit, read: object) -> None:
        assert callable(read)
        try:
            read()
        except BadInput as fault:
            self._wrong[line] = say_here(fault)
        else:
            self._wrong.pop(line, None)
        line.setProperty("is_wrong", "true" if line in self._wrong else "false")
        line.style().unpolish(line)
        line.style().polish(line)
        line.setAccessibleDescription(self._wrong.get(line, ""))
        self._below.setText(self.complaint())
        self._below.setVisible(bool(self.complaint()))
        self.changed.emit()

    def complaint(self) -> str:
        """What cannot be read in this row, "" for nothing."""
        return next(iter(self._wrong.values()), "")

    def focus_wrong(self) -> None:
        """The field that cannot be read gets the keyboard."""
        next(iter(self._wrong)).setFocus(Qt.FocusReason.OtherFocusReason)

    def show_row(self, mark: ShapeKind, role: Role, word: str) -> None:
        """How it would be entered; drawn anew only where it is another than before, because a list may be long."""
        drawn = (mark, role, word, self._theme.name)
        if drawn == self._drawn:
            return
        self._drawn = drawn
        self._mark.setPixmap(icon(mark, role, self._theme.name, 20).pixmap(QSize(20, 20)))
        self._word.setText(word)
        relook(self._word, {Role.FIT: "fit", Role.SHORT: "short"}.get(role, "quiet"))
        self.setAccessibleName(say("bench.look.row", {"piece": self.code, "kind": self._kind_words, "word": word}))


# A cuff is no longer than its glove; the longest glove of the tables is 800 mm.
MOST_MM = 800


def _caps() -> list[tuple[str, str]]:
    return [
        ("", say("bench.look.caps-unsaid", {})), ("present", say("bench.look.caps-present", {})),
        ("missing", say("bench.look.caps-missing", {})),
    ]  # fmt: skip


def _jacks() -> list[tuple[str, str]]:
    return [
        ("", say("bench.look.jack-unsaid", {})), ("none", say("bench.look.jack-none", {})),
        ("voltage", say("bench.look.jack-volts", {})), ("current", say("bench.look.jack-current", {})),
    ]  # fmt: skip
