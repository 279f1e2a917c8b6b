"""Where no register is open: look at the demo, begin a register, open one."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QProcess
from PySide6.QtWidgets import QFrame, QStackedWidget, QWidget

from app.window.build import LEFT, REST, Part, add, box, button, card, column, label, row
from app.window.desktop import demo_place, demo_words, remember
from app.window.places.start.begin import BeginPage
from app.window.shell import Screen, Shell
from app.words.saying import say

Open = Callable[..., None]
_CHOICES, _BEGIN, _MADE = range(3)


class StartScreen(Screen):
    """`opens` opens a register; `back` returns to the one that is open, called `name`; None where none is."""

    place = "start"

    def __init__(self, shell: Shell, opens: Open, back: Callable[[], None] | None = None, name: str = "") -> None:
        super().__init__(shell)
        self._opens = opens
        self._building: QProcess | None = None
        self.stack = QStackedWidget()
        self.body.addWidget(self.stack, 1)
        self.choices: dict[str, QFrame] = {}
        self.stack.addWidget(self._choices(back, name))
        self.begin = BeginPage(shell, self._made)
        self.begin.left.connect(lambda: self._show(_CHOICES))
        self.stack.addWidget(self.begin)
        self._go: Callable[[], None] = lambda: None
        self.stack.addWidget(self._made_page())

    def _choices(self, back: Callable[[], None] | None, name: str) -> QWidget:
        self.demo = button(say("start.demo", {}), self.look_at_demo, "counter")
        self.own = button(say("start.begin", {}), lambda: self._show(_BEGIN), "counter")
        self.other = button(say("start.open", {}), self._open, "counter")
        for key, pressed in (("demo", self.demo), ("begin", self.own), ("open", self.other)):
            frame, inner = card()
            pressed.setMinimumWidth(350)
            inner.addLayout(row(pressed, (label(say(f"start.{key}.says", {})), 1), spacing=18))
            self.choices[key] = frame
        parts: list[Part] = [label(say("start.about", {})), *self.choices.values()]
        if back is not None:
            self.back = button(say("start.back", {"name": name}), back)
            parts.append(row(self.back, REST))
        cautions = (label(say(key, {}), "quiet") for key in ("caution.check", "caution.defer"))
        return box(column(*parts, *cautions, REST, spacing=14))

    def _show(self, page: int) -> None:
        self.stack.setCurrentIndex(page)
        self.heading.setText(say("start.begin.question" if page else "start.question", {}))
        if page:
            self.begin.arrived()

    def _open(self) -> None:
        self.shell.ask.file_to_open(say("start.open", {}), say("window.kinds", {}), self._opens)

    def _made(self, path: Path, told: str, has_more: bool) -> None:  # noqa: FBT001  # what the page calls
        remember("register", str(path))
        if not has_more:
            self._opens(path, done=told, place="counter")
            return
        # Where rows were left out, a line that the Counter's own would push aside is not enough.
        self.shell.tell(told, kind="done")
        self.told.setText(told)
        self.heading.setText(say("start.made.question", {}))
        self.stack.setCurrentIndex(_MADE)
        self._go = lambda: self._opens(path, done=told, place="counter")
        self.go.setFocus()

    def _made_page(self) -> QWidget:
        frame, inner = card()
        self.told = label("")
        self.go = button(say("start.go", {}), lambda: self._go(), "counter")  # noqa: PLW0108  # set when something is made
        inner.addWidget(self.told)
        add(inner, (self.go, 0, LEFT))
        return box(column(frame, REST))

    def unsaved(self) -> str:
        """What is filled in of a register that is not made yet."""
        is_half = self.stack.currentIndex() != _MADE and self.begin.state.is_begun
        return say("start.unsaved", {}) if is_half else ""

    def look_at_demo(self) -> None:
        """Build the demo by the program's own command, in a process of its own, and open it."""
        if self._building is not None:
            return
        folder = demo_place()
        self.demo.setEnabled(False)
        self.shell.tell(say("start.demo.building", {}), kind="wait")
        words = demo_words(folder)
        self._building = building = QProcess(self)
        building.setProcessChannelMode(QProcess.ProcessChannelMode.MergedChannels)
        building.finished.connect(lambda status, _: self._built(status))
        building.errorOccurred.connect(lambda _: self._built(-1))
        # Where the program itself lies, whatever folder it was started in and whatever lies there.
        building.setWorkingDirectory(str(Path(__file__).parents[4]))
        building.start(words[0], words[1:])

    def _built(self, status: int) -> None:
        building, self._building = self._building, None
        if building is None:
            return
        self.demo.setEnabled(True)
        target = demo_place() / "demo.cuffdate"
        if status == 0 and target.exists():
            self._opens(target, place="counter")
            return
        told = bytes(building.readAll().data()).decode("utf-8", "replace").strip().splitlines()
        why = told[-1] if told else building.errorString()
        self.shell.tell(say("start.demo.failed", {"why": why}), kind="wrong", is_heard=True)
