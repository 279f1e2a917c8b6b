"""Fields of a form: a label above, the unit beside, the complaint below; they start empty and are never turned."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from decimal import Decimal
from typing import Any, Generic, TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QWidget,
)

from app.decision.domain.errors import BadInput
from app.window.build import column, label, put, relook, row, show_wrong
from app.window.typed import day_typed, figure_typed, words_typed
from app.words.saying import say, say_here

V = TypeVar("V")


class Field(QWidget, Generic[V]):
    """One question of a form. `value()` is None where nothing is filled in, `complaint()` "" where it can be taken."""

    changed = Signal()

    def __init__(self, name: str, editor: QWidget, *, unit: str = "", hint: str = "", is_needed: bool = False) -> None:
        super().__init__()
        self.name = name
        self.editor = editor
        self.is_needed = is_needed
        self._hint = hint
        self._label = label(name, wraps=False)
        self._label.setBuddy(editor)
        self._below = label("", "quiet")
        beside = [label(unit, "quiet", wraps=False)] if unit else []
        column(self._label, row((editor, 1), *beside, spacing=6), self._below, on=self, spacing=2)
        put(self._below, hint)
        editor.setAccessibleName(say("form.with-unit", {"name": name, "unit": unit}) if unit else name)
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
        put(self._below, text or self.says())
        relook(self._below, "short" if text else "quiet")
        show_wrong(self.editor, text, self.says())
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
    texts: list[str] = []
    for field in fields:
        text = field.show_complaint(even_if_empty=True)
        if text and not texts:
            field.editor.setFocus(Qt.FocusReason.OtherFocusReason)
        if text:
            texts.append(text)
    return texts
