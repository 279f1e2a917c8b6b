"""What works inside the main window: doors, scanner, strip, bar and the places, put together."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from app.decision.domain.errors import BadInput, CuffdateError
from app.window.alarm import Alarm
from app.window.ask import Ask
from app.window.bar import Bar
from app.window.desktop import remember, remembered, write_down
from app.window.doors import EVERYTHING, Doors
from app.window.guards import Guards
from app.window.main_window import MainWindow, register_name
from app.window.menus import put_menus
from app.window.question import Question
from app.window.scanner import Scanner
from app.window.shell import Here, Screen, Shell
from app.window.strip import Strip
from app.window.telling import Telling
from app.window.theme import Theme
from app.words.saying import say, say_here
from app.words.vocabulary import PLACES

if TYPE_CHECKING:
    from app.usecases.about_here import AboutHere
    from app.usecases.look_up import Meant


DAY_MS = 20_000
# Places whose first rows can be shown before the register is open.
_LISTS = ("shelf", "due")


class Window:
    """One window on one register at a time. `ask`: who puts questions; tests bring their own."""

    def __init__(
        self, application: QApplication, main: MainWindow, theme: Theme, path: Path | None, ask: Ask | None = None
    ) -> None:
        self.main = main
        self._application = application
        self.here = Here()
        self.doors = Doors(main)
        self.ask = ask or Ask(main)
        self.shell = Shell(self.doors, self.ask, theme, self.here)
        self.strip = Strip(theme)
        self.telling = Telling(self.strip, self.shell)
        self.bar = Bar(self.here)
        main.column.insertWidget(0, self.bar)
        main.column.addWidget(self.strip)
        main.stack.currentChanged.connect(lambda _: self.strip.leave_place())
        self.guards = Guards(main)
        prefix = remembered("scanner-prefix") or "F9"
        self.scanner = Scanner(self.scanned, self.telling.scan_refused, lambda: self.ask.is_open, prefix)
        self.alarm = Alarm(write_down, self.telling.alarmed)
        self.alarm.install()
        self.doors.broke.connect(self.alarm.broke)
        self._put_in_shell()
        main.make, main.may_close, main.closed = self._made, self.may_close, self._closed
        self.doors.moved.connect(self._moved)
        # At midnight every standing is another; a window may stay open for weeks.
        self._day = QTimer(main, interval=DAY_MS)
        self._day.timeout.connect(self._look_for_midnight)
        self._day.start()
        self._is_listening = False
        put_menus(main, self.shell, self.open, self.begin)
        main.add_shortcuts()
        last = path or _last_register()
        if last is None:
            self.begin()
        else:
            self.open(last)

    def _put_in_shell(self) -> None:
        shell = self.shell
        telling = self.telling
        shell.tell, shell.complain, shell.saved = telling.tell, telling.complain, telling.saved
        shell.go, shell.needs_by, shell.enter_as = self.main.go, self._needs_by, self.bar.choose

    # Opening.

    def open(self, path: Path, *, may_make: bool = False, done: str = "", place: str = "") -> None:
        """Open this register; where it cannot be, say why and offer to begin.

        `done`: what has been done just before, told once it is open, or with why it is not. `place`: where to go.
        Where another one is open and something typed there would be lost, that is asked first.
        """
        lost = [text for screen in self.main.screens.values() if (text := screen.unsaved())]
        if not lost or self.doors.path in (None, path):
            self._open(path, may_make=may_make, done=done, place=place)
            return

        def answered(key: str, _words: str) -> None:
            if key == "open":
                self._open(path, may_make=may_make, done=done, place=place)

        choices = (("open", say("window.open-anyway", {})),)
        lines = (say("window.unsaved", {}), *lost)
        self.ask.put(Question(say("window.open-other", {"name": register_name(path)}), lines, choices), answered)

    def _open(self, path: Path, *, may_make: bool, done: str, place: str) -> None:
        self.strip.show_line("wait", say("window.opening", {"file": str(path)}))
        if not self._show_early(path, place):
            self._listen()
            self._open_now(path, may_make=may_make, done=done, place=place)

    def _open_now(self, path: Path, *, may_make: bool, done: str = "", place: str = "") -> None:
        before = self.doors.path

        def opened(told: Iterable[str]) -> None:
            if before not in (None, path):
                # What another register showed, and what lay on its counter, is nothing of this one's.
                self.main.forget()
            self._opened(path, told, done, place)

        self.doors.open(path, opened, lambda fault: self._not_opened(fault, done), may_make=may_make)

    def _show_early(self, path: Path, wanted: str = "") -> bool:
        """Show the first rows of a list before the rest is loaded; False where no list is to be shown."""
        place = remembered("place")
        if wanted or self.doors.path is not None or place not in _LISTS or self.main.screens:
            return False
        # Read while the place is being made, which is put on the screen with its rows in it.
        look = import_module(f"app.window.places.{place}.view").SCREEN.first_look()
        screens: list[Screen] = []

        def then() -> None:
            self._listen()
            self._open_now(path, may_make=False)

        def seen(rows: object) -> None:
            if rows is not None:
                screens[0].show_first(rows)  # type: ignore[attr-defined]  # a list's own
            self.main.early(place, screens[0])
            # The rows are painted before the database library takes its time.
            QTimer.singleShot(30, self.main, then)

        self.doors.glance(path, look, seen)
        screens.append(self._made(place))
        return True

    def _opened(self, path: Path, told: Iterable[str], done: str = "", place: str = "") -> None:
        remember("register", str(path))
        for line in told:
            self.telling.tell(line)
        self._look_about("opened", then=lambda: self._show_first(done, place))

    def _show_first(self, done: str = "", place: str = "") -> None:
        self.main.open_places(are_open=True)
        place = place or remembered("place")
        self.main.go(place if place in PLACES else next(iter(PLACES)))
        ready = say("window.ready", {"name": self.bar.register.text()})
        self.strip.show_line("done" if done else "told", f"{done} {ready}".strip())

    def _not_opened(self, fault: CuffdateError, done: str = "") -> None:
        self.telling.complain(fault)
        if done:
            self.strip.show_line("wrong", f"{done} {say_here(fault)}", is_heard=True)
        if self.doors.path is None:
            self.begin()

    def _listen(self) -> None:
        """From now on keys and wheel pass through scanner and guards.

        Whatever else happens passes through them too, and is made an object of ours each time: a third of the time to
        the first rows, while nothing can be entered yet.
        """
        if not self._is_listening:
            self._is_listening = True
            self.guards.install(self._application)
            self.scanner.install(self._application)

    def begin(self) -> None:
        """Where no register is open: make one, open one, look at the demo."""
        # It reads files, 266 modules: a start with a register does without.
        from app.window.places.start.view import StartScreen  # noqa: PLC0415

        self._listen()
        self.bar.hide()
        if isinstance(self.main.covered, StartScreen):
            # What is filled in there stays.
            return
        back = None if self.doors.path is None else self._back
        name = "" if self.doors.path is None else register_name(self.doors.path)
        self.main.cover(StartScreen(self.shell, self.open, back, name))

    def _back(self) -> None:
        self.bar.show()
        self._show_first()

    def _look_about(self, slot: str = "here", then: Callable[[], None] = lambda: None) -> None:
        from app.usecases.about_here import about_here  # noqa: PLC0415  # the database, after the first rows

        def seen(about: AboutHere) -> None:
            here = self.here
            here.today, here.is_demo, here.people, here.crib = about.today, about.is_demo, about.people, about.crib
            here.by = here.by if here.by in about.people else ""
            if self.doors.path is not None:
                self.bar.show_register(register_name(self.doors.path))
            self.bar.show()
            here.changed.emit()
            then()

        self.doors.ask(about_here, seen, self.telling.complain, owner=self.main, slot=slot)

    def _look_for_midnight(self) -> None:
        if self.doors.path is None or self.doors.is_busy:
            return

        def told(today: date) -> None:
            if today != self.here.today:
                self.doors.moved.emit(EVERYTHING)

        self.doors.ask(lambda desk: desk.today(), told, lambda _: None, owner=self.main, slot="day")

    def _moved(self, subjects: frozenset[str]) -> None:
        if subjects & {"people", "rules", "*"} and self.main.screens:
            self._look_about()
        self.main.moved(subjects)

    # Places.

    def _made(self, place: str) -> Screen:
        screen: Screen = import_module(f"app.window.places.{place}.view").SCREEN(self.shell)
        return screen

    def may_close(self) -> bool:
        """Whether nothing typed would be lost; asks where something would."""
        shown = [*self.main.screens.values(), *([self.main.covered] if self.main.covered is not None else [])]
        lost = [text for screen in shown if (text := screen.unsaved())]
        if not lost or self._may_lose:
            return True
        choices = (("close", say("window.close-anyway", {})),)
        question = Question(say("window.close", {}), (say("window.unsaved", {}), *lost), choices)
        self.ask.put(question, self._close_answered)
        return False

    _may_lose = False

    def _close_answered(self, key: str, _words: str) -> None:
        if key == "close":
            self._may_lose = True
            # Not within the event that asked.
            QTimer.singleShot(0, self.main, self.main.close)

    def _closed(self) -> None:
        if self.main.place:
            remember("place", self.main.place)
        for watcher in (self.guards, self.scanner):
            self._application.removeEventFilter(watcher)
        self.alarm.remove()
        self.doors.close()

    def _needs_by(self) -> bool:
        if self.here.by:
            return True
        self.telling.complain(BadInput("by.choose-first"))
        self.bar.by.setFocus()
        return False

    # Scans.

    def scanned(self, code: str) -> None:
        """Find out what was scanned and give it to the place shown."""
        from app.usecases.look_up import look_up  # noqa: PLC0415  # the database, after the first rows

        if self.doors.path is None or self.main.shown is None:
            self.telling.scan_refused("scan.no-use", code)
            return
        self.doors.ask(
            lambda desk: look_up(desk, code), self._meant, self.telling.complain, owner=self.main, slot=f"scan {code}"
        )

    def _meant(self, meant: Meant) -> None:
        screen = self.main.shown
        if screen is None or not screen.scanned(meant):
            self.telling.scan_refused("scan.no-use", meant.written)


def _last_register() -> Path | None:
    last = remembered("register")
    return Path(last) if last and Path(last).exists() else None
