"""Due."""

from __future__ import annotations

from app.ui.shell import Screen, Shell


class DueScreen(Screen):
    """Due."""

    place = "due"

    def __init__(self, shell: Shell) -> None:
        super().__init__(shell)


SCREEN = DueScreen
