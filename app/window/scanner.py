"""The scanner, which types like a keyboard: a prefix key begins a scan and Enter ends it, caught before any widget.

Nothing of a scan reaches a field. A code without the prefix is typed into whatever has the keyboard, like any typing.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QElapsedTimer, QEvent, QKeyCombination, QObject, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QApplication

# A scanner sends its symbols within a few milliseconds of each other; a person does not.
GAP_MS = 250
# A finger that stays on the key, or a code that passes the beam twice; a person scanning again takes longer.
TWICE_MS = 600
MOST = 80
_ENDS = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Tab)
_SILENT = (Qt.Key.Key_Shift, Qt.Key.Key_AltGr, Qt.Key.Key_Alt, Qt.Key.Key_Control, Qt.Key.Key_CapsLock)


class Scanner(QObject):
    """`landed` gets every whole code; `refused` gets the key of a sentence and the code where one cannot be taken."""

    def __init__(
        self,
        landed: Callable[[str], None],
        refused: Callable[[str, str], None],
        is_closed: Callable[[], bool],
        prefix: str = "F9",
    ) -> None:
        super().__init__()
        self._landed, self._refused, self._is_closed = landed, refused, is_closed
        self.set_prefix(prefix)
        self._symbols: list[str] | None = None
        self._broken = QTimer(self, singleShot=True, interval=GAP_MS)
        self._broken.timeout.connect(self._break_off)
        self._since = QElapsedTimer()
        self._last = ""

    def set_prefix(self, prefix: str) -> None:
        """The key the scanner is programmed to send first, by name: F9, or a symbol nobody types."""
        self._prefix: Qt.Key | None = _key_of(prefix)

    def install(self, application: QApplication) -> None:
        """Listen before every widget."""
        application.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802, ARG002
        """Take the keys of a scan and no others."""
        if event.type() not in (QEvent.Type.KeyPress, QEvent.Type.ShortcutOverride, QEvent.Type.KeyRelease):
            return False
        assert isinstance(event, QKeyEvent)
        if self._symbols is None:
            return self._may_begin(event)
        if event.type() == QEvent.Type.KeyPress:
            self._take(event)
        event.accept()
        return True

    def _may_begin(self, event: QKeyEvent) -> bool:
        if self._prefix is None or event.key() != self._prefix or event.isAutoRepeat():
            return False
        if event.type() == QEvent.Type.KeyPress:
            self._symbols = []
            self._broken.start()
        event.accept()
        return event.type() != QEvent.Type.KeyRelease

    def _take(self, event: QKeyEvent) -> None:
        assert self._symbols is not None
        if event.key() in _ENDS:
            self._broken.stop()
            code, self._symbols = "".join(self._symbols).strip(), None
            self._land(code)
            return
        self._broken.start()
        if event.key() == self._prefix:
            self._symbols = []
        elif event.key() not in _SILENT and event.text().isprintable():
            self._symbols.append(event.text())
        if len(self._symbols) > MOST:
            self._break_off()

    def _break_off(self) -> None:
        self._broken.stop()
        self._symbols = None
        self._refused("scan.broken-off", "")

    def _land(self, code: str) -> None:
        if not code:
            self._refused("scan.broken-off", "")
            return
        if self._is_closed():
            self._refused("scan.question-open", code)
            return
        if code == self._last and self._since.isValid() and self._since.elapsed() < TWICE_MS:
            self._since.restart()
            self._refused("scan.twice", code)
            return
        self._last = code
        self._since.restart()
        self._landed(code)


def _key_of(prefix: str) -> Qt.Key | None:
    """The key of that name; None for none, so that nothing begins a scan."""
    sequence = QKeySequence(prefix)
    return None if sequence.isEmpty() else QKeyCombination(sequence[0]).key()  # type: ignore[index]  # it has one
