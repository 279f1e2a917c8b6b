"""What can be done with the pieces chosen: the two done most as buttons, the rest in a menu, each with why not."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QAbstractButton, QMenu, QToolButton, QWidget

from app.window.build import button, row
from app.window.places.shelf.state import ACTS, why_not
from app.words.saying import say

_AT_HAND = ("bench", "hold")


class ActBar(QWidget):
    """`act`: gives, for one of `ACTS`, what is to be called when it is chosen."""

    def __init__(self, act: Callable[[str], Callable[[], object]]) -> None:
        super().__init__()
        at_hand = {key: button(say(ACTS[key], {}), act(key)) for key in _AT_HAND}
        self.keys: dict[str, QAbstractButton | QAction] = {**at_hand}
        more = QToolButton()
        more.setText(say("shelf.more", {}))
        more.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(more)
        menu.setToolTipsVisible(True)
        for key in (key for key in ACTS if key not in _AT_HAND):
            action = QAction(say(ACTS[key], {}), menu)
            action.triggered.connect(lambda _=False, key=key: act(key)())
            menu.addAction(action)
            self.keys[key] = action
        more.setMenu(menu)
        row(*at_hand.values(), more, on=self, spacing=6)

    def allow(self, count: int) -> None:
        """With `count` pieces chosen: what can be done with them, and of the rest why not."""
        for name, key in self.keys.items():
            reason = why_not(name, count)
            key.setEnabled(not reason)
            key.setToolTip(reason)
