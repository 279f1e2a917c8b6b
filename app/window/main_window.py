"""The window: a rail of places, a bar, a strip, and the place chosen. It knows screens and nothing of the trade.

It paints before anything heavy is loaded: `furnish` brings the rest once the first picture is on the screen.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QLabel,
    QMainWindow,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.words.saying import say
from app.words.vocabulary import PLACES

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtGui import QCloseEvent, QPaintEvent

    from app.window.shell import Screen
    from app.window.theme import Theme

SMALLEST = (1024, 640)


class MainWindow(QMainWindow):
    """`furnished` is called once after the first paint and puts the rest in place."""

    def __init__(self, theme: Theme, furnished: Callable[[MainWindow], None]) -> None:
        super().__init__()
        self.theme = theme
        self.setWindowTitle(say("title", {}))
        self.setMinimumSize(*SMALLEST)
        self.resize(1240, 800)
        self._furnished: Callable[[MainWindow], None] | None = furnished
        self.screens: dict[str, Screen] = {}
        self._cover: Screen | None = None
        self.make: Callable[[str], Screen] | None = None
        self.may_close: Callable[[], bool] = lambda: True
        self.closed: Callable[[], None] = lambda: None
        ground = QWidget()
        ground.setObjectName("ground")
        across = QHBoxLayout(ground)
        across.setContentsMargins(0, 0, 0, 0)
        across.setSpacing(0)
        across.addWidget(self._rail())
        self.column = QVBoxLayout()
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(0)
        self.stack = QStackedWidget()
        self.column.addWidget(self.stack, 1)
        across.addLayout(self.column, 1)
        opening = QLabel(say("opening", {}))
        opening.setMargin(24)
        self.stack.addWidget(opening)
        self.setCentralWidget(ground)

    def _rail(self) -> QFrame:
        rail = QFrame()
        rail.setProperty("look", "rail")
        rail.setFixedWidth(150)
        down = QVBoxLayout(rail)
        # One pixel for the rail's edge, which the keys would paint over.
        down.setContentsMargins(0, 14, 1, 14)
        down.setSpacing(4)
        self.buttons: dict[str, QPushButton] = {}
        group = QButtonGroup(self)
        for number, (place, words) in enumerate(PLACES.items(), 1):
            key = QPushButton(words)
            key.setCheckable(True)
            key.setAutoDefault(False)
            key.setProperty("look", "place")
            key.setToolTip(f"Ctrl+{number}")
            key.clicked.connect(lambda _=False, place=place: self.go(place))
            key.setEnabled(False)
            group.addButton(key)
            down.addWidget(key)
            self.buttons[place] = key
        down.addStretch(1)
        return rail

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """The first picture; everything else comes after it."""
        super().paintEvent(event)
        if self._furnished is not None:
            furnished, self._furnished = self._furnished, None
            QTimer.singleShot(0, lambda: furnished(self))

    @property
    def place(self) -> str:
        """The place shown, "" before there is one."""
        return next((key for key, screen in self.screens.items() if screen is self.stack.currentWidget()), "")

    @property
    def shown(self) -> Screen | None:
        """The screen shown."""
        return self.screens.get(self.place)

    def add_shortcuts(self) -> None:
        """Ctrl and a digit go to a place; put in once the window has painted, like everything that can wait."""
        # Each class of the toolkit has its words made when it is named, and none of these is painted.
        from PySide6.QtGui import QKeySequence, QShortcut  # noqa: PLC0415

        for number, place in enumerate(PLACES, 1):
            QShortcut(QKeySequence(f"Ctrl+{number}"), self, lambda place=place: self.go(place))

    def open_places(self, *, are_open: bool) -> None:
        """Whether there is a register to go anywhere in."""
        for key in self.buttons.values():
            key.setEnabled(are_open)

    def go(self, place: str, code: str = "") -> None:
        """Show a place, and there a piece."""
        if self.make is None or not self.buttons[place].isEnabled():
            return
        if place not in self.screens:
            self.screens[place] = self.make(place)
            self.stack.addWidget(self.screens[place])
        self._uncover()
        self.buttons[place].setChecked(True)
        self.stack.setCurrentWidget(self.screens[place])
        self.screens[place].arrived()
        if code:
            self.screens[place].show_code(code)

    def early(self, place: str, screen: Screen) -> None:
        """Show a place that has not been gone to yet, as far as it can be shown."""
        self.screens[place] = screen
        self.stack.addWidget(screen)
        self.stack.setCurrentWidget(screen)

    def forget(self) -> None:
        """Take away every place, so that each is made anew when it is gone to."""
        for screen in self.screens.values():
            self.stack.removeWidget(screen)
            screen.deleteLater()
        self.screens = {}

    @property
    def covered(self) -> Screen | None:
        """What stands in place of the places, if anything does."""
        return self._cover

    def cover(self, widget: Screen) -> None:
        """Show something in place of the places, as where no register is open yet."""
        self._uncover()
        self._cover = widget
        self.stack.addWidget(widget)
        self.stack.setCurrentWidget(widget)
        for key in self.buttons.values():
            key.setEnabled(False)

    def _uncover(self) -> None:
        if self._cover is not None:
            self.stack.removeWidget(self._cover)
            self._cover.deleteLater()
            self._cover = None

    def moved(self, subjects: frozenset[str]) -> None:
        """Tell the screen shown; the others ask anew when they are gone to."""
        if self.shown is not None:
            self.shown.moved(subjects)

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802
        """Close, unless something would be lost."""
        if not self.may_close():
            event.ignore()
            return
        self.closed()
        super().closeEvent(event)


def register_name(path: Path) -> str:
    """What a register is called on the screen."""
    return path.stem
