"""Stacking lines of words and moving labels apart, so that no two ever share a place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from app.outputs.pictures.letters import ASCENT, LINE, wrap
from app.outputs.pictures.scene import Anchor, Role, Words


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A text before it has a place: how it is written and how wide it may run, in px."""

    text: str
    size: float = 13.0
    bold: bool = False
    role: Role = Role.INK

    def lines(self, width: float) -> tuple[str, ...]:
        """Its lines when it may run `width` px wide."""
        return wrap(self.text, self.size, width, bold=self.bold)

    def height(self, width: float) -> float:
        """Height in px when it may run `width` px wide."""
        return len(self.lines(width)) * self.size * LINE


def placed(
    paragraph: Paragraph, x: float, top: float, width: float, *, anchor: Anchor = "start", part: str = ""
) -> tuple[Words, ...]:
    """The paragraph's lines with the first one's upper edge at `top`; `x` is where `anchor` holds."""
    step = paragraph.size * LINE
    first = top + ASCENT * paragraph.size
    return tuple(
        Words(text, x, first + step * row, paragraph.size, paragraph.bold, anchor, paragraph.role, part)
        for row, text in enumerate(paragraph.lines(width))
    )


def spread(wanted: Sequence[float], heights: Sequence[float], top: float) -> tuple[float, ...]:
    """Upper edges of blocks that would like to be centred at `wanted` (rising), none above `top`, none overlapping.

    Blocks that collide are pushed apart around their common middle; only `top` can push a group off that.
    """
    groups: list[tuple[list[int], float]] = []
    for place, centre in enumerate(wanted):
        members, edge = [place], max(top, centre - heights[place] / 2)
        while groups and groups[-1][1] + sum(heights[member] for member in groups[-1][0]) > edge:
            members = groups.pop()[0] + members
            edge = max(top, _group_edge(members, wanted, heights))
        groups.append((members, edge))
    edges = [0.0] * len(wanted)
    for members, edge in groups:
        down = edge
        for place in members:
            edges[place] = down
            down += heights[place]
    return tuple(edges)


def _group_edge(members: list[int], wanted: Sequence[float], heights: Sequence[float]) -> float:
    """The upper edge that keeps each member of the group as near its wish as the group allows, on average."""
    above, wishes = 0.0, 0.0
    for place in members:
        wishes += wanted[place] - heights[place] / 2 - above
        above += heights[place]
    return wishes / len(members)
