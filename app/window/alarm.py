"""The one hook for what nobody expected: written to a log, said in words, and the window stays."""

from __future__ import annotations

import sys
import threading
import traceback
from collections.abc import Callable
from types import TracebackType

from app.words.saying import say


class Alarm:
    """Catches what no slot, timer or thread has caught. `written` keeps the text and answers where it lies."""

    def __init__(self, written: Callable[[str], str], tell: Callable[[str], None]) -> None:
        self._written = written
        self._tell = tell
        self._is_telling = False

    def install(self) -> None:
        """From now on every uncaught exception of every thread comes here."""
        sys.excepthook = self.caught
        threading.excepthook = lambda args: self.broke(
            "".join(traceback.format_exception(args.exc_type, args.exc_value, args.exc_traceback))
        )

    @staticmethod
    def remove() -> None:
        """Give the hooks back, once the window is closed."""
        sys.excepthook, threading.excepthook = sys.__excepthook__, threading.__excepthook__

    def caught(self, kind: type[BaseException], fault: BaseException, trace: TracebackType | None) -> None:
        """An exception nobody caught in the window's thread."""
        if issubclass(kind, KeyboardInterrupt):
            sys.__excepthook__(kind, fault, trace)
            return
        self.broke("".join(traceback.format_exception(kind, fault, trace)))

    def broke(self, text: str) -> None:
        """Write it down and say so once; a fault while telling must not tell again."""
        where = self._written(text)
        if sys.stderr is not None:
            sys.stderr.write(text)
        if self._is_telling:
            return
        self._is_telling = True
        try:
            self._tell(say("alarm.fault", {"file": where}))
        finally:
            self._is_telling = False
