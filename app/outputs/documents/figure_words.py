"""A figure of a rule set or of house policy in words: what it is, its value with its unit, a clock's months."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from itertools import groupby

from msgspec import Struct

from app.decision.domain.limits import HousePolicy, Limit, RuleSet, TestInterval
from app.words.rule_page_sentences import FIGURE_WORDS
from app.words.saying import listed, number, say
from app.words.vocabulary import KINDS

LETTERS = "PSTMHD"
_CLASSES = ["00", "0", "1", "2", "3", "4"]
# unit -> parts of it in what people read, and how that is written
UNITS: dict[str, tuple[int, str]] = {
    "mV": (1000, " V"), "uA": (1000, " mA"), "um": (1000, " mm"), "mm": (1, " mm"), "m": (1, " m"), "s": (1, " s"),
    "months": (1, " months"), "years": (1, " years"), "mcal/cm2": (1000, " cal/cm2"), "0.01": (100, " times"),
    "0.01 in": (100, " in"),
}  # fmt: skip


class Named(Struct, frozen=True):
    """One figure ready to be shown."""

    key: str
    words: str
    value: str
    clause: str
    letter: str


def every_figure(rule_set: RuleSet) -> tuple[Named, ...]:
    """Every limit and every clock of a set, in the order of its declaration."""
    clocks = (one for intervals in rule_set.intervals.values() for one in intervals)
    return (*(of_limit(one) for one in rule_set.limits.values()), *(of_clock(one) for one in clocks))


def house_figures(house: HousePolicy) -> tuple[Named, ...]:
    """Every figure of house policy."""
    return tuple(of_limit(one) for one in house.limits.values())


def of_limit(limit: Limit) -> Named:
    """A limit in words."""
    return Named(limit.key, what(limit.key), value_words(limit), limit.clause, limit.confidence)


def of_clock(interval: TestInterval) -> Named:
    """A retest clock in words: its months, and whom it is for where the set says so."""
    said = (never_words(interval), between_words(interval), reused_words(interval))
    only = f" ({only_for(interval)})" if interval.classes or interval.material else ""
    value = "; ".join(dict.fromkeys(said)) + only
    return Named(interval.key, what(interval.key), value, interval.clause, interval.confidence)


def what(key: str) -> str:
    """What a figure is, from its permanent key; the key itself where no words stand for it.

    >>> what("us-osha-137/use/dc/00"), what("iec-60903-2014/insulating-matting/retest/ac/1")
    ('maximum use voltage DC, class 00', 'insulating matting: retest voltage AC, class 1')
    """
    parts = tuple(KINDS.get(part, part) for part in key.split("/")[1:])
    found = _filled(parts)
    if found is None and parts and parts[0] in KINDS.values():
        rest = _filled(parts[1:])
        found = None if rest is None else f"{parts[0]}: {rest}"
    return key if found is None else found


def _filled(parts: tuple[str, ...]) -> str | None:
    """The words of the pattern that fits best: the one with the fewest stars."""
    fitting = []
    for pattern, words in FIGURE_WORDS.items():
        wanted = pattern.split("/")
        if len(wanted) == len(parts) and all(mark in ("*", part) for mark, part in zip(wanted, parts, strict=True)):
            fitting.append((wanted.count("*"), words.format(*_starred(wanted, parts))))
    return min(fitting)[1] if fitting else None


def _starred(wanted: Iterable[str], parts: Iterable[str]) -> list[str]:
    return [part for mark, part in zip(wanted, parts, strict=True) if mark == "*"]


def value_words(limit: Limit) -> str:
    """The value with its unit; a statement has none.

    >>> value_words(Limit("s/x", 249_999, "mV", "c", "P"))
    '249.999 V'
    """
    if limit.unit == "statement":
        return say("pages.dash", {})
    return figure(limit) + UNITS[limit.unit][1]


def figure(limit: Limit) -> str:
    """The value alone, in the unit people read."""
    return number(limit.value / UNITS[limit.unit][0], 3)


def never_words(interval: TestInterval) -> str:
    """The clock of a piece never issued."""
    return say("pages.clock.months", {"months": interval.never})


def reused_words(interval: TestInterval) -> str:
    """The clock of a piece tested again in use."""
    return say("pages.clock.months", {"months": interval.reused})


def between_words(interval: TestInterval) -> str:
    """The clock of a piece first issued after its test."""
    if interval.between == "capped" and interval.reused >= interval.never:
        # Issued after its test, so the months from the test run out first.
        return never_words(interval)
    if interval.between == "capped":
        return say("pages.clock.capped", {"reused": interval.reused, "never": interval.never})
    return say("pages.clock.months", {"months": interval.between})


def only_for(interval: TestInterval) -> str:
    """The classes or the material a clock is asked of."""
    said = []
    if interval.classes:
        said.append(class_words(interval.classes))
    if interval.material is not None:
        said.append(say("pages.clock.material", {"material": interval.material}))
    return ", ".join(said) or say("pages.clock.every", {})


def class_words(classes: Iterable[str]) -> str:
    """Classes in a row, as people say them.

    >>> class_words(["00", "0", "1", "2"]), class_words(["3", "4"]), class_words(["0"])
    ('classes 00 to 2', 'classes 3 and 4', 'class 0')
    """
    names = list(classes)
    if len(names) == 1:
        return say("pages.class.one", {"name": names[0]})
    if len(names) > 2 and names == _CLASSES[_CLASSES.index(names[0]) :][: len(names)]:
        return say("pages.class.range", {"first": names[0], "last": names[-1]})
    return say("pages.class.several", {"names": listed(names)})


def kind_words(kinds: Iterable[str]) -> str:
    """Kinds in a row, in the trade's words."""
    return listed(KINDS[kind] for kind in kinds)


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
