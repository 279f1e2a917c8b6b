"""Figures as the pages gather them: all of a set, by clause and by letter."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from itertools import groupby

from app.decision.domain.limits import HousePolicy, Limit, RuleSet
from app.outputs.documents.figure_words import Named, kind_words, of_clock, of_limit
from app.words.saying import listed, say

LETTERS = "PSTMHD"


def every_figure(rule_set: RuleSet) -> tuple[Named, ...]:
    """Every limit and every clock of a set, in the order of its declaration."""
    clocks = (one for intervals in rule_set.intervals.values() for one in intervals)
    return (*(of_limit(one) for one in rule_set.limits.values()), *(of_clock(one) for one in clocks))


def house_figures(house: HousePolicy) -> tuple[Named, ...]:
    """Every figure of house policy."""
    return tuple(of_limit(one) for one in house.limits.values())


def some_kinds(kinds: Collection[str], of: Collection[str]) -> str:
    """Kinds in a row; in one word where they are all of several."""
    if len(of) > 2 and set(kinds) == set(of):
        return say("pages.every-kind", {"count": len(of)})
    return kind_words(kinds)


def by_clause(limits: Iterable[Limit]) -> tuple[tuple[str, str], ...]:
    """Where these figures stand: each clause once, with the letters it carries.

    >>> by_clause([Limit("a", 1, "mV", "Table 1", "P"), Limit("b", 1, "mV", "Table 1", "M")])
    (('Table 1', 'P; M where it stands beside a figure'),)
    """
    found: dict[str, list[str]] = {}
    for one in limits:
        found.setdefault(one.clause, []).append(one.confidence)
    return tuple((clause, _letters(letters)) for clause, letters in found.items())


def _letters(letters: list[str]) -> str:
    """The usual letter; the others stand beside their figures."""
    usual, *others = sorted(dict.fromkeys(letters), key=letters.count, reverse=True)
    return usual if not others else say("pages.letters.mixed", {"usual": usual, "others": listed(others)})


def usual_letter(limits: Iterable[Limit]) -> str:
    """The letter most of these figures carry; of equally many the one that stands first."""
    letters = [one.confidence for one in limits]
    return max(dict.fromkeys(letters), key=letters.count, default="")


def legend(letters: Iterable[str]) -> str:
    """What the letters mean that a page uses."""
    there = set(letters)
    used = [letter for letter in LETTERS if letter in there]
    return say("pages.letters", {"letters": "; ".join(say("pages.letter", {"letter": one}) for one in used)})


def counted(letters: Iterable[str]) -> tuple[tuple[str, int], ...]:
    """How many figures carry each letter."""
    inside = sorted(letters, key=LETTERS.index)
    return tuple((letter, len(list(group))) for letter, group in groupby(inside))
