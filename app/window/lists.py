"""Lists and what scrolls: parts with a bar beside them, and a choice in a row."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QScrollArea, QWidget


def scrolled(inner: QWidget | None = None, name: str = "", *, takes_keys: bool = False) -> QScrollArea:
    """A part that scrolls up and down only. `takes_keys`: Tab stops at it, so that arrows can scroll it."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    if not takes_keys:
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    if name:
        area.setAccessibleName(name)
    if inner is not None:
        area.setWidget(inner)
    return area


def choice(
    name: str, options: Iterable[tuple[str, str]], chosen: str, changed: Callable[[str], object], *, letters: int = 0
) -> QComboBox:
    """A choice that stands in a row and has no label of its own; options are (key, words).

    `letters`: no wider than so many need, where words are long and the row is full.
    """
    box = QComboBox()
    box.setAccessibleName(name)
    if letters:
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        box.setMinimumContentsLength(letters)
    for key, words in options:
        box.addItem(words, key)
    box.setCurrentIndex(max(0, box.findData(chosen)))
    box.currentIndexChanged.connect(lambda _: changed(str(box.currentData() or "")))
    return box
