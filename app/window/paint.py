"""Scenes on the screen: the same values that become SVG and PNG, painted by the toolkit."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPaintEvent, QPen, QPixmap, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.outputs.pictures.scene import (
    PALETTES,
    Box,
    Hatch,
    Item,
    Line,
    PaletteName,
    Role,
    Scene,
    Shape,
    ShapeKind,
    Words,
)
from app.outputs.pictures.shapes import outline

FAMILY = "DejaVu Sans"
_DASHES = [4.0, 3.0]


def paint_scene(painter: QPainter, scene: Scene) -> None:
    """Draw a scene at its own size, paper first."""
    colours = {role: QColor(PALETTES[scene.palette][role]) for role in Role}
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.fillRect(QRectF(0, 0, scene.width, scene.height), colours[Role.PAPER])
    for item in scene.items:
        _item(painter, item, colours)


def _item(painter: QPainter, item: Item, colours: dict[Role, QColor]) -> None:
    match item:
        case Box():
            painter.setPen(_pen(item.stroke, item.stroke_width, colours, dashed=item.dashed))
            painter.setBrush(colours[item.fill] if item.fill else Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(item.x, item.y, item.width, item.height))
        case Line():
            painter.setPen(_pen(item.role, item.width, colours, dashed=item.dashed))
            painter.drawLine(QPointF(item.x1, item.y1), QPointF(item.x2, item.y2))
        case Hatch():
            _hatch(painter, item, colours)
        case Words():
            _words(painter, item, colours)
        case Shape():
            _shape(painter, item, colours)


def _pen(role: Role | None, width: float, colours: dict[Role, QColor], *, dashed: bool = False) -> QPen:
    if role is None:
        return QPen(Qt.PenStyle.NoPen)
    pen = QPen(colours[role], width)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    if dashed:
        pen.setDashPattern(_DASHES)
    return pen


def _hatch(painter: QPainter, item: Hatch, colours: dict[Role, QColor]) -> None:
    frame = QRectF(item.x, item.y, item.width, item.height)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colours[Role.PAPER])
    painter.drawRect(frame)
    painter.setPen(_pen(item.role, 2.5, colours))
    for x1, y1, x2, y2 in item.strokes():
        painter.drawLine(QPointF(x1, y1), QPointF(x2, y2))
    painter.setPen(_pen(item.role, 2.0, colours))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(frame)


def _words(painter: QPainter, item: Words, colours: dict[Role, QColor]) -> None:
    # The toolkit's own icons have no words: the class is made with the first picture that has some.
    from PySide6.QtGui import QFont  # noqa: PLC0415

    font = QFont(FAMILY)
    font.setPixelSize(max(1, round(item.size)))
    font.setBold(item.bold)
    font.setKerning(False)
    painter.setFont(font)
    painter.setPen(colours[item.role])
    box = item.box()
    painter.drawText(QPointF(box.left, item.y), item.text)


def _shape(painter: QPainter, item: Shape, colours: dict[Role, QColor]) -> None:
    for stroke in outline(item):
        points = QPolygonF([QPointF(x, y) for x, y in stroke.points])
        if not stroke.width:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(colours[stroke.role])
            painter.drawPolygon(points)
            continue
        pen = QPen(colours[stroke.role], stroke.width)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if stroke.closed:
            painter.drawPolygon(points)
        else:
            painter.drawPolyline(points)


class SceneView(QWidget):
    """A picture in the window, made smaller where there is no room and never larger; says in words what it shows."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.scene: Scene | None = None
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setMinimumHeight(1)

    def show_scene(self, scene: Scene | None) -> None:
        """Show this picture, nothing for None."""
        self.scene = scene
        self.setVisible(scene is not None)
        if scene is not None:
            self.setAccessibleName(scene.title)
            self.setAccessibleDescription(scene.description)
            self.setToolTip(scene.description)
        self._fit()
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802
        """The picture's own size."""
        return QSize(0, 0) if self.scene is None else QSize(int(self.scene.width), int(self.scene.height))

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """It can be made smaller."""
        return QSize(0, 0)

    def resizeEvent(self, event: object) -> None:  # noqa: N802, ARG002
        """Keep the picture's proportions."""
        self._fit()

    def _fit(self) -> None:
        if self.scene is None:
            self.setFixedHeight(0)
            return
        self.setFixedHeight(max(1, round(self.scene.height * self._scale())))

    def _scale(self) -> float:
        assert self.scene is not None
        return min(1.0, max(self.width(), 1) / self.scene.width)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002
        """Draw it."""
        if self.scene is None:
            return
        painter = QPainter(self)
        painter.scale(self._scale(), self._scale())
        paint_scene(painter, self.scene)
        painter.end()


def icon(kind: ShapeKind, role: Role, palette: PaletteName, size: int = 18) -> QIcon:
    """One of the icons of the pictures, for lists and buttons."""
    drawn = QIcon()
    for ratio in (1, 2):
        pixmap = QPixmap(size * ratio, size * ratio)
        pixmap.fill(Qt.GlobalColor.transparent)
        painter = QPainter(pixmap)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        colours = {each: QColor(PALETTES[palette][each]) for each in Role}
        _shape(painter, Shape(kind, size * ratio / 2, size * ratio / 2, size * ratio - 2, role), colours)
        painter.end()
        pixmap.setDevicePixelRatio(ratio)
        drawn.addPixmap(pixmap)
    return drawn
