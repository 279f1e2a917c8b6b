"""What saving would do, where the eye is when the hand goes to the key."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame

from app.window.build import TOP, announce, column, label, mark, put, put_mark, relook, row
from app.window.places.bench.state import Review
from app.window.theme import Theme
from app.words.saying import say


class ReviewCard(QFrame):
    """Mark, result and what follows; said aloud when it is another than before."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setProperty("look", "decision-wait")
        self.setAccessibleName(say("bench.review", {}))
        self._theme = theme
        self._shown: Review | None = None
        self._mark, self.title, self.lines = mark(28), label(""), label("")
        words = column(self.title, self.lines, spacing=2)
        row((self._mark, 0, TOP), (words, 1), on=self, spacing=10, margins=(12, 8, 12, 8))
        theme.changed.connect(lambda _: self._draw())

    def show_review(self, shown: Review) -> None:
        """Put it in the place of the one before."""
        is_new = self._shown is None or self._shown.says != shown.says
        self._shown = shown
        relook(self, f"decision-{shown.look}")
        relook(self.title, "quiet" if shown.look == "wait" and not shown.lines else "lead")
        self.title.setText(shown.title)
        put(self.lines, " ".join(shown.lines))
        self.setAccessibleDescription(shown.says)
        self._draw()
        if is_new and self.isVisible():
            announce(self.title, shown.says)

    def _draw(self) -> None:
        if self._shown is not None:
            put_mark(self._mark, self._shown.mark, self._shown.role, self._theme.name)
