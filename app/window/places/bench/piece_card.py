"""The piece on the bench in one line: code and kind, how it stands, until when, why, and what cannot be entered."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame

from app.usecases.look_at_kit import OnCounter
from app.window.build import LOOKS, column, label, mark, put, put_mark, relook, row
from app.window.places.bench.state import line_of
from app.window.theme import Theme
from app.words.saying import say


class PieceCard(QFrame):
    """Stands above the forms, so that nobody enters a thing about the wrong piece."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setProperty("look", "card")
        self._theme = theme
        self._mark = mark(24)
        self.name, self.word, self.until = label("", "lead"), label(""), label("", "quiet")
        self.why, self.why_not = label(""), label("", "quiet")
        line = row(self._mark, (self.name, 12), (self.word, 3), (self.until, 9), spacing=10)
        column(line, self.why, self.why_not, on=self, spacing=2, margins=(12, 6, 12, 6))

    def show_piece(self, seen: OnCounter | None, why_not: str) -> None:
        """This piece, None while it is looked for; `why_not`: what cannot be entered about it."""
        put(self.why_not, why_not)
        if seen is None:
            self._mark.clear()
            self.name.setText(say("bench.looking", {}))
            relook(self.name, "quiet")
            for part in (self.word, self.until, self.why):
                put(part, "")
            return
        line = line_of(seen)
        put_mark(self._mark, line.mark, line.role, self._theme.name)
        self.name.setText(line.name)
        relook(self.name, "lead")
        relook(self.word, LOOKS.get(line.role, "quiet"))
        for part, text in ((self.word, line.word), (self.until, line.until), (self.why, line.why)):
            put(part, text)
