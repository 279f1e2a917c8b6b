"""The due ribbon in one column of a list: from the last test to the due day, today across it, in one scale for all."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem

from app.outputs.documents.pictures import ribbon_of
from app.outputs.pictures.due_strip import strip
from app.outputs.pictures.scene import PaletteName, Scene
from app.outputs.pictures.time_scale import TimeScale
from app.window.paint import paint_scene
from app.window.rows_model import VALUE_ROLE

if TYPE_CHECKING:
    from app.decision.judging.status import Status
    from app.usecases.look_at_shelf import OnShelf

WIDTH = 210
# Rather more than half a year to either side, as most retests of gloves are half a year apart; what lies beyond is an
# arrow at the edge.
REACH = timedelta(days=250)
_EDGE = 12.0
_TALL = 12.0


def strip_scene(status: Status, warning_days: int, palette: PaletteName, width: float, height: float) -> Scene:
    """One piece's strip, today in the middle; its words are those of the columns beside it."""
    scale = TimeScale(status.today - REACH, status.today + REACH, _EDGE, width - _EDGE)
    items = tuple(strip(ribbon_of(status, warning_days), scale, (height - _TALL) / 2, _TALL))
    return Scene(width, height, status.piece.code, "", items, palette)


class StripColumn(QStyledItemDelegate):
    """Draws the strip of the row it is asked for, and nothing for the others."""

    def __init__(self, palette: Callable[[], PaletteName], warning_days: Callable[[], int], parent: QObject) -> None:
        super().__init__(parent)
        self._palette = palette
        self._warning_days = warning_days

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """The strip in the whole cell; which row is chosen is seen in the other columns."""
        row: OnShelf | None = index.data(VALUE_ROLE)
        if row is None:
            return
        frame = option.rect
        scene = strip_scene(
            row.row.status, self._warning_days(), self._palette(), float(frame.width()), float(frame.height())
        )
        painter.save()
        painter.setClipRect(frame)
        painter.translate(frame.topLeft())
        paint_scene(painter, scene)
        painter.restore()
