"""A picture as values: what stands where, in scene pixels, with colours named by the part they play.

Coordinates are floats in px, x to the right and y downwards from the top left corner. A painter resolves a `Role`
through `PALETTES[scene.palette]` and draws the items in the order given; nothing here knows a toolkit or a file.

>>> Words("914.76 V", 10, 20, 13).box().right > 60
True
>>> round(contrast("#000000", "#ffffff"), 1)
21.0
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from itertools import count
from math import ceil
from typing import Literal, NamedTuple

from msgspec import Struct
from msgspec.structs import force_setattr

from app.outputs.pictures.colours import MEANING_ROLES, PALETTES, TEXT_ROLES, PaletteName, Role
from app.outputs.pictures.letters import ASCENT, DESCENT, clean, text_width

__all__ = [
    "MEANING_ROLES", "PALETTES", "TEXT_ROLES", "Anchor", "Area", "Box", "Hatch", "Item", "Line", "PaletteName", "Role",
    "Scene", "Shape", "ShapeKind", "Words", "contrast", "luminance",
]  # fmt: skip

Anchor = Literal["start", "middle", "end"]


class ShapeKind(StrEnum):
    """Icons and markers. Each is told from the others by its form alone, in one colour and at 12 px."""

    TICK = "tick"
    CROSS = "cross"
    QUESTION = "question"
    CLOCK = "clock"
    POINTER_UP = "pointer-up"
    POINTER_DOWN = "pointer-down"
    DISC = "disc"
    SQUARE = "square"
    DIAMOND = "diamond"
    EARLIER = "earlier"
    LATER = "later"


class Area(NamedTuple):
    """A rectangle by its edges, in px."""

    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: Area) -> bool:
        """Whether the two share more than an edge."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )


class Box(Struct, frozen=True):
    """A plain rectangle, filled, outlined or both. `part` names what it stands for ("bar:GL-0012"), else empty."""

    x: float
    y: float
    width: float
    height: float
    fill: Role | None = None
    stroke: Role | None = None
    stroke_width: float = 1.5
    dashed: bool = False
    part: str = ""


class Line(Struct, frozen=True):
    """A straight line of `width` px."""

    x1: float
    y1: float
    x2: float
    y2: float
    role: Role = Role.INK
    width: float = 1.0
    dashed: bool = False
    part: str = ""


class Hatch(Struct, frozen=True):
    """An outlined rectangle filled with slanting strokes; `pitch` is the distance of the strokes along x in px."""

    x: float
    y: float
    width: float
    height: float
    role: Role
    pitch: float = 8.0
    rising: bool = True
    part: str = ""

    def strokes(self) -> Iterator[tuple[float, float, float, float]]:
        """Every stroke as (x1, y1, x2, y2), cut at the rectangle; strokes fall or rise at 45 degrees."""
        reach = self.width + self.height
        for step in count(1):
            offset = step * self.pitch - self.pitch / 2
            if offset >= reach:
                return
            near, far = max(0.0, offset - self.height), min(self.width, offset)
            low, high = offset - near, offset - far
            if self.rising:
                yield (self.x + near, self.y + low, self.x + far, self.y + high)
            else:
                bottom = self.y + self.height
                yield (self.x + near, bottom - low, self.x + far, bottom - high)


class Words(Struct, frozen=True):
    """One line of text on the baseline `y`. Control and direction characters are replaced when the value is made."""

    text: str
    x: float
    y: float
    size: float = 13.0
    bold: bool = False
    anchor: Anchor = "start"
    role: Role = Role.INK
    part: str = ""

    def __post_init__(self) -> None:
        """Keep what is measured, shown and exported one and the same string."""
        force_setattr(self, "text", clean(self.text))

    def box(self) -> Area:
        """The room the line takes, from the shipped font's advances, ascent and descent."""
        wide = text_width(self.text, self.size, bold=self.bold)
        left = self.x - {"start": 0.0, "middle": wide / 2, "end": wide}[self.anchor]
        return Area(left, self.y - ASCENT * self.size, left + wide, self.y + DESCENT * self.size)


class Shape(Struct, frozen=True):
    """An icon centred on (x, y), `size` px wide and high."""

    kind: ShapeKind
    x: float
    y: float
    size: float
    role: Role
    part: str = ""

    def box(self) -> Area:
        """The square it is drawn in."""
        half = self.size / 2
        return Area(self.x - half, self.y - half, self.x + half, self.y + half)


Item = Box | Line | Hatch | Words | Shape


class Scene(Struct, frozen=True):
    """A whole picture. `title` and `description` say in words all that the drawing says, for who does not see it."""

    width: float
    height: float
    title: str
    description: str
    items: tuple[Item, ...]
    palette: PaletteName = "light"

    def __post_init__(self) -> None:
        """Whole px, so that scale 1 and 2 give sharp edges; and the same replacements as in `Words`."""
        force_setattr(self, "width", float(ceil(self.width)))
        force_setattr(self, "height", float(ceil(self.height)))
        force_setattr(self, "title", clean(self.title))
        force_setattr(self, "description", clean(self.description))

    def words(self) -> tuple[Words, ...]:
        """Every line of text, in drawing order."""
        return tuple(item for item in self.items if isinstance(item, Words))

    def parts(self, part: str) -> tuple[Item, ...]:
        """Every item that carries this part name."""
        return tuple(item for item in self.items if item.part == part)


def luminance(colour: str) -> float:
    """Relative luminance of "#rrggbb", 0 to 1. Source: WCAG 2.2, definition of relative luminance."""
    channels = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4 for value in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(first: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21. Source: WCAG 2.2, definition of contrast ratio."""
    low, high = sorted((luminance(first), luminance(other)))
    return (high + 0.05) / (low + 0.05)
