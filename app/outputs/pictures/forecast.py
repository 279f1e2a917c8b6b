"""The forecast as a picture: a bar a month with its figure above it, what is overdue hatched and first."""

from __future__ import annotations

from collections.abc import Iterator

from app.outputs.pictures.letters import text_width
from app.outputs.pictures.scene import Box, Hatch, Item, Line, PaletteName, Role, Scene, Words
from app.words.saying import month_words, say

Months = tuple[tuple[int, int, int], ...]
PAD = 16.0
TALL = 96.0
_TITLE = 13.0
_HEAD = 40.0
_FOOT = 28.0


def forecast_picture(
    past: int,
    months: Months,
    later: int,
    undated: int,
    palette: PaletteName = "light",
    width: float = 760.0,
) -> Scene:
    """`months` are (year, month, how many); `width` in px. The description names every figure that is drawn.

    `later` and `undated` have no bar: they are told in words beside the title.
    """
    counts = (past, *(count for _, _, count in months))
    most = max((*counts, 1))
    wide = (width - 2 * PAD) / len(counts)
    title, aside = say("forecast.title", {}), say("forecast.aside", {"later": later, "undated": undated})
    beside = PAD + text_width(title, _TITLE, bold=True) + 14
    items: list[Item] = [
        Words(title, PAD, PAD + 8, _TITLE, bold=True),
        Words(aside, beside, PAD + 8, 12, role=Role.QUIET, part="aside"),
    ]
    floor = PAD + _HEAD + TALL
    names = (say("forecast.past", {}), *(month_words(year, month) for year, month, _ in months))
    for place, (name, count) in enumerate(zip(names, counts, strict=True)):
        left = PAD + place * wide
        items += _bar(left, wide, floor, TALL * count / most, count, name, is_past=place == 0)
    items.append(Line(PAD, floor, width - PAD, floor, Role.PLAIN))
    told = [say("forecast.bar", {"name": name, "count": count}) for name, count in zip(names, counts, strict=True)]
    description = say("forecast.described", {"told": told, "aside": aside})
    return Scene(width, floor + _FOOT, title, description, tuple(items), palette)


def _bar(  # what one bar is drawn from
    left: float, wide: float, floor: float, tall: float, count: int, name: str, *, is_past: bool
) -> Iterator[Item]:
    centre, broad = left + wide / 2, min(40.0, wide * 0.62)
    if count:
        where = (centre - broad / 2, floor - tall, broad, tall)
        if is_past:
            yield Hatch(*where, Role.SHORT, part="past")
        else:
            yield Box(*where, fill=Role.FIT, part=f"month:{name}")
    yield Words(str(count), centre, floor - tall - 5, 12, bold=True, anchor="middle", role=Role.INK)
    yield Words(name, centre, floor + 16, 10.5, anchor="middle", role=Role.SHORT if is_past else Role.QUIET)
