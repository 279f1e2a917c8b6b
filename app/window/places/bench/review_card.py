"""What saving would do, where the eye is when the hand goes to the key."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout

from app.window.build import label, relook
from app.window.paint import icon
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
        across = QHBoxLayout(self)
        across.setContentsMargins(12, 8, 12, 8)
        across.setSpacing(10)
        self._mark = QLabel()
        self._mark.setFixedSize(28, 28)
        across.addWidget(self._mark, 0, Qt.AlignmentFlag.AlignTop)
        words = QVBoxLayout()
        words.setSpacing(2)
        self.title = label("")
        self.lines = label("")
        words.addWidget(self.title)
        words.addWidget(self.lines)
        across.addLayout(words, 1)
        theme.changed.connect(lambda _: self._draw())

    def show_review(self, shown: Review) -> None:
        """Put it in the place of the one before."""
        is_new = self._shown is None or self._shown.says != shown.says
        self._shown = shown
        relook(self, f"decision-{shown.look}")
        relook(self.title, "quiet" if shown.look == "wait" and not shown.lines else "lead")
        self.title.setText(shown.title)
        self.lines.setText(" ".join(shown.lines))
        self.lines.setVisible(bool(shown.lines))
        self.setAccessibleDescription(shown.says)
        self._draw()
        if is_new and self.isVisible():
            event = QAccessibleAnnouncementEvent(self.title, shown.says)
            event.setPoliteness(QAccessible.AnnouncementPoliteness.Polite)
            QAccessible.updateAccessibility(event)

    def _draw(self) -> None:
        if self._shown is not None:
            drawn = icon(self._shown.mark, self._shown.role, self._theme.name, 28)
            self._mark.setPixmap(drawn.pixmap(28, 28))
