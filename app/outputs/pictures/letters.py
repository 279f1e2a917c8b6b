r"""How wide words are in the shipped font, and how they are broken into lines, without any toolkit.

Kerning is left out: painters switch it off or it only draws pairs together. A letter the table does not know is taken
as wider than any common substitute font would draw it, so that a strange script may leave a gap but never runs out.

>>> wrap("insulating gloves", 12, 80)
('insulating', 'gloves')
>>> wrap("unbreakablename", 12, 50)
('unbreak', 'ablena', 'me')
>>> clean("a\x1bb")
'a\ufffdb'
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache

from app.outputs.pictures.advances import RUNS, UNITS_PER_EM

ASCENT = 1901 / UNITS_PER_EM
DESCENT = 483 / UNITS_PER_EM
LINE = 1.3
"""Distance of baselines as a multiple of the size; more than ascent and descent together."""

UNKNOWN_ADVANCE = 1.3
NO_BREAK = "\u00a0\u202f"
"""Blanks that keep a figure and its unit on one line."""

ELLIPSIS = "\u2026"
_FIGURE = re.compile(r" (?=[0-9]{1,2}(?![0-9]))")
_REPLACED = "\ufffd"
# Marks that reverse or hide the running direction let a hostile label show another figure than it holds.
_DIRECTION = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


@cache
def _advances(*, bold: bool) -> dict[str, float]:
    table: dict[str, float] = {}
    for first, book, heavy in RUNS:
        for step, units in enumerate(heavy if bold else book):
            table[chr(first + step)] = units / UNITS_PER_EM
    return table


def clean(text: str) -> str:
    """The text on one line: white space as blanks, control, direction and unpaired characters replaced."""
    shown = "".join(" " if letter.isspace() and letter not in NO_BREAK else letter for letter in text)
    return "".join(_REPLACED if _is_unfit(letter) else letter for letter in shown)


def bound(text: str) -> str:
    r"""The text with each figure of one or two digits held to the word before it, as in "class 0" or "size 10".

    >>> bound("gloves class 0, size 10")
    'gloves class\xa00, size\xa010'
    """
    return _FIGURE.sub(NO_BREAK[0], text)


def _is_unfit(letter: str) -> bool:
    if letter in _DIRECTION or unicodedata.category(letter) in {"Cc", "Cs", "Cn", "Co"}:
        return True
    return ord(letter) & 0xFFFE == 0xFFFE


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Width of one line in px at `size` px."""
    table = _advances(bold=bold)
    ems = 0.0
    for letter in text:
        known = table.get(letter)
        if known is not None:
            ems += known
        elif unicodedata.category(letter) not in {"Mn", "Me", "Cf"}:
            ems += UNKNOWN_ADVANCE
    return ems * size


def wrap(text: str, size: float, width: float, *, bold: bool = False, lines: int = 12) -> tuple[str, ...]:
    """Lines no wider than `width` px, broken at blanks, inside a word only where it does not fit a line alone.

    More than `lines` lines: the last ends in an ellipsis, and the caller says the whole text in the description.
    A single letter wider than `width` stands alone on its line. Empty text: no line.
    """
    broken: list[str] = []
    current = ""
    for word in _pieces(clean(text), size, width, bold=bold):
        joined = f"{current} {word}" if current else word
        if current and text_width(joined, size, bold=bold) > width:
            broken.append(current)
            current = word
        else:
            current = joined
    if current:
        broken.append(current)
    if len(broken) > lines:
        broken = [*broken[: lines - 1], shorten(" ".join(broken[lines - 1 :]), size, width, bold=bold)]
    return tuple(broken)


def _pieces(text: str, size: float, width: float, *, bold: bool) -> list[str]:
    pieces: list[str] = []
    for word in text.split(" "):
        rest = word
        while text_width(rest, size, bold=bold) > width and len(rest) > 1:
            cut = _fitting(rest, size, width, bold=bold)
            pieces.append(rest[:cut])
            rest = rest[cut:]
        pieces.append(rest)
    return [piece for piece in pieces if piece]


def _fitting(text: str, size: float, width: float, *, bold: bool) -> int:
    """How many letters from the start fit; at least one."""
    taken, length = 0.0, 0
    for letter in text:
        taken += text_width(letter, size, bold=bold)
        if taken > width:
            break
        length += 1
    return max(1, length)


def shorten(text: str, size: float, width: float, *, bold: bool = False) -> str:
    """One line no wider than `width` px, ended by an ellipsis where something is left out."""
    whole = " ".join(piece for piece in clean(text).split(" ") if piece)
    if text_width(whole, size, bold=bold) <= width:
        return whole
    room = width - text_width(ELLIPSIS, size, bold=bold)
    return whole[: _fitting(whole, size, room, bold=bold)].rstrip() + ELLIPSIS
