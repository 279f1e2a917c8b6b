"""The menus: open and begin a register, light and dark, asking the register again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QAction, QActionGroup, QKeySequence

from app.window.desktop import remember, remembered
from app.window.doors import EVERYTHING
from app.window.theme import Theme
from app.words.saying import say

if TYPE_CHECKING:
    from app.window.window import Window


def put_menus(window: Window, theme: Theme) -> None:
    """Put them into the window, and put on the palette it was left with."""
    bar = window.main.menuBar()
    register = bar.addMenu(say("menu.register", {}))

    def choose_file() -> None:
        window.ask.file_to_open(say("menu.open", {}), say("window.kinds", {}), window.open)

    def load(what: str) -> None:
        # What reads files is loaded with the first of them.
        from app.window.loading import Loading

        loading = Loading(window.shell)
        if what == "depot":
            loading.depot()
        else:
            loading.sheet()

    for key, act, keys in (
        ("menu.open", choose_file, QKeySequence.StandardKey.Open),
        ("menu.begin", window.begin, QKeySequence.StandardKey.New),
        ("menu.depot", lambda: load("depot"), ""),
        ("menu.sheet", lambda: load("sheet"), ""),
        ("menu.close", window.main.close, QKeySequence.StandardKey.Quit),
    ):
        action = QAction(say(key, {}), window.main)
        action.setShortcut(QKeySequence(keys))
        action.triggered.connect(lambda _=False, act=act: act())
        register.addAction(action)
    seeing = bar.addMenu(say("menu.seeing", {}))
    group = QActionGroup(window.main)
    for name in ("system", "light", "dark"):
        action = QAction(say(f"menu.{name}", {}), window.main, checkable=True)
        action.setChecked(name == (remembered("palette") or "system"))
        action.triggered.connect(lambda _=False, name=name: _palette(theme, name))
        group.addAction(action)
        seeing.addAction(action)
    wanted = remembered("palette") or theme.wanted
    if wanted != theme.wanted:
        theme.choose(wanted)
    again = QAction(say("menu.again", {}), window.main)
    again.setShortcut(QKeySequence.StandardKey.Refresh)
    again.triggered.connect(lambda: window.doors.moved.emit(EVERYTHING))
    seeing.addAction(again)


def _palette(theme: Theme, name: str) -> None:
    remember("palette", name)
    theme.choose(name)
