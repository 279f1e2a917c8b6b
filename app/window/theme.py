"""Colours, sizes and letters of the window, light and dark: the same parts as in the pictures, by the same names."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QColor, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from app.outputs.pictures.colours import PALETTES, PaletteName, Role

# Ground behind the cards; every role that may be written in words has 4.5 against it as well (tests/window).
GROUND: dict[PaletteName, str] = {"light": "#f2f4f7", "dark": "#0e1216"}
EDGE: dict[PaletteName, str] = {"light": "#74818e", "dark": "#6f7c88"}
_DRAWN = __file__.replace("\\", "/").rpartition("/")[0] + "/drawn"
BASE_PX = 14
TARGET_PX = 32
COUNTER_PX = 60

_SHEET = """
* {{ font-size: {base}px; }}
QMainWindow, QDialog, QWidget#ground {{ background: {ground}; }}
QToolTip {{ color: {ink}; background: {paper}; border: 1px solid {edge}; padding: 4px; }}
QFrame[look="card"] {{ background: {paper}; border: 1px solid {grid}; border-radius: 8px; }}
QFrame[look="decision-stop"] {{ background: {paper}; border: 2px solid {short}; border-left: 10px solid {short}; border-radius: 8px; border-top-left-radius: 0; border-bottom-left-radius: 0; }}
QFrame[look="decision-fit"] {{ background: {paper}; border: 2px solid {fit}; border-left: 10px solid {fit}; border-radius: 8px; border-top-left-radius: 0; border-bottom-left-radius: 0; }}
QFrame[look="decision-wait"] {{ background: {paper}; border: 1px solid {edge}; border-left: 10px solid {edge}; border-radius: 8px; border-top-left-radius: 0; border-bottom-left-radius: 0; }}
QFrame[look="bar"] {{ background: {paper}; border-bottom: 1px solid {grid}; }}
QFrame[look="strip"] {{ background: {paper}; border-top: 1px solid {grid}; }}
QFrame[look="rail"] {{ background: {paper}; border-right: 1px solid {grid}; }}
QLabel {{ color: {ink}; background: transparent; }}
QLabel[look="question"] {{ font-size: 19px; font-weight: 600; }}
QLabel[look="lead"] {{ font-size: 16px; font-weight: 600; }}
QLabel[look="verdict"] {{ font-size: 20px; font-weight: 700; }}
QLabel[look="quiet"] {{ color: {quiet}; }}
QLabel[look="short"] {{ color: {short}; font-weight: 600; }}
QLabel[look="fit"] {{ color: {fit}; font-weight: 600; }}
QLabel[look="warn"] {{ color: {warn}; }}
QLabel[look="heading"] {{ font-weight: 700; color: {quiet}; }}
QLineEdit, QComboBox, QPlainTextEdit {{
    background: {paper}; color: {ink}; border: 1px solid {edge}; border-radius: 4px; padding: 4px 8px; min-height: 24px;
    selection-background-color: {fit}; selection-color: {paper};
}}
QLineEdit {{ placeholder-text-color: {quiet}; }}
QLineEdit:focus, QComboBox:focus, QPlainTextEdit:focus {{ border: 2px solid {fit}; padding: 3px 7px; }}
QLineEdit[is_wrong="true"], QComboBox[is_wrong="true"] {{ border: 2px solid {short}; padding: 3px 7px; }}
QLineEdit:disabled, QComboBox:disabled {{ background: {ground}; color: {quiet}; }}
QComboBox::drop-down {{ border: 0; width: 26px; }}
QComboBox::down-arrow {{ image: url({arrow}); width: 12px; height: 12px; }}
QComboBox QAbstractItemView {{ background: {paper}; color: {ink}; selection-background-color: {fit}; selection-color: {paper}; }}
QPushButton, QToolButton {{
    background: {paper}; color: {ink}; border: 1px solid {edge}; border-radius: 6px; padding: 4px 14px; min-height: 24px;
}}
QPushButton:hover, QToolButton:hover {{ background: {band}; }}
QPushButton:focus, QToolButton:focus {{ border: 2px solid {fit}; padding: 3px 13px; }}
QPushButton:disabled, QToolButton:disabled {{ color: {quiet}; background: {ground}; border: 1px dashed {edge}; }}
QPushButton:checked, QToolButton:checked {{ background: {band}; border: 2px solid {ink}; padding: 3px 13px; }}
QPushButton[look="counter"] {{ min-height: {counter}px; font-size: 18px; font-weight: 600; padding: 0 22px; }}
QPushButton[look="counter"]:enabled {{ background: {fit}; color: {paper}; border: 2px solid {fit}; }}
QPushButton[look="counter"]:enabled:focus {{ border: 3px solid {ink}; padding: 0 21px; }}
QPushButton[look="tab"] {{ padding: 4px 8px; }}
QPushButton[look="tab"]:checked, QPushButton[look="tab"]:focus {{ padding: 3px 7px; }}
QPushButton[look="place"] {{
    border: 0; border-left: 5px solid transparent; border-radius: 0; text-align: left; padding: 10px 18px 10px 14px;
    font-size: 16px; min-height: 36px;
}}
QPushButton[look="place"]:disabled {{ background: {paper}; border: 0; border-left: 5px solid transparent; }}
QPushButton[look="place"]:checked {{ border-left: 5px solid {fit}; background: {band}; font-weight: 700; }}
QPushButton[look="place"]:focus {{ border: 2px solid {fit}; border-left: 5px solid {fit}; padding: 8px 16px 8px 14px; }}
QPushButton[look="link"] {{ border: 0; color: {fit}; text-decoration: underline; padding: 4px 6px; background: transparent; }}
QPushButton[look="link"]:focus {{ border: 2px solid {fit}; padding: 2px 4px; }}
QTableView {{
    background: {paper}; color: {ink}; border: 1px solid {grid}; gridline-color: {grid}; alternate-background-color: {ground};
    selection-background-color: {fit}; selection-color: {paper};
}}
QTableView:focus {{ border: 2px solid {fit}; }}
QHeaderView::section {{ background: {band}; color: {ink}; border: 0; border-right: 1px solid {grid}; padding: 6px 8px; font-weight: 600; }}
QCheckBox, QRadioButton {{ color: {ink}; spacing: 8px; min-height: 26px; background: transparent; }}
QListView {{ background: {paper}; color: {ink}; border: 1px solid {grid}; }}
QListView:focus {{ border: 2px solid {fit}; }}
QListView::item:selected {{ background: {band}; color: {ink}; }}
QListView::indicator {{ width: 18px; height: 18px; border: 2px solid {edge}; border-radius: 3px; background: {paper}; }}
QListView::indicator:checked {{ image: url({tick}); border: 2px solid {fit}; }}
QCheckBox::indicator {{ width: 18px; height: 18px; border: 2px solid {edge}; border-radius: 3px; background: {paper}; }}
QCheckBox::indicator:checked {{ image: url({tick}); border: 2px solid {fit}; }}
QCheckBox::indicator:disabled {{ border: 2px dashed {edge}; }}
QScrollBar:vertical {{ background: transparent; width: 14px; margin: 0; }}
QScrollBar:horizontal {{ background: transparent; height: 14px; margin: 0; }}
QScrollBar::handle {{ background: {edge}; border-radius: 5px; margin: 2px; }}
QScrollBar::handle:vertical {{ min-height: 30px; }}
QScrollBar::handle:horizontal {{ min-width: 30px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
QCheckBox:focus, QRadioButton:focus {{ outline: 0; border: 2px solid {fit}; border-radius: 4px; }}
QScrollArea {{ border: 0; background: transparent; }}
QScrollArea > QWidget > QWidget {{ background: transparent; }}
QMenuBar, QMenu {{ background: {paper}; color: {ink}; }}
QMenuBar::item {{ padding: 5px 10px; background: transparent; }}
QMenuBar::item:selected, QMenu::item:selected {{ background: {fit}; color: {paper}; }}
QMenu::item {{ padding: 6px 24px; }}
QProgressBar {{ border: 1px solid {edge}; border-radius: 4px; background: {paper}; color: {ink}; text-align: center; min-height: 18px; }}
QProgressBar::chunk {{ background: {band}; }}
QSplitter::handle {{ background: {grid}; }}
"""


def sheet(palette: PaletteName) -> str:
    """The style sheet of one palette."""
    colours = {role.value: PALETTES[palette][role] for role in Role}
    return _SHEET.format(
        **colours, ground=GROUND[palette], edge=EDGE[palette], base=BASE_PX, counter=COUNTER_PX,
        arrow=_drawn("arrow", palette), tick=_drawn("tick", palette),
    )  # fmt: skip


def _drawn(name: str, palette: PaletteName) -> str:
    return f"{_DRAWN}/{name}-{palette}.svg"


def qt_palette(palette: PaletteName) -> QPalette:
    """The same colours for what the style draws by itself."""
    of = PALETTES[palette]
    colours = QPalette()
    for role, colour in (
        (QPalette.ColorRole.Window, GROUND[palette]), (QPalette.ColorRole.WindowText, of[Role.INK]),
        (QPalette.ColorRole.Base, of[Role.PAPER]), (QPalette.ColorRole.AlternateBase, GROUND[palette]),
        (QPalette.ColorRole.Text, of[Role.INK]), (QPalette.ColorRole.Button, of[Role.PAPER]),
        (QPalette.ColorRole.ButtonText, of[Role.INK]), (QPalette.ColorRole.Highlight, of[Role.FIT]),
        (QPalette.ColorRole.HighlightedText, of[Role.PAPER]), (QPalette.ColorRole.PlaceholderText, of[Role.QUIET]),
        (QPalette.ColorRole.ToolTipBase, of[Role.PAPER]), (QPalette.ColorRole.ToolTipText, of[Role.INK]),
        (QPalette.ColorRole.Link, of[Role.FIT]), (QPalette.ColorRole.Light, of[Role.PAPER]),
        (QPalette.ColorRole.Midlight, of[Role.BAND]), (QPalette.ColorRole.Mid, of[Role.GRID]),
        (QPalette.ColorRole.Dark, EDGE[palette]), (QPalette.ColorRole.Shadow, EDGE[palette]),
    ):  # fmt: skip
        colours.setColor(role, QColor(colour))
    return colours


class Theme(QObject):
    """Which palette is in force: light, dark, or the desktop's own choice."""

    changed = Signal(str)

    def __init__(self, application: QApplication, wanted: str = "system") -> None:
        super().__init__(application)
        self._application = application
        self.wanted = wanted
        self._of_desktop = application.palette()
        self.name: PaletteName = self._resolved()
        QGuiApplication.styleHints().colorSchemeChanged.connect(lambda _: self._desktop_changed())
        self._put_on()

    def _desktop_changed(self) -> None:
        self._of_desktop = self._application.style().standardPalette()
        self.choose(self.wanted)

    def choose(self, wanted: str) -> None:
        """Put on this palette: light, dark, or system for the desktop's own."""
        self.wanted = wanted
        self.name = self._resolved()
        self._put_on()
        self.changed.emit(self.name)

    def _resolved(self) -> PaletteName:
        if self.wanted in ("light", "dark"):
            return "dark" if self.wanted == "dark" else "light"
        # Asked of the desktop's own ground: the toolkit's word for it loads every name the toolkit has, before anything
        # is painted.
        return "dark" if self._of_desktop.window().color().lightness() < 128 else "light"

    def _put_on(self) -> None:
        self._application.setPalette(qt_palette(self.name))
        self._application.setStyleSheet(sheet(self.name))
