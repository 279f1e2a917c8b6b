"""Fields of a form: a label above, the unit beside, the complaint below; they start empty and are never turned."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from decimal import Decimal
from typing import Any, Generic, TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.decision.domain.errors import BadInput
from app.window.typed import day_typed, figure_typed, words_typed
from app.words.saying import say, say_here

V = TypeVar("V")


def label(text: str, look: str = "", *, wraps: bool = True) -> QLabel:
    """Words on the screen, never read as markup. `look`: question, lead, quiet, short, fit, warn, heading."""
    made = QLabel(text)
    made.setTextFormat(Qt.TextFormat.PlainText)
    made.setWordWrap(wraps)
    if look:
        made.setProperty("look", look)
    return made


def button(text: str, pressed: Callable[[], object], look: str = "") -> QPushButton:
    """A button that Enter in a field never presses."""
    made = QPushButton(text)
    made.setAutoDefault(False)
    made.clicked.connect(lambda _=False: pressed())
    if look:
        made.setProperty("look", look)
    return made


def card(look: str = "card") -> tuple[QFrame, QVBoxLayout]:
    """A framed part of a screen with its layout."""
    frame = QFrame()
    frame.setProperty("look", look)
    layout = QVBoxLayout(frame)
    layout.setContentsMargins(16, 12, 16, 12)
    layout.setSpacing(8)
    return frame, layout


def fit_height(dialog: QWidget, width: int) -> None:
    """Make a dialog as high as its wrapped words need at this width, or wider where its buttons ask it."""
    layout = dialog.layout()
    assert layout is not None
    wide = max(width, layout.minimumSize().width())
    dialog.setMinimumSize(wide, max(layout.heightForWidth(wide), layout.minimumSize().height()))


def relook(widget: QWidget, look: str) -> None:
    """Change the look of a widget, whether it is shown already or not."""
    if widget.property("look") != look:
        widget.setProperty("look", look)
        if not widget.testAttribute(Qt.WidgetAttribute.WA_WState_Polished):
            # Nobody has looked at it yet: it is put on with the rest.
            return
        widget.style().unpolish(widget)
        widget.style().polish(widget)


class Field(QWidget, Generic[V]):
    """One question of a form. `value()` is None where nothing is filled in, `complaint()` "" where it can be taken."""

    changed = Signal()

    def __init__(self, name: str, editor: QWidget, *, unit: str = "", hint: str = "", is_needed: bool = False) -> None:
        super().__init__()
        self.name = name
        self.editor = editor
        self.is_needed = is_needed
        self._hint = hint
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        self._label = label(name, wraps=False)
        self._label.setBuddy(editor)
        layout.addWidget(self._label)
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(editor, 1)
        if unit:
            row.addWidget(label(unit, "quiet", wraps=False))
        layout.addLayout(row)
        self._below = label(hint, "quiet")
        self._below.setVisible(bool(hint))
        layout.addWidget(self._below)
        editor.setAccessibleName(f"{name}, {unit}" if unit else name)
        editor.setAccessibleDescription(hint)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)

    def speak_in(self, place: QLabel) -> None:
        """Say hint and complaint there, where a narrow field has no room below itself."""
        self._below.hide()
        self._below.deleteLater()
        self._below = place
        place.setVisible(bool(place.text()))

    def value(self) -> V | None:
        """What is filled in; BadInput where it cannot be taken."""
        raise NotImplementedError

    def clear(self) -> None:
        """Empty it again."""
        raise NotImplementedError

    def complaint(self) -> str:
        """Why it cannot be taken, in words; "" where it can, or where it is empty and need not be filled in."""
        try:
            value = self.value()
        except BadInput as fault:
            return say_here(fault)
        return say("form.needed", {"name": self.name}) if value is None and self.is_needed else ""

    def says(self) -> str:
        """What stands below while nothing is wrong: the hint, or how the value was read."""
        return self._hint

    def show_complaint(self, *, even_if_empty: bool = False) -> str:
        """Show below what is wrong; a field left empty is only named once somebody wants to go on."""
        text = self.complaint()
        if not even_if_empty and self._is_empty():
            text = ""
        self._below.setText(text or self.says())
        self._below.setVisible(bool(text or self.says()))
        relook(self._below, "short" if text else "quiet")
        self.editor.setProperty("is_wrong", "true" if text else "false")
        self.editor.setAccessibleDescription(text or self.says())
        self.editor.style().unpolish(self.editor)
        self.editor.style().polish(self.editor)
        return text

    def _is_empty(self) -> bool:
        try:
            return self.value() is None
        except BadInput:
            return False

    def _has_changed(self) -> None:
        self.show_complaint()
        self.changed.emit()


class LineField(Field[V]):
    """A field with one line to type in."""

    def __init__(self, name: str, *, unit: str = "", hint: str = "", is_needed: bool = False, width: int = 0) -> None:
        self.line = QLineEdit()
        self.line.setMaxLength(400)
        if width:
            self.line.setMinimumWidth(width)
        super().__init__(name, self.line, unit=unit, hint=hint, is_needed=is_needed)
        self.line.textChanged.connect(self._has_changed)

    def clear(self) -> None:
        """Empty it again."""
        self.line.clear()
        self.show_complaint()


class TextField(LineField[str]):
    """Words."""

    def value(self) -> str | None:
        """The words, blanks trimmed."""
        return words_typed(self.line.text()) or None


class DayField(LineField[date]):
    """A day; what is typed is shown back as it was read, with its weekday."""

    def __init__(
        self,
        name: str,
        today: Callable[[], date],
        *,
        hint: str | None = None,
        is_needed: bool = False,
    ) -> None:
        self._today = today
        super().__init__(name, hint=say("form.day-hint", {}) if hint is None else hint, is_needed=is_needed, width=130)

    def value(self) -> date | None:
        """The day."""
        return day_typed(self.line.text(), self._today())

    def says(self) -> str:
        """The day as it was read."""
        try:
            day = self.value()
        except BadInput:
            day = None
        return (
            self._hint
            if day is None
            else say("form.day-read", {"day": day, "weekday": say(f"weekday.{day.weekday()}", {})})
        )


class FigureField(LineField[Decimal]):
    """A figure with its unit beside it; `decimals` places at most, between `least` and `most`."""

    def __init__(
        self, name: str, unit: str, decimals: int = 0, *, least: int = 0, most: int = 10_000_000, hint: str = "",
        is_needed: bool = False,
    ) -> None:  # fmt: skip
        self._decimals = decimals
        self._least, self._most = least, most
        super().__init__(name, unit=unit, hint=hint, is_needed=is_needed, width=90)

    def value(self) -> Decimal | None:
        """The figure in the unit shown."""
        figure = figure_typed(self.line.text(), self._decimals)
        if figure is not None and not self._least <= figure <= self._most:
            raise BadInput("typed.out-of-range", thing=str(figure), least=str(self._least), most=str(self._most))
        return figure


class ChoiceField(Field[str]):
    """One of a few; nothing is chosen beforehand. Options are (key, words)."""

    def __init__(
        self, name: str, options: Iterable[tuple[str, str]], *, hint: str = "", none: str = "", is_needed: bool = False
    ) -> None:
        self.box = QComboBox()
        self.box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.box.setMinimumContentsLength(12)
        self._none = none or say("form.choose", {})
        super().__init__(name, self.box, hint=hint, is_needed=is_needed)
        self.set_options(options)
        self.box.currentIndexChanged.connect(lambda _: self._has_changed())

    def set_options(self, options: Iterable[tuple[str, str]]) -> None:
        """Other options; what was chosen stays chosen if it is still there."""
        chosen = self.box.currentData()
        self.box.blockSignals(True)
        self.box.clear()
        self.box.addItem(self._none, None)
        for key, words in options:
            self.box.addItem(words, key)
        self.box.setCurrentIndex(max(0, self.box.findData(chosen)))
        self.box.blockSignals(False)

    def choose(self, key: str | None) -> None:
        """Choose the option of that key."""
        self.box.setCurrentIndex(max(0, self.box.findData(key)))

    def value(self) -> str | None:
        """The chosen option's key."""
        chosen = self.box.currentData()
        return None if chosen is None else str(chosen)

    def clear(self) -> None:
        """Nothing chosen."""
        self.box.setCurrentIndex(0)


def complaints(fields: Sequence[Field[Any]]) -> list[str]:
    """What is wrong with these fields, each shown below its own; the first of them gets the keyboard."""
    found: list[str] = []
    for field in fields:
        text = field.show_complaint(even_if_empty=True)
        if text and not found:
            field.editor.setFocus(Qt.FocusReason.OtherFocusReason)
        if text:
            found.append(text)
    return found
