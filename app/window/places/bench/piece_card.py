"""The piece on the bench in one line: code and kind, how it stands, until when, why, and what cannot be entered."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout

from app.usecases.look_at_kit import OnCounter
from app.window.build import label, relook
from app.window.paint import icon
from app.window.places.bench.state import line_of
from app.window.theme import Theme
from app.words.saying import say

_LOOKS = {"fit": "fit", "short": "short", "warn": "warn"}


class PieceCard(QFrame):
    """Stands above the forms, so that nobody enters a thing about the wrong piece."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setProperty("look", "card")
        self._theme = theme
        down = QVBoxLayout(self)
        down.setContentsMargins(12, 6, 12, 6)
        down.setSpacing(2)
        across = QHBoxLayout()
        across.setSpacing(10)
        self._mark = QLabel()
        self._mark.setFixedSize(24, 24)
        across.addWidget(self._mark)
        self.name, self.word, self.until = label("", "lead"), label(""), label("", "quiet")
        across.addWidget(self.name, 12)
        across.addWidget(self.word, 3)
        across.addWidget(self.until, 9)
        down.addLayout(across)
        self.why, self.why_not = label(""), label("", "quiet")
        down.addWidget(self.why)
        down.addWidget(self.why_not)

    def show_piece(self, seen: OnCounter | None, why_not: str) -> None:
        """This piece, None while it is looked for; `why_not`: what cannot be entered about it."""
        self.why_not.setText(why_not)
        if seen is None:
            self._mark.clear()
            self.name.setText(say("bench.looking", {}))
            relook(self.name, "quiet")
            for part in (self.word, self.until, self.why):
                part.setText("")
        else:
            line = line_of(seen)
            self._mark.setPixmap(icon(line.mark, line.role, self._theme.name, 24).pixmap(24, 24))
            self.name.setText(line.name)
            relook(self.name, "lead")
            self.word.setText(line.word)
            relook(self.word, _LOOKS.get(line.role.value, "quiet"))
            self.until.setText(line.until)
            self.why.setText(line.why)
        for part in (self.word, self.until, self.why, self.why_not):
            part.setVisible(bool(part.text()))
