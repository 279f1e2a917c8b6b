"""The pieces on the counter: a line to pick one by its code, and a row for each with its mark and word."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QScrollArea, QVBoxLayout, QWidget

from app.window.forms import button, label
from app.window.paint import icon
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
        down = QVBoxLayout(self)
        down.setContentsMargins(0, 0, 0, 0)
        down.setSpacing(6)
        across = QHBoxLayout()
        self.line = QLineEdit()
        self.line.setMaxLength(80)
        self.line.setPlaceholderText(say("counter.pick-hint", {}))
        self.line.setAccessibleName(say("counter.pick", {}))
        self.line.returnPressed.connect(self._pick)
        across.addWidget(self.line, 1)
        self.add = button(say("counter.put-down", {}), self._pick)
        across.addWidget(self.add)
        down.addLayout(across)
        self.count = label("", "quiet")
        down.addWidget(self.count)
        self._area = QScrollArea()
        self._area.setWidgetResizable(True)
        self._area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        down.addWidget(self._area, 1)
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
        found = list(rows)
        if found == self._rows and not force and self._area.widget() is not None:
            return
        is_longer = len(found) > len(self._rows)
        self._rows = found
        self.count.setText(say("counter.count", {"count": len(found)}) if found else say("counter.nothing-yet", {}))
        inner = QWidget()
        down = QVBoxLayout(inner)
        down.setContentsMargins(0, 0, 4, 0)
        down.setSpacing(4)
        for row in found:
            down.addWidget(self._row(row))
        down.addStretch(1)
        self._area.setWidget(inner)
        if is_longer:
            # The rows have no height before they have been laid out.
            QTimer.singleShot(0, self, self._show_newest)

    def _show_newest(self) -> None:
        bar = self._area.verticalScrollBar()
        bar.setValue(bar.maximum())

    def _row(self, row: Row) -> QWidget:
        frame = QWidget()
        frame.setAccessibleName(f"{row.code}, {row.name}: {row.word}. {row.says}")
        across = QHBoxLayout(frame)
        across.setContentsMargins(4, 3, 0, 3)
        across.setSpacing(8)
        mark = QLabel()
        mark.setPixmap(icon(row.mark, row.role, self._theme.name, 22).pixmap(22, 22))
        mark.setFixedWidth(24)
        across.addWidget(mark, 0, Qt.AlignmentFlag.AlignTop)
        middle = QVBoxLayout()
        middle.setSpacing(0)
        middle.addWidget(label(f"{row.code}  {row.name}", "lead" if not row.name else ""))
        look = {"short": "short", "fit": "fit", "warn": "warn"}.get(row.role.value, "quiet")
        middle.addWidget(label(row.word, look))
        if row.says:
            middle.addWidget(label(row.says, "quiet"))
        if (more := self._extra(row)) is not None:
            middle.addWidget(more)
        across.addLayout(middle, 1)
        off = button(say("counter.take-off", {}), lambda: self.removed.emit(row.code), "link")
        off.setAccessibleName(say("counter.take-off-piece", {"piece": row.code}))
        across.addWidget(off, 0, Qt.AlignmentFlag.AlignTop)
        return frame
