"""Starts the window: paints it, then puts doors, questions, scanner and places into it and opens the last register."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from app.window.main_window import MainWindow
from app.window.theme import Theme

if TYPE_CHECKING:
    from pathlib import Path

    from app.window.ask import Ask
    from app.window.window import Window


STYLE = "Fusion"
#: After this long a start is over, and memory is looked through for rings again.
STARTED_MS = 3_000


def run(path: Path | None = None) -> int:
    """Open the window, on this register or on the last one; answers the exit status once it is closed."""
    application = application_of()
    kept: list[Window] = []
    window = new_window(application, path, kept.append)
    window.show()
    return application.exec()


def has_screen() -> bool:
    """Whether a window can be opened: the toolkit ends the process where there is no screen, and says it badly."""
    if sys.platform != "linux":
        return True
    return any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"))


def application_of() -> QApplication:
    """The one application of the process."""
    running = QApplication.instance()
    if isinstance(running, QApplication):
        return running
    # The style is chosen by word here: choosing it later answers it as an object, with every name a style has.
    application = QApplication([*sys.argv[:1], "-style", STYLE])
    application.setApplicationName("cuffdate")
    application.setApplicationDisplayName("Cuffdate")
    return application


def new_window(
    application: QApplication, path: Path | None, ready: Callable[[Window], None], ask: type[Ask] | None = None
) -> MainWindow:
    """A window not yet shown; `ready` gets what works in it once it has painted. `ask`: who puts questions."""
    theme = Theme(application)

    def furnish(main: MainWindow) -> None:
        # What a start makes stays: looking through all of it for rings, a hundred times, finds nothing.
        gc.disable()
        QTimer.singleShot(STARTED_MS, gc.enable)
        # After the first paint: words, judging and database take longer to load than the window takes to appear.
        from app.window.window import Window  # noqa: PLC0415

        ready(Window(application, main, theme, path, None if ask is None else ask(main)))

    return MainWindow(theme, furnish)
