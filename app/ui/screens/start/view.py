"""Where no register is open: look at the demo, begin a register, open one."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QProcess
from PySide6.QtWidgets import QFrame, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from app.compose import demo_place, demo_words
from app.ui.forms import button, card, label
from app.ui.screens.start.begin import BeginPage
from app.ui.shell import Screen, Shell
from app.words.saying import say

Open = Callable[..., None]


class StartScreen(Screen):
    """`opens` opens a register; `back` returns to the one that is open, None where none is."""

    place = "start"

    def __init__(self, shell: Shell, opens: Open, back: Callable[[], None] | None = None) -> None:
        super().__init__(shell)
        self._opens = opens
        self._building: QProcess | None = None
        self.stack = QStackedWidget()
        self.body.addWidget(self.stack, 1)
        self.choices: dict[str, QFrame] = {}
        self.stack.addWidget(self._choices(back))
        self.begin = BeginPage(shell, self._made)
        self.begin.left.connect(lambda: self._show(0))
        self.stack.addWidget(self.begin)

    def _choices(self, back: Callable[[], None] | None) -> QWidget:
        page = QWidget()
        down = QVBoxLayout(page)
        down.setContentsMargins(0, 0, 0, 0)
        down.setSpacing(14)
        down.addWidget(label(say("start.about", {})))
        self.demo = button(say("start.demo", {}), self.look_at_demo, "counter")
        self.own = button(say("start.begin", {}), lambda: self._show(1), "counter")
        self.other = button(say("start.open", {}), self._open, "counter")
        for key, pressed in (("demo", self.demo), ("begin", self.own), ("open", self.other)):
            frame, inner = card()
            across = QHBoxLayout()
            across.setSpacing(18)
            pressed.setMinimumWidth(350)
            across.addWidget(pressed)
            across.addWidget(label(say(f"start.{key}.says", {})), 1)
            inner.addLayout(across)
            down.addWidget(frame)
            self.choices[key] = frame
        if back is not None:
            row = QHBoxLayout()
            row.addWidget(button(say("start.back", {}), back))
            row.addStretch(1)
            down.addLayout(row)
        for key in ("caution.check", "caution.defer"):
            down.addWidget(label(say(key, {}), "quiet"))
        down.addStretch(1)
        return page

    def _show(self, page: int) -> None:
        self.stack.setCurrentIndex(page)
        self.heading.setText(say("start.begin.question" if page else "start.question", {}))
        if page:
            self.begin.arrived()

    def _open(self) -> None:
        self.shell.ask.file_to_open(say("start.open", {}), say("window.kinds", {}), self._opens)

    def _made(self, path: object, told: str) -> None:
        self._opens(path)
        self.shell.tell(told, kind="done")

    def look_at_demo(self) -> None:
        """Build the demo by the program's own command, in a process of its own, and open it."""
        if self._building is not None:
            return
        folder = demo_place()
        self.demo.setEnabled(False)
        self.shell.tell(say("start.demo.building", {}), kind="wait")
        words = demo_words(folder)
        self._building = made = QProcess(self)
        made.setProcessChannelMode(QProcess.ProcessChannelMode.MergedChannels)
        made.finished.connect(lambda status, _: self._built(status))
        made.errorOccurred.connect(lambda _: self._built(-1))
        made.start(words[0], words[1:])

    def _built(self, status: int) -> None:
        made, self._building = self._building, None
        if made is None:
            return
        self.demo.setEnabled(True)
        target = demo_place() / "demo.cuffdate"
        if status == 0 and target.exists():
            self._opens(target)
            return
        told = bytes(made.readAll().data()).decode("utf-8", "replace").strip().splitlines()
        why = told[-1] if told else made.errorString()
        self.shell.tell(say("start.demo.failed", {"why": why}), kind="wrong", is_heard=True)
