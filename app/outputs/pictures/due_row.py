"""One piece as one row: code and kind, a small strip, standing and last good day. For lists and the due sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from app.outputs.pictures.due_strip import ICONS, state_words, strip
from app.outputs.pictures.due_value import DueRibbon
from app.outputs.pictures.letters import shorten, text_width
from app.outputs.pictures.scene import Item, Role, Shape, Words
from app.outputs.pictures.time_scale import TimeScale

ROW_HEIGHT = 40.0
EDGE = 12.0
STRIP_WIDTH = 250.0
MOST_NAME = 220.0
MOST_STATUSES = 330.0
_STRIP = 16.0
_ICON = 18.0
_TEXT = 12.0
# Room beside the strip for the arrows of days that lie outside it.
_ARROW = 18.0


@dataclass(frozen=True, slots=True)
class Columns:
    """The x of each part of a row, in px, and the whole width."""

    strip_left: float
    strip_right: float
    words_left: float
    width: float

    @property
    def name_width(self) -> float:
        """Room for code and label."""
        return self.strip_left - _ARROW - EDGE


def columns(values: Sequence[DueRibbon]) -> Columns:
    """Columns wide enough for every row: days are never shortened, only names and standings beyond a bound."""
    names = [text_width(value.code, _TEXT, bold=True) for value in values]
    names += [text_width(value.label, _TEXT) for value in values]
    sentences = [text_width(state_words(value), _TEXT) for value in values]
    sentences += [min(MOST_STATUSES, text_width(value.status, _TEXT, bold=True)) for value in values]
    strip_left = EDGE + min(MOST_NAME, max(names, default=0.0) + 1) + _ARROW
    words_left = strip_left + STRIP_WIDTH + _ARROW + _ICON + 8
    return Columns(
        strip_left, strip_left + STRIP_WIDTH, words_left, words_left + max(sentences, default=0.0) + 1 + EDGE
    )


def row(value: DueRibbon, layout: Columns, scale: TimeScale, top: float) -> Iterator[Item]:
    """The items of one row that begins at `top` and is ROW_HEIGHT high."""
    upper, lower = top + 16, top + 32
    room = layout.width - EDGE - layout.words_left
    icon = ICONS[value.state]
    role = icon[1] if icon else Role.INK
    code = shorten(value.code, _TEXT, layout.name_width, bold=True)
    yield Words(code, EDGE, upper, _TEXT, bold=True)
    yield Words(shorten(value.label, _TEXT, layout.name_width), EDGE, lower, _TEXT, role=Role.QUIET)
    yield from strip(value, scale, top + (ROW_HEIGHT - _STRIP) / 2, _STRIP)
    if icon:
        yield Shape(icon[0], layout.words_left - 8 - _ICON / 2, top + ROW_HEIGHT / 2, _ICON, icon[1], part="state")
    standing = shorten(value.status, _TEXT, room, bold=True)
    yield Words(standing, layout.words_left, upper, _TEXT, bold=True, role=role)
    yield Words(state_words(value), layout.words_left, lower, _TEXT, role=role, part="state")
