"""What narrows the shelf's list: words, kind, standing, crib."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout

from app.window.build import label
from app.window.forms import ChoiceField
from app.window.places.shelf.state import ShelfState
from app.words.saying import say
from app.words.vocabulary import STATUSES


class Narrowing(QHBoxLayout):
    """`changed`: something else is to be shown; `entered`: Enter was pressed in the line of words."""

    changed = Signal()
    entered = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setSpacing(10)
        self.line = QLineEdit()
        self.line.setMaxLength(80)
        self.line.setClearButtonEnabled(True)
        self.line.setPlaceholderText(say("shelf.find-hint", {}))
        self.line.setAccessibleName(say("shelf.find", {}))
        name = label(say("shelf.find", {}), wraps=False)
        name.setBuddy(self.line)
        words = QVBoxLayout()
        words.setSpacing(2)
        words.addWidget(name)
        words.addWidget(self.line)
        self.addLayout(words, 3)
        every = say("shelf.any", {})
        self.kind = ChoiceField(say("shelf.kind", {}), [], none=every)
        self.status = ChoiceField(say("shelf.status", {}), STATUSES.items(), none=every)
        self.crib = ChoiceField(say("shelf.crib", {}), [], none=every)
        for field in (self.kind, self.status, self.crib):
            field.changed.connect(self.changed)
            self.addWidget(field, 2)
        self.line.textChanged.connect(lambda _: self.changed.emit())
        self.line.returnPressed.connect(self.entered)

    def tell(self, state: ShelfState) -> None:
        """Put what is chosen here into the state."""
        state.kind, state.status = self.kind.value() or "", self.status.value() or ""
        state.crib, state.words = self.crib.value() or "", self.line.text()

    def offer(self, kinds: Iterable[tuple[str, str]], cribs: Iterable[str]) -> None:
        """The kinds (key, words) and cribs there are; what was chosen stays chosen where it is still there."""
        self.kind.set_options(kinds)
        self.crib.set_options((one, one) for one in cribs)

    def clear(self) -> None:
        """Narrow nothing."""
        for field in (self.kind, self.status, self.crib):
            field.clear()
        self.line.clear()

    def find(self) -> None:
        """Type over the words."""
        self.line.setFocus()
        self.line.selectAll()
