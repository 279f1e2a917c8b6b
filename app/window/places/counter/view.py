"""Counter: may this kit go out? And taking back, handing over, what was taken without issue."""

from __future__ import annotations

from PySide6.QtWidgets import QStackedWidget

from app.usecases.about_here import AboutHere, about_here
from app.usecases.look_up import Meant, look_up
from app.window.build import one_of, row
from app.window.places.counter.give import GivePanel
from app.window.places.counter.state import MODES
from app.window.places.counter.take import HandPanel, ListPanel, TakenPanel, TakePanel
from app.window.shell import Screen, Shell
from app.words.saying import say


class CounterScreen(Screen):
    """Four things done at a counter, one at a time; each keeps what is on it while another is looked at."""

    place = "counter"
    # That there is no system yet is said once, and takes the place of nothing said later.
    _has_told = False

    def __init__(self, shell: Shell) -> None:
        super().__init__(shell)
        self.give = GivePanel(shell)
        self.panels: dict[str, GivePanel | ListPanel] = {
            "give": self.give, "take": TakePanel(shell), "hand": HandPanel(shell), "taken": TakenPanel(shell),
        }  # fmt: skip
        self.stack = QStackedWidget()
        self.tabs = one_of(self, {mode: say(f"counter.mode.{mode}", {}) for mode in MODES}, self.choose)
        for mode, tab in self.tabs.items():
            tab.setMinimumHeight(36)
            self.stack.addWidget(self.panels[mode])
            self.panels[mode].kit.picked.connect(self._picked)
        # Heading and tabs share a line: the height they save is the decision's.
        self.body.removeWidget(self.heading)
        self.body.addLayout(row((self.heading, 1), *self.tabs.values(), spacing=6))
        self.body.addWidget(self.stack, 1)
        self.choose("give")

    @property
    def mode(self) -> str:
        """What is being done."""
        return next(mode for mode, panel in self.panels.items() if panel is self.stack.currentWidget())

    def choose(self, mode: str) -> None:
        """Do this now."""
        self.tabs[mode].setChecked(True)
        self.stack.setCurrentWidget(self.panels[mode])
        self.heading.setText(say(f"counter.question.{mode}", {}))
        self.panels[mode].kit.line.setFocus()

    def arrived(self) -> None:
        """People and systems as they are now, and the kit looked at again."""
        self._ask_about()
        self.panels[self.mode].kit.line.setFocus()

    def moved(self, subjects: frozenset[str]) -> None:
        """Somebody has entered something."""
        if subjects & {"people", "systems", "rules", "*"}:
            self._ask_about()
            return
        for panel in self.panels.values():
            if panel.state.kit:
                panel.refresh()

    def scanned(self, meant: Meant) -> bool:
        """Give it to what is being done."""
        return self.panels[self.mode].put_down(meant)

    def show_code(self, code: str) -> None:
        """Put this piece on the counter."""
        self._picked(code)

    def unsaved(self) -> str:
        """A kit that lies there is no entry yet."""
        lying = [code for panel in self.panels.values() for code in panel.state.kit]
        return say("counter.unsaved", {"pieces": lying[:12]}) if lying else ""

    def _ask_about(self) -> None:
        self.shell.doors.ask(about_here, self._about, self.shell.complain, owner=self, slot="about")

    def _about(self, about: AboutHere) -> None:
        for panel in self.panels.values():
            panel.show_about(about)
            panel.refresh()
        if not about.systems and not self._has_told:
            self._has_told = True
            self.shell.tell(say("counter.no-systems", {}))

    def _picked(self, text: str) -> None:
        self.shell.doors.ask(
            lambda desk: look_up(desk, text), self.scanned, self.shell.complain, owner=self, slot=f"pick {text}"
        )


SCREEN = CounterScreen
