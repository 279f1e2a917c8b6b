"""The pieces on the counter: a line to pick one by its code, and a row for each with its mark and word."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QWidget

from app.window.build import LOOKS, REST, TOP, box, button, code_line, column, label, mark, put_mark, row
from app.window.lists import scrolled
from app.window.places.counter.state import Row
from app.window.theme import Theme
from app.words.saying import say

Extra = Callable[[Row], QWidget | None]


class KitList(QWidget):
    """`picked`: a code typed by hand; `removed`: a piece taken off; `extra`: what else stands in a row."""

    picked = Signal(str)
    removed = Signal(str)

    def __init__(self, theme: Theme, extra: Extra) -> None:
        super().__init__()
        self._theme = theme
        self._extra = extra
        self._rows: list[Row] = []
        self.line = code_line(say("counter.pick", {}), say("counter.pick-hint", {}), self._pick)
        self.add = button(say("counter.put-down", {}), self._pick)
        self.count = label("", "quiet")
        self._area = scrolled()
        column(row((self.line, 1), self.add), self.count, (self._area, 1), on=self, spacing=6)
        theme.changed.connect(lambda _: self.show_rows(self._rows, force=True))

    def _pick(self) -> None:
        text = self.line.text().strip()
        if text:
            self.picked.emit(text)

    def taken(self, text: str) -> None:
        """What was typed has found its piece: the line is ready for the next."""
        if self.line.text().strip() == text:
            self.line.clear()

    def show_rows(self, rows: Iterable[Row], *, force: bool = False) -> None:
        """Show these pieces, the newest at the foot and in sight."""
        pieces = list(rows)
        if pieces == self._rows and not force and self._area.widget() is not None:
            return
        is_longer = len(pieces) > len(self._rows)
        self._rows = pieces
        self.count.setText(say("counter.count", {"count": len(pieces)}) if pieces else say("counter.nothing-yet", {}))
        self._area.setWidget(box(column(*map(self._row, pieces), REST, spacing=4, margins=(0, 0, 4, 0))))
        if is_longer:
            # The rows have no height before they have been laid out.
            QTimer.singleShot(0, self, self._show_newest)

    def _show_newest(self) -> None:
        bar = self._area.verticalScrollBar()
        bar.setValue(bar.maximum())

    def _row(self, piece: Row) -> QWidget:
        drawn = mark(22)
        put_mark(drawn, piece.mark, piece.role, self._theme.name)
        words = column(
            label(f"{piece.code}  {piece.name}", "" if piece.name else "lead"), spacing=0, margins=(2, 0, 0, 0)
        )
        words.addWidget(label(piece.word, LOOKS.get(piece.role, "quiet")))
        if piece.says:
            words.addWidget(label(piece.says, "quiet"))
        if (more := self._extra(piece)) is not None:
            words.addWidget(more)
        off = button(say("counter.take-off", {}), lambda: self.removed.emit(piece.code), "link")
        off.setAccessibleName(say("counter.take-off-piece", {"piece": piece.code}))
        frame = box(row((drawn, 0, TOP), (words, 1), (off, 0, TOP), spacing=8, margins=(4, 3, 0, 3)))
        frame.setAccessibleName(
            say(
                "counter.row.read-out", {"code": piece.code, "name": piece.name, "word": piece.word, "says": piece.says}
            )
        )
        return frame
