"""Many pieces under one time axis, for a list of what is overdue or falls due."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from app.outputs.pictures.due_ribbon import SMALL_REACH_DAYS, described
from app.outputs.pictures.due_row import EDGE, ROW_HEIGHT, Columns, columns, row
from app.outputs.pictures.due_value import DueRibbon
from app.outputs.pictures.layout import Paragraph, placed
from app.outputs.pictures.scene import Item, Line, PaletteName, Role, Scene
from app.outputs.pictures.time_scale import axis, time_scale
from app.words.saying import say

MOST_ROWS = 40
LEAST_WIDTH = 600.0


@dataclass(frozen=True, slots=True)
class DueSheet:
    """A heading, the day it is told for, and the pieces in the order in which they are to stand."""

    heading: str
    today: date
    rows: tuple[DueRibbon, ...]


def due_sheet(value: DueSheet, palette: PaletteName = "light") -> Scene:
    """The picture of at most MOST_ROWS rows; it says how many are left out."""
    shown, left_out = value.rows[:MOST_ROWS], len(value.rows) - MOST_ROWS
    layout = columns(shown)
    width = max(LEAST_WIDTH, layout.width)
    layout = Columns(layout.strip_left, layout.strip_right, layout.words_left, width)
    key = say("due-sheet.key", {"day": value.today, "count": len(shown)})
    notes = [say("due-sheet.left-out", {"count": left_out})] if left_out > 0 else []
    items: list[Item] = []
    down = EDGE
    for paragraph in (
        Paragraph(value.heading, 16, bold=True),
        Paragraph(key, 12, role=Role.QUIET),
        Paragraph(say("due-sheet.stretches", {}), 12, role=Role.QUIET),
        *(Paragraph(note, 13, bold=True, role=Role.SHORT) for note in notes),
        *(() if shown else (Paragraph(say("due-sheet.empty", {}), 13),)),
    ):
        items += placed(paragraph, EDGE, down, width - 2 * EDGE)
        down += paragraph.height(width - 2 * EDGE) + 4
    if shown:
        drawn, down = _rows(value, shown, layout, down + 6)
        items += drawn
    headings = (say("picture.sentence", {"says": words}) for words in (value.heading, key))
    sentences = [*headings, *notes, *(described(ribbon) for ribbon in shown)]
    return Scene(width, down + EDGE, value.heading, " ".join(sentences), tuple(items), palette)


def _rows(value: DueSheet, shown: tuple[DueRibbon, ...], layout: Columns, top: float) -> tuple[list[Item], float]:
    """The rows between two axes, so that a long sheet can be read from either end; with the y of their end."""
    days = [day for ribbon in shown for day in ribbon.days()] + [value.today]
    scale = time_scale(days, layout.strip_left, layout.strip_right, around=value.today, reach=SMALL_REACH_DAYS)
    items: list[Item] = list(axis(scale, top))
    down = top + 24
    for ribbon in shown:
        items.append(Line(EDGE, down, layout.width - EDGE, down, Role.GRID))
        items += row(ribbon, layout, scale, down)
        down += ROW_HEIGHT
    items += axis(scale, down + 4)
    return items, down + 26
