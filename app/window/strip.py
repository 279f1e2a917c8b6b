"""The strip at the foot of the window: where scans land, what was saved or went wrong, and what can be done now."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtWidgets import QApplication, QFrame, QWidget

from app.outputs.pictures.scene import Role, ShapeKind
from app.window.build import announce, button, label, mark, relook, row
from app.window.paint import icon
from app.window.shell import Action
from app.window.theme import Theme

# What happened -> icon and colour; the word says it as well.
_LOOKS = {
    "done": (ShapeKind.TICK, Role.FIT, "fit"),
    "wrong": (ShapeKind.CROSS, Role.SHORT, "short"),
    "told": (ShapeKind.DISC, Role.QUIET, ""),
    "wait": (ShapeKind.CLOCK, Role.QUIET, "quiet"),
}


class Strip(QFrame):
    """One line with its buttons, announced to whoever does not see it; one beep, or three where it is wrong."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("look", "strip")
        self._theme = theme
        # As what a start says first: changing the look of what is shown has every name of a style made.
        self._kind = "wait"
        self._stays = False
        self._icon, self.says, self._actions = mark(22), label(""), row()
        self.says.setMinimumHeight(40)
        row(self._icon, (self.says, 1), self._actions, on=self, spacing=10, margins=(16, 8, 16, 8))
        theme.changed.connect(lambda _: self._draw())
        self._draw()
        self._icon.hide()

    def show_line(self, kind: str, text: str, actions: Iterable[Action] = (), *, is_heard: bool = False) -> None:
        """`kind`: done, wrong, told or wait."""
        actions = list(actions)
        self._kind = kind
        self._stays = bool(actions) or kind in ("wrong", "wait")
        self.says.setText(text)
        while (item := self._actions.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.deleteLater()
        for words, act in actions:
            self._actions.addWidget(button(words, act, "link"))
        self._draw()
        self._icon.setVisible(bool(text))
        announce(self.says, text, is_urgent=kind == "wrong")
        if is_heard:
            for _ in range(3 if kind == "wrong" else 1):
                QApplication.beep()

    def leave_place(self) -> None:
        """Another place is shown: what was only about the last one goes, what was saved or went wrong stays."""
        if not self._stays:
            self.show_line("told", "")

    def _draw(self) -> None:
        kind, role, look = _LOOKS[self._kind]
        self._icon.setPixmap(icon(kind, role, self._theme.name, 20).pixmap(20, 20))
        relook(self.says, look)
