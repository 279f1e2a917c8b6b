"""What a screen may do with the window around it, and what the window may ask of a screen."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.decision.domain.errors import CuffdateError
from app.window.ask import Ask
from app.window.build import label
from app.window.doors import Doors
from app.window.theme import Theme
from app.words.saying import say

if TYPE_CHECKING:
    from app.usecases.look_up import Meant

Action = tuple[str, Callable[[], object]]


class Here(QObject):
    """Who enters, and what everybody at this window needs to know of the register. `changed` tells of a new one."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.by = ""
        self.today = date.min
        self.is_demo = False
        self.people: Mapping[str, str] = {}
        self.crib = ""


class Shell:
    """Doors to the register, questions to the person, the strip where everything lands."""

    def __init__(self, doors: Doors, ask: Ask, theme: Theme, here: Here) -> None:
        self.doors = doors
        self.ask = ask
        self.theme = theme
        self.here = here
        # The window puts its own in their place.
        self.tell: Callable[..., None] = lambda *_args, **_more: None
        self.complain: Callable[[CuffdateError], None] = lambda _: None
        self.saved: Callable[..., None] = lambda *_args, **_more: None
        self.go: Callable[[str, str], None] = lambda _place, _code: None
        self.enter_as: Callable[[str], None] = lambda _: None
        self.needs_by: Callable[[], bool] = lambda: bool(here.by)


class Screen(QWidget):
    """One place. `place`: its key; `question`: what it answers, its heading."""

    place = ""

    def __init__(self, shell: Shell) -> None:
        super().__init__()
        self.shell = shell
        self.setObjectName("ground")
        self.body = QVBoxLayout(self)
        self.body.setContentsMargins(20, 14, 20, 14)
        self.body.setSpacing(10)
        self.heading = label(say(f"{self.place}.question", {}), "question")
        self.body.addWidget(self.heading)
        self.setAccessibleName(say(f"{self.place}.question", {}))

    def arrived(self) -> None:
        """It has become visible; show what is so now."""

    def moved(self, subjects: frozenset[str]) -> None:
        """Something in the register has changed: codes of pieces, "people", "systems", "rules", or "*" for anything."""

    def scanned(self, meant: Meant) -> bool:
        """Take a scan; False where this place has no use for it."""
        _ = meant
        return False

    def show_code(self, code: str) -> None:
        """Show this piece, where the place shows pieces."""

    def unsaved(self) -> str:
        """What would be lost if the window closed now, in words; "" for nothing."""
        return ""
