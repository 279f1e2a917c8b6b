"""Shelf."""

from __future__ import annotations

from app.ui.shell import Screen, Shell


class ShelfScreen(Screen):
    """Shelf."""

    place = "shelf"

    def __init__(self, shell: Shell) -> None:
        super().__init__(shell)


SCREEN = ShelfScreen
