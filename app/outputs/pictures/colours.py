"""The colours of pictures and window, named by the part they play; light and dark.

Apart from the scenes, because a window paints in these colours before it has loaded anything that is drawn.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Literal

PaletteName = Literal["light", "dark"]


class Role(StrEnum):
    """The part a colour plays; the same part has another colour in each palette."""

    PAPER = "paper"
    INK = "ink"
    QUIET = "quiet"
    GRID = "grid"
    BAND = "band"
    FIT = "fit"
    SHORT = "short"
    WARN = "warn"
    PLAIN = "plain"


TEXT_ROLES = (Role.INK, Role.QUIET, Role.FIT, Role.SHORT, Role.WARN)
"""Roles in which words may be written; each has a contrast of 4.5 or more against the paper (WCAG 2.2, 1.4.3)."""

MEANING_ROLES = (Role.INK, Role.QUIET, Role.FIT, Role.SHORT, Role.WARN, Role.PLAIN)
"""Roles that carry meaning as a form; each has 3.0 or more against paper and band (WCAG 2.2, 1.4.11)."""

PALETTES: Mapping[PaletteName, Mapping[Role, str]] = {
    "light": {
        Role.PAPER: "#ffffff",
        Role.INK: "#16202a",
        Role.QUIET: "#4a5763",
        Role.GRID: "#d5dbe1",
        Role.BAND: "#e4e9ef",
        Role.FIT: "#1459a5",
        Role.SHORT: "#b04300",
        Role.WARN: "#7a5c00",
        Role.PLAIN: "#71808e",
    },
    "dark": {
        Role.PAPER: "#14191f",
        Role.INK: "#eef2f6",
        Role.QUIET: "#aab6c2",
        Role.GRID: "#343e48",
        Role.BAND: "#28323c",
        Role.FIT: "#6db1f5",
        Role.SHORT: "#ff9d52",
        Role.WARN: "#e2c04f",
        Role.PLAIN: "#8493a1",
    },
}

CLASS_COLOURS: Mapping[str, tuple[str, str]] = {
    "00": ("beige", "#d9c39a"), "0": ("red", "#c62828"), "1": ("white", "#ffffff"), "2": ("yellow", "#f2c500"),
    "3": ("green", "#2e7d32"), "4": ("orange", "#ef6c00"),
}  # fmt: skip
"""Label colour of a class as it is printed on the glove, name and tint; seen in secondary texts (S)."""
