"""Bench."""

from __future__ import annotations

from app.ui.shell import Screen, Shell


class BenchScreen(Screen):
    """Bench."""

    place = "bench"

    def __init__(self, shell: Shell) -> None:
        super().__init__(shell)


SCREEN = BenchScreen
