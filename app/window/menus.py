"""The menus: open and begin a register, light and dark, asking the register again."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtGui import QAction, QActionGroup, QKeySequence

from app.window.desktop import remember, remembered
from app.window.doors import EVERYTHING
from app.window.theme import Theme
from app.words.saying import say

if TYPE_CHECKING:
    from pathlib import Path

    from app.window.main_window import MainWindow
    from app.window.shell import Shell


def put_menus(main: MainWindow, shell: Shell, opens: Callable[[Path], None], begins: Callable[[], object]) -> None:
    """Put them into the window, and put on the palette it was left with.

    `opens` opens a register, `begins` shows how one is begun.
    """
    bar, theme = main.menuBar(), shell.theme
    register = bar.addMenu(say("menu.register", {}))

    def choose_file() -> None:
        shell.ask.file_to_open(say("menu.open", {}), say("window.kinds", {}), opens)

    def load(what: str) -> None:
        # What reads files brings 260 modules, most of a start: loaded with the first of them.
        from app.window.loading import Loading  # noqa: PLC0415

        loading = Loading(shell)
        if what == "depot":
            loading.depot()
        else:
            loading.sheet()

    for key, act, keys in (
        ("menu.open", choose_file, QKeySequence.StandardKey.Open),
        ("menu.begin", begins, QKeySequence.StandardKey.New),
        ("menu.depot", lambda: load("depot"), ""),
        ("menu.sheet", lambda: load("sheet"), ""),
        ("menu.close", main.close, QKeySequence.StandardKey.Quit),
    ):
        action = QAction(say(key, {}), main)
        action.setShortcut(QKeySequence(keys))
        action.triggered.connect(lambda _=False, act=act: act())
        register.addAction(action)
    seeing = bar.addMenu(say("menu.seeing", {}))
    group = QActionGroup(main)
    for name in ("system", "light", "dark"):
        action = QAction(say(f"menu.{name}", {}), main, checkable=True)
        action.setChecked(name == (remembered("palette") or "system"))
        action.triggered.connect(lambda _=False, name=name: _palette(theme, name))
        group.addAction(action)
        seeing.addAction(action)
    wanted = remembered("palette") or theme.wanted
    if wanted != theme.wanted:
        theme.choose(wanted)
    again = QAction(say("menu.again", {}), main)
    again.setShortcut(QKeySequence.StandardKey.Refresh)
    again.triggered.connect(lambda: shell.doors.moved.emit(EVERYTHING))
    seeing.addAction(again)


def _palette(theme: Theme, name: str) -> None:
    remember("palette", name)
    theme.choose(name)
