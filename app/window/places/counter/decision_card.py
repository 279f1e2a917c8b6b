"""The decision where the eye is: what stops it, what to change, how high each piece reaches, cautions, what was met."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton

from app.decision.judging.answers import KitAnswer
from app.outputs.documents.pictures import headroom_of, narrowest
from app.outputs.pictures.headroom import headroom
from app.outputs.pictures.scene import PaletteName, Scene
from app.window.build import (
    LEFT,
    TOP,
    announce,
    box,
    column,
    label,
    mark,
    put,
    put_mark,
    relook,
    row,
    toggle,
)
from app.window.lists import scrolled
from app.window.paint import SceneView
from app.window.places.counter.state import Decision
from app.window.theme import Theme
from app.words.saying import say

# Cautions stand where hands are at risk: they are never folded away.
ALWAYS = ("caution.check", "caution.defer")


class DecisionCard(QFrame):
    """One decision, shown whole: nothing of an earlier one is left standing beside it."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setProperty("look", "decision-wait")
        self._theme = theme
        self._shown: Decision | None = None
        self._answer: KitAnswer | None = None
        self._down = column(self._head(), spacing=8, margins=(18, 14, 14, 14))
        self._area = scrolled(box(self._down), say("counter.decision", {}), takes_keys=True)
        column(self._area, on=self)
        self._lists: dict[str, tuple[QLabel, QLabel]] = {}
        for key in ("open_issues", "changes", "others"):
            self._list(key)
        self.picture = SceneView()
        self._down.addWidget(self.picture)
        self._list("required")
        self.folds: dict[str, tuple[QPushButton, QLabel]] = {}
        for key in ("cautions", "met"):
            self._fold(key)
        for key in ALWAYS:
            self._down.addWidget(label(say(key, {}), "quiet"))
        self._down.addStretch(1)
        theme.changed.connect(lambda _: self._redraw())

    def _head(self) -> QHBoxLayout:
        self._mark = mark(44)
        self.title, self.first, self.question = label("", "verdict"), label("", "lead"), label("", "quiet")
        words = column(self.title, self.first, self.question, spacing=4)
        return row((self._mark, 0, TOP), (words, 1), spacing=12)

    def _list(self, key: str) -> None:
        heading, lines = label(say(f"counter.{key}", {}), "heading"), label("")
        self._lists[key] = (heading, lines)
        self._down.addWidget(heading)
        self._down.addWidget(lines)

    def _fold(self, key: str) -> None:
        head = toggle("", lambda: self._unfold(key), "link")
        lines = label("", "quiet")
        lines.hide()
        self.folds[key] = (head, lines)
        self._down.addWidget(head, 0, LEFT)
        self._down.addWidget(lines)

    def _unfold(self, key: str) -> None:
        head, lines = self.folds[key]
        is_open = head.isChecked()
        lines.setVisible(is_open and bool(lines.text()))
        head.setAccessibleDescription(say("counter.unfolded" if is_open else "counter.folded", {}))

    def show_decision(self, shown: Decision, answer: KitAnswer | None) -> None:
        """Put this decision in the place of the one before, and say it to whoever does not see it."""
        is_new = self._shown is None or shown.says != self._shown.says
        self._shown, self._answer = shown, answer
        relook(self, f"decision-{shown.look}")
        self.title.setText(shown.title)
        put(self.first, shown.first)
        put(self.question, shown.question)
        self._fill("others", shown.others)
        self._fill("open_issues", shown.open_issues)
        self._fill("changes", shown.changes, numbered=len(shown.changes) > 1)
        self._fill("required", shown.required)
        for key, lines in (("cautions", shown.cautions), ("met", shown.met)):
            head, below = self.folds[key]
            head.setText(say(f"counter.fold.{key}", {"count": len(lines)}))
            head.setVisible(bool(lines))
            below.setText(_bulleted(lines))
            below.setVisible(head.isChecked() and bool(lines))
        self._redraw()
        if is_new:
            self._area.verticalScrollBar().setValue(0)
            announce(self.title, shown.says, is_urgent=True)

    def _fill(self, key: str, lines: Iterable[str], *, numbered: bool = False) -> None:
        heading, below = self._lists[key]
        told = list(lines)
        put(below, "\n".join(f"{n}. {line}" for n, line in enumerate(told, 1)) if numbered else _bulleted(told))
        heading.setVisible(bool(told))

    def refit(self) -> None:
        """The room has changed: lay the picture out anew."""
        self._redraw()

    def _redraw(self) -> None:
        if self._shown is None:
            return
        put_mark(self._mark, self._shown.mark, self._shown.role, self._theme.name)
        width = self._area.viewport().width() - 36
        scene = None if self._answer is None else _headroom(self._answer, self._theme.name, width)
        self.picture.show_scene(scene)


def _bulleted(lines: Iterable[str]) -> str:
    return "\n".join(f"\u2022 {line}" for line in lines)


def _headroom(answer: KitAnswer, palette: PaletteName, width: int) -> Scene | None:
    circuit = narrowest(answer)
    if circuit is None:
        return None
    return headroom(headroom_of(answer, circuit), palette, width=float(max(width, 420)), is_bare=True)
