"""Looks over a window as somebody would who cannot see it, has large fingers, reads longer words, or has no mouse."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QFontMetrics
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QComboBox,
    QHeaderView,
    QLabel,
    QLineEdit,
    QMenuBar,
    QPlainTextEdit,
    QScrollArea,
    QWidget,
)

TARGET_PX = 24
_TOUCHED = (QAbstractButton, QComboBox, QLineEdit, QPlainTextEdit)
# Parts of the toolkit's own that are no target by themselves.
_INNER = ("qt_scrollarea_viewport", "qt_spinbox_lineedit")


def seen(window: QWidget) -> list[QWidget]:
    """Every widget that can be seen, the window among them."""
    return [
        one for one in (window, *window.findChildren(QWidget)) if one.isVisible() and one.objectName() not in _INNER
    ]


def said_of(widget: QWidget) -> str:
    words = widget.text() if isinstance(widget, (QAbstractButton, QLabel, QLineEdit)) else ""
    return f"{type(widget).__name__} {widget.accessibleName() or words!r}"


def without_name(window: QWidget) -> list[str]:
    """What takes the keyboard and would be read out as nothing."""
    found = []
    for one in seen(window):
        takes = one.focusPolicy() & Qt.FocusPolicy.TabFocus and not isinstance(
            one, (QScrollArea, QHeaderView, QMenuBar)
        )
        if not takes or one is window:
            continue
        face = QAccessible.queryAccessibleInterface(one)
        if face is None or not face.text(QAccessible.Text.Name).strip():
            found.append(said_of(one))
    return found


def too_small(window: QWidget) -> list[str]:
    """Targets under 24 px either way."""
    return [
        f"{said_of(one)}: {one.width()} x {one.height()}"
        for one in seen(window)
        if isinstance(one, _TOUCHED) and (one.width() < TARGET_PX or one.height() < TARGET_PX)
    ]


def clipped(window: QWidget) -> Iterator[str]:
    """Words that do not fit where they stand."""
    for one in seen(window):
        if isinstance(one, QLabel) and one.text():
            if one.wordWrap():
                needed = one.heightForWidth(one.width())
                if needed > one.height() + 1:
                    yield f"{said_of(one)}: {needed} high, {one.height()} there"
                widest = max((one.fontMetrics().horizontalAdvance(word) for word in one.text().split()), default=0)
                if widest > one.width() + 1:
                    yield f"{said_of(one)}: a word {widest} wide, {one.width()} there"
            elif one.sizeHint().width() > one.width() + 1:
                yield f"{said_of(one)}: {one.sizeHint().width()} wide, {one.width()} there"
        elif isinstance(one, QAbstractButton) and one.text():
            metrics: QFontMetrics = one.fontMetrics()
            widest = max(metrics.horizontalAdvance(line) for line in one.text().replace("&", "").splitlines())
            if widest > one.width():
                yield f"{said_of(one)}: {widest} wide, {one.width()} there"


def outside(window: QWidget) -> list[str]:
    """What stands beyond the window's edge without a scroll area to bring it in."""
    found = []
    for one in seen(window):
        above = one.parentWidget()
        while above is not None and not isinstance(above, (QScrollArea, QAbstractItemView)):
            above = above.parentWidget()
        if above is None and isinstance(one, (*_TOUCHED, QLabel)):
            corner = one.mapTo(window, one.rect().bottomRight())
            if corner.x() > window.width() or corner.y() > window.height():
                found.append(f"{said_of(one)}: at {corner.x()}, {corner.y()}")
    return found


def reached_by_tab(window: QWidget) -> set[int]:
    """What Tab comes to, going round once; a trap ends the round early."""
    QTest.qWaitForWindowActive(window)
    found: set[int] = set()
    for _ in range(400):
        target = QApplication.focusWidget() or window
        QTest.keyClick(target, Qt.Key.Key_Tab)
        now = QApplication.focusWidget()
        if now is None or id(now) in found:
            break
        found.add(id(now))
    return found


def not_reached(window: QWidget) -> list[str]:
    """What can be pressed or typed in, and Tab never comes to."""
    reached = reached_by_tab(window)
    asked = [one for one in seen(window) if isinstance(one, (*_TOUCHED, QAbstractItemView)) and one.isEnabled()]
    return [
        said_of(one)
        for one in asked
        if one.focusPolicy() & Qt.FocusPolicy.TabFocus and id(one) not in reached and not _is_one_of_a_group(one)
    ] + [said_of(one) for one in asked if _is_passed_by(one)]


def _is_one_of_a_group(one: QWidget) -> bool:
    # In an exclusive group Tab comes to the chosen one, and arrows go on from there.
    return isinstance(one, QAbstractButton) and one.group() is not None and one.group().exclusive()


def _is_passed_by(one: QWidget) -> bool:
    """A button Tab never stops at, other than those of a group and those the toolkit draws into tables."""
    if one.focusPolicy() & Qt.FocusPolicy.TabFocus or _is_one_of_a_group(one):
        return False
    return isinstance(one, QAbstractButton) and not isinstance(one.parentWidget(), (QAbstractItemView, QHeaderView))
