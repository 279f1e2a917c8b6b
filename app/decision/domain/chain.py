"""Measurement categories and what a chain of meter, lead, tip and cap offers.

A mark is a set of (category, volts). A member offers at category c the largest volts among its pairs with category
at or above c; volts are never carried to another category; a chain offers what its weakest member does.

>>> offers((Mark("III", 1_000_000), Mark("IV", 600_000)), "III")
1000000
>>> offers((Mark("IV", 600_000),), "III")
600000
>>> offers((Mark("II", 1_000_000),), "III")
0
"""

from __future__ import annotations

from msgspec import Struct

CATEGORIES = ("II", "III", "IV")
OLD_CATEGORIES = ("I", "O")
UNLABELLED = "I"


class Mark(Struct, frozen=True):
    """One printed pair: measurement category and volts (mV)."""

    category: str
    mv: int


class Fuse(Struct, frozen=True):
    """A fuse in a lead or an instrument; None is not stated."""

    mv: int | None = None
    is_ac_only: bool | None = None
    kind: str | None = None


def rank(category: str) -> int:
    """Order of categories; an old unlabelled one ranks below CAT II and so offers nothing."""
    return CATEGORIES.index(category) if category in CATEGORIES else -1


def offers(marks: tuple[Mark, ...], category: str) -> int:
    """Largest mV among the pairs at or above `category`; 0 where there is none."""
    wanted = rank(category)
    return max((mark.mv for mark in marks if rank(mark.category) >= wanted >= 0), default=0)


class Member(Struct, frozen=True):
    """One member as it is used: its cap-on or only marks, its cap-off marks, and the state of its caps.

    `marks` None: illegible or not stated. `caps` None: the thing has no caps.
    """

    code: str
    marks: tuple[Mark, ...] | None
    marks_cap_off: tuple[Mark, ...] | None = None
    caps: str | None = None

    def offer(self, category: str, needed_mv: int = 0) -> int | None:
        """Volts (mV) at `category`; None is "cannot tell".

        Caps unknown: the cap-off mark counts, and where it falls short of `needed_mv` and the cap-on mark would
        reach, nobody can tell.
        """
        if self.caps is None or self.caps == "present":
            return None if self.marks is None else offers(self.marks, category)
        bare = None if self.marks_cap_off is None else offers(self.marks_cap_off, category)
        if self.caps == "missing":
            return bare
        return self._with_unknown_caps(bare, category, needed_mv)

    def _with_unknown_caps(self, bare: int | None, category: str, needed_mv: int) -> int | None:
        if bare is not None and bare >= needed_mv:
            return bare
        capped = None if self.marks is None else offers(self.marks, category)
        if capped is None or capped >= needed_mv:
            return None
        return capped if bare is None else bare
