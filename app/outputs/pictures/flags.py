"""Words on poles above a strip: each stands right of its pole, in a lane where neither words nor poles cross."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from app.outputs.pictures.layout import Paragraph, placed
from app.outputs.pictures.letters import text_width
from app.outputs.pictures.scene import Item, Line, Role, Shape, ShapeKind

_GAP = 8.0
_MARK = 11.0


@dataclass(frozen=True, slots=True)
class Flag:
    """A text for one place on the strip, with the marker that stands there, if any."""

    x: float
    text: Paragraph
    mark: ShapeKind | None = None
    part: str = ""

    @property
    def indent(self) -> float:
        """From the pole to the words, in px."""
        return 5.0 + (_MARK + 4 if self.mark else 0.0)

    def width(self, most: float) -> float:
        """How far it reaches right of its pole, in px; words break at `most`."""
        lines = self.text.lines(most)
        widths = (text_width(line, self.text.size, bold=self.text.bold) for line in lines)
        return self.indent + max(widths, default=0.0)

    def height(self, most: float) -> float:
        """Height of its words, in px."""
        return max(self.text.height(most), 14.0)


def lanes(flags: Sequence[Flag], most: float) -> tuple[int, ...]:
    """A lane for each flag, 0 next to the strip.

    A flag goes one lane above every flag whose pole it would stand in front of, so that a pole never runs through
    words. Flags are looked at from the right, hence each one only needs those already placed.
    """
    order = sorted(range(len(flags)), key=lambda place: (flags[place].x, -place), reverse=True)
    lane = [0] * len(flags)
    for position, place in enumerate(order):
        reach = flags[place].x + flags[place].width(most) + _GAP
        under = [lane[other] for other in order[:position] if flags[other].x <= reach]
        lane[place] = max(under, default=-1) + 1
    return tuple(lane)


def height(flags: Sequence[Flag], most: float) -> float:
    """Height of all lanes together, in px."""
    return sum(_lane_heights(flags, lanes(flags, most), most))


def _lane_heights(flags: Sequence[Flag], lane: Sequence[int], most: float) -> list[float]:
    return [
        max(flag.height(most) for flag, own in zip(flags, lane, strict=True) if own == number) + 5
        for number in range(max(lane, default=-1) + 1)
    ]


def raised(flags: Sequence[Flag], foot: float, most: float) -> Iterator[Item]:
    """The flags drawn, their poles standing on `foot`."""
    lane = lanes(flags, most)
    heights = _lane_heights(flags, lane, most)
    for flag, own in zip(flags, lane, strict=True):
        top = foot - 6 - sum(heights[: own + 1])
        yield Line(flag.x, top + 2, flag.x, foot, Role.QUIET)
        if flag.mark:
            yield Shape(flag.mark, flag.x + 5 + _MARK / 2, top + 8, _MARK, Role.INK)
        yield from placed(flag.text, flag.x + flag.indent, top, most, part=f"flag:{flag.part}")
