"""The bar at the head of the window: which register, which day, and whose name goes beside what is entered."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QFrame, QWidget

from app.window.build import label, row
from app.window.shell import Here
from app.words.saying import say


class Bar(QFrame):
    """Register and day on the left, "Entries by" on the right."""

    def __init__(self, here: Here, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("look", "bar")
        self._here = here
        self.register = label("", wraps=False)
        self.day = label("", "quiet", wraps=False)
        name = label(say("bar.by", {}), wraps=False)
        self.by = QComboBox()
        self.by.setMinimumWidth(200)
        self.by.setAccessibleName(say("bar.by", {}))
        name.setBuddy(self.by)
        row(self.register, (self.day, 1), name, self.by, on=self, spacing=10, margins=(16, 6, 16, 6))
        self.by.currentIndexChanged.connect(lambda _: self._chosen())

    def show_register(self, name: str) -> None:
        """Say which register is open and on which day."""
        here = self._here
        self.register.setText(name)
        key = "bar.demo-day" if here.is_demo else "bar.day"
        self.day.setText(say(key, {"day": here.today}))
        self.by.blockSignals(True)
        self.by.clear()
        self.by.addItem(say("bar.nobody", {}), "")
        for code, words in here.people.items():
            self.by.addItem(words, code)
        self.by.setCurrentIndex(max(0, self.by.findData(here.by)))
        self.by.blockSignals(False)
        self._chosen()

    def choose(self, code: str) -> None:
        """Let this person enter from now on."""
        self.by.setCurrentIndex(max(0, self.by.findData(code)))

    def _chosen(self) -> None:
        by = str(self.by.currentData() or "")
        if by != self._here.by:
            self._here.by = by
            self._here.changed.emit()
