"""What every screen and dialog is built of: rows, columns, words, keys and marks, each laid out in one way."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import TypeVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QBoxLayout,
    QButtonGroup,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLayout,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.outputs.pictures.colours import PaletteName, Role
from app.outputs.pictures.scene import ShapeKind
from app.window.paint import icon

Margins = tuple[int, int, int, int]
Placed = QWidget | QLayout
#: A part of a row or column: what is put there, its share of the room left, and how it stands in it.
Part = Placed | tuple[Placed, int] | tuple[Placed, int, Qt.AlignmentFlag] | None
_Box = TypeVar("_Box", bound=QBoxLayout)

#: As a part: the room that is left.
REST = None
TOP = Qt.AlignmentFlag.AlignTop
LEFT = Qt.AlignmentFlag.AlignLeft
EDGELESS: Margins = (0, 0, 0, 0)
#: The space the style itself puts between parts.
_OF_STYLE = -1


def row(*parts: Part, on: QWidget | None = None, spacing: int = _OF_STYLE, margins: Margins = EDGELESS) -> QHBoxLayout:
    """Parts from left to right, spaced in pixels; `on`: the widget they are laid out on."""
    return _filled(QHBoxLayout() if on is None else QHBoxLayout(on), parts, spacing, margins)


def column(
    *parts: Part, on: QWidget | None = None, spacing: int = _OF_STYLE, margins: Margins = EDGELESS
) -> QVBoxLayout:
    """Parts from top to bottom, spaced in pixels; `on`: the widget they are laid out on."""
    return _filled(QVBoxLayout() if on is None else QVBoxLayout(on), parts, spacing, margins)


def _filled(layout: _Box, parts: tuple[Part, ...], spacing: int, margins: Margins) -> _Box:
    layout.setContentsMargins(*margins)
    layout.setSpacing(spacing)
    for part in parts:
        add(layout, part)
    return layout


def add(layout: QBoxLayout, part: Part) -> None:
    """Put one more part at the end of a row or column."""
    if part is None:
        layout.addStretch(1)
        return
    placed, share = (part[0], part[1]) if isinstance(part, tuple) else (part, 0)
    if isinstance(placed, QLayout):
        layout.addLayout(placed, share)
    else:
        layout.addWidget(placed, share)
    if isinstance(part, tuple) and len(part) == 3:
        layout.setAlignment(placed, part[2])


def grid(parts: Iterable[QWidget], columns: int, *, spacing: tuple[int, int] = (14, 8)) -> QGridLayout:
    """Parts row by row, all columns of one width; `spacing` across and down, pixels."""
    laid = QGridLayout()
    laid.setContentsMargins(*EDGELESS)
    laid.setHorizontalSpacing(spacing[0])
    laid.setVerticalSpacing(spacing[1])
    for number, part in enumerate(parts):
        laid.addWidget(part, number // columns, number % columns)
    for number in range(columns):
        laid.setColumnStretch(number, 1)
    return laid


def let_grow(part: QWidget) -> None:
    """Room for a complaint of several lines below a field, with the field at the head of its cell."""
    part.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
    layout = part.layout()
    if isinstance(layout, QVBoxLayout):
        layout.addStretch(1)


def box(layout: QLayout) -> QWidget:
    """A widget with nothing but this layout."""
    widget = QWidget()
    widget.setLayout(layout)
    return widget


def label(text: str, look: str = "", *, wraps: bool = True) -> QLabel:
    """Words on the screen, never read as markup. `look`: question, lead, quiet, short, fit, warn, heading."""
    words = QLabel(text)
    words.setTextFormat(Qt.TextFormat.PlainText)
    words.setWordWrap(wraps)
    if look:
        words.setProperty("look", look)
    return words


def put(words: QLabel, text: str) -> None:
    """Say this there; where there is nothing to say, take no room."""
    words.setText(text)
    words.setVisible(bool(text))


def button(text: str, pressed: Callable[[], object], look: str = "") -> QPushButton:
    """A button that Enter in a field never presses."""
    key = QPushButton(text)
    key.setAutoDefault(False)
    key.clicked.connect(lambda _=False: pressed())
    if look:
        key.setProperty("look", look)
    return key


def toggle(text: str, turned: Callable[[], object], look: str = "") -> QPushButton:
    """A button that stays pressed; `turned` is called whenever it is another, whoever turned it."""
    key = button(text, lambda: None, look)
    key.setCheckable(True)
    key.toggled.connect(lambda _: turned())
    return key


def one_of(
    owner: QWidget, words: Mapping[str, str], chosen: Callable[[str], object], look: str = ""
) -> dict[str, QPushButton]:
    """Buttons of which one is pressed at a time, by their keys; `chosen` gets the key of the one somebody pressed."""
    group = QButtonGroup(owner)
    keys: dict[str, QPushButton] = {}
    for key, text in words.items():
        keys[key] = button(text, lambda key=key: chosen(key), look)  # type: ignore[misc]  # bound now
        keys[key].setCheckable(True)
        group.addButton(keys[key])
    return keys


def release(keys: Mapping[str, QPushButton]) -> None:
    """None of these is pressed any more."""
    for key in keys.values():
        group = key.group()
        group.setExclusive(False)
        key.setChecked(False)
        group.setExclusive(True)


def code_line(name: str, hint: str, entered: Callable[[], object] | None = None, *, most: int = 80) -> QLineEdit:
    """One line for a code or words to look for, named for whoever does not see it; `entered`: Enter was pressed."""
    line = QLineEdit()
    line.setMaxLength(most)
    line.setPlaceholderText(hint)
    line.setAccessibleName(name)
    if entered is not None:
        line.returnPressed.connect(entered)
    return line


def save_keys(
    widget: QWidget,
    pressed: Callable[[], object],
    context: Qt.ShortcutContext = Qt.ShortcutContext.WindowShortcut,
) -> None:
    """Ctrl with either Enter does what is done here, once a press, while `widget` is seen."""
    for keys in ("Ctrl+Return", "Ctrl+Enter"):
        QShortcut(QKeySequence(keys), widget, pressed, context=context).setAutoRepeat(False)


def card(look: str = "card") -> tuple[QFrame, QVBoxLayout]:
    """A framed part of a screen with its layout."""
    frame = QFrame()
    frame.setProperty("look", look)
    return frame, column(on=frame, spacing=8, margins=(16, 12, 16, 12))


#: A colour that says something -> the look of words in it; other words have a look of their own.
LOOKS: Mapping[Role, str] = {Role.FIT: "fit", Role.SHORT: "short", Role.WARN: "warn"}


def mark(size_px: int) -> QLabel:
    """Room for a picture of this height and width; see `put_mark`."""
    room = QLabel()
    room.setFixedSize(size_px, size_px)
    return room


def put_mark(room: QLabel, kind: ShapeKind, role: Role, palette: PaletteName) -> None:
    """Draw an icon into the room made for it."""
    size_px = room.width()
    room.setPixmap(icon(kind, role, palette, size_px).pixmap(size_px, size_px))


def show_wrong(line: QWidget, complaint: str, says: str = "") -> None:
    """Frame what cannot be read, and tell why to whoever does not see it; `says`: what is told where nothing is."""
    line.setProperty("is_wrong", "true" if complaint else "false")
    line.setAccessibleDescription(complaint or says)
    repolish(line)


def announce(widget: QWidget, text: str, *, is_urgent: bool = False) -> None:
    """Read this aloud to whoever does not see the screen; what is urgent interrupts what is being read."""
    event = QAccessibleAnnouncementEvent(widget, text)
    wanted = QAccessible.AnnouncementPoliteness
    event.setPoliteness(wanted.Assertive if is_urgent else wanted.Polite)
    QAccessible.updateAccessibility(event)


def fit_height(dialog: QWidget, width: int) -> None:
    """Make a dialog as high as its wrapped words need at this width, or wider where its buttons ask it."""
    layout = dialog.layout()
    assert layout is not None
    wide = max(width, layout.minimumSize().width())
    dialog.setMinimumSize(wide, max(layout.heightForWidth(wide), layout.minimumSize().height()))


def relook(widget: QWidget, look: str) -> None:
    """Change the look of a widget, whether it is shown already or not."""
    if widget.property("look") != look:
        widget.setProperty("look", look)
        if not widget.testAttribute(Qt.WidgetAttribute.WA_WState_Polished):
            # Nobody has looked at it yet: it is put on with the rest.
            return
        repolish(widget)


def repolish(widget: QWidget) -> None:
    """Have the style sheet look again at what is said of a widget."""
    widget.style().unpolish(widget)
    widget.style().polish(widget)
