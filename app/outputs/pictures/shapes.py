"""The outlines of the icons, as points, so that every painter draws the same form.

The forms differ without colour: tick in a filled disc, cross in a filled square, question in an open diamond, clock as
an open ring with hands.

>>> all(outline(Shape(kind, 0, 0, 20, Role.INK)) for kind in ShapeKind)
True
"""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, pi, sin

from msgspec import Struct

from app.outputs.pictures.scene import Role, Shape, ShapeKind

Point = tuple[float, float]


class Outline(Struct, frozen=True):
    """A run of points in px: filled when `width` is 0, else a stroke of that width, closed or open."""

    points: tuple[Point, ...]
    role: Role
    width: float = 0.0
    closed: bool = True


def _ring(radius: float, *, start: float = 0.0, turn: float = 2 * pi, steps: int = 36) -> tuple[Point, ...]:
    angles = (start + turn * step / steps for step in range(steps + 1))
    return tuple((radius * cos(angle), radius * sin(angle)) for angle in angles)


_SQUARE: tuple[Point, ...] = ((-0.46, -0.46), (0.46, -0.46), (0.46, 0.46), (-0.46, 0.46))
_DIAMOND: tuple[Point, ...] = ((0.0, -0.5), (0.5, 0.0), (0.0, 0.5), (-0.5, 0.0))
# The hook of the question mark: most of a ring, then straight down.
_HOOK: tuple[Point, ...] = (
    *((x, y - 0.1) for x, y in _ring(0.13, start=-pi, turn=1.4 * pi, steps=14)),
    (0.0, 0.1),
)
_DOT: tuple[Point, ...] = tuple((x, y + 0.23) for x, y in _ring(0.055, steps=10))

# Each stroke: points in a unit square around the centre, whether in the paper's colour, width (0: filled), closed.
_Stroke = tuple[tuple[Point, ...], bool, float, bool]
_FORMS: Mapping[ShapeKind, tuple[_Stroke, ...]] = {
    ShapeKind.TICK: (
        (_ring(0.5), False, 0.0, True),
        (((-0.24, 0.02), (-0.07, 0.2), (0.25, -0.19)), True, 0.13, False),
    ),
    ShapeKind.CROSS: (
        (_SQUARE, False, 0.0, True),
        (((-0.22, -0.22), (0.22, 0.22)), True, 0.13, False),
        (((0.22, -0.22), (-0.22, 0.22)), True, 0.13, False),
    ),
    ShapeKind.QUESTION: (
        (_DIAMOND, True, 0.0, True),
        (tuple((x * 0.9, y * 0.9) for x, y in _DIAMOND), False, 0.08, True),
        (_HOOK, False, 0.085, False),
        (_DOT, False, 0.0, True),
    ),
    ShapeKind.CLOCK: (
        (_ring(0.45), True, 0.0, True),
        (_ring(0.45), False, 0.1, True),
        (((0.0, -0.27), (0.0, 0.0), (0.2, 0.12)), False, 0.1, False),
    ),
    ShapeKind.POINTER_UP: ((((0.0, -0.45), (0.45, 0.4), (-0.45, 0.4)), False, 0.0, True),),
    ShapeKind.POINTER_DOWN: ((((-0.45, -0.4), (0.45, -0.4), (0.0, 0.45)), False, 0.0, True),),
    ShapeKind.DISC: ((_ring(0.5), True, 0.0, True), (_ring(0.4), False, 0.0, True)),
    ShapeKind.SQUARE: (
        (_SQUARE, True, 0.0, True),
        (tuple((x * 0.75, y * 0.75) for x, y in _SQUARE), False, 0.16, True),
    ),
    ShapeKind.DIAMOND: (
        (_DIAMOND, True, 0.0, True),
        (tuple((x * 0.85, y * 0.85) for x, y in _DIAMOND), False, 0.0, True),
    ),
    ShapeKind.EARLIER: ((((-0.4, 0.0), (0.3, -0.42), (0.3, 0.42)), False, 0.0, True),),
    ShapeKind.LATER: ((((0.4, 0.0), (-0.3, -0.42), (-0.3, 0.42)), False, 0.0, True),),
}


def outline(shape: Shape) -> tuple[Outline, ...]:
    """The strokes of a shape in scene px, to be drawn in this order."""
    return tuple(
        Outline(
            tuple((shape.x + x * shape.size, shape.y + y * shape.size) for x, y in points),
            Role.PAPER if knocked_out else shape.role,
            width * shape.size,
            closed,
        )
        for points, knocked_out, width, closed in _FORMS[shape.kind]
    )
