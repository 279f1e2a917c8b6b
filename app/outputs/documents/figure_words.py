"""A figure of a rule set or of house policy in words: what it is, its value with its unit, a clock's months."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce

from msgspec import Struct

from app.decision.domain.limits import Limit, TestInterval
from app.words.catalogue import CATALOGUE
from app.words.saying import listed, number, say
from app.words.vocabulary import EVERYTHING, KINDS

# What stands in a key and has a word of its own.
_WORD_TABLES = (KINDS, EVERYTHING["material"])
_CLASSES = ["00", "0", "1", "2", "3", "4"]
# unit -> parts of it in what people read, and that unit: a symbol, or the word of a message
UNITS: dict[str, tuple[int, str]] = {
    "mV": (1000, "V"), "uA": (1000, "mA"), "um": (1000, "mm"), "mm": (1, "mm"), "m": (1, "m"), "s": (1, "s"),
    "months": (1, "months"), "years": (1, "years"), "mcal/cm2": (1000, "cal/cm2"), "0.01": (100, "times"),
    "0.01 in": (100, "in"),
}  # fmt: skip


class Named(Struct, frozen=True):
    """One figure ready to be shown."""

    key: str
    words: str
    value: str
    clause: str
    letter: str


def of_limit(limit: Limit) -> Named:
    """A limit in words."""
    return Named(limit.key, what(limit.key), value_words(limit), limit.clause, limit.confidence)


def of_clock(interval: TestInterval) -> Named:
    """A retest clock in words: its months, and whom it is for where the set says so."""
    clocks = (never_words(interval), between_words(interval), reused_words(interval))
    value = reduce(_then, dict.fromkeys(clocks))
    if interval.classes or interval.material:
        value = say("figure-of.clock.only", {"value": value, "only": only_for(interval)})
    return Named(interval.key, what(interval.key), value, interval.clause, interval.confidence)


def what(key: str) -> str:
    """What a figure is, from its permanent key; the key itself where no words stand for it.

    >>> what("us-osha-137/use/dc/00"), what("iec-60903-2014/insulating-matting/retest/ac/1")
    ('maximum use voltage DC, class 00', 'insulating matting: retest voltage AC, class 1')
    """
    parts = tuple(_word(part) for part in key.split("/")[1:])
    filled = _filled(parts)
    if filled is None and parts and parts[0] in KINDS.values():
        rest = _filled(parts[1:])
        filled = None if rest is None else say("figure-of.of-kind", {"kind": parts[0], "what": rest})
    return key if filled is None else filled


def _then(first: str, then: str) -> str:
    return say("figure-of.clock.then", {"first": first, "then": then})


def _word(part: str) -> str:
    return next((words[part] for words in _WORD_TABLES if part in words), part)


def _filled(parts: tuple[str, ...]) -> str | None:
    """The words of the pattern that fits best: the one with the fewest stars."""
    fitting = []
    for pattern, words in EVERYTHING["figure-of"].items():
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
        return say("figure-of.dash", {})
    unit = UNITS[limit.unit][1]
    if f"unit.{unit}" in CATALOGUE:
        return say(f"unit.{unit}", {"count": limit.value, "number": figure(limit)})
    return f"{figure(limit)} {unit}"


def figure(limit: Limit) -> str:
    """The value alone, in the unit people read."""
    return number(limit.value / UNITS[limit.unit][0], 3)


def never_words(interval: TestInterval) -> str:
    """The clock of a piece never issued."""
    return _months(interval.never)


def reused_words(interval: TestInterval) -> str:
    """The clock of a piece tested again in use."""
    return _months(interval.reused)


def between_words(interval: TestInterval) -> str:
    """The clock of a piece first issued after its test."""
    if interval.between == "capped" and interval.reused >= interval.never:
        # Issued after its test, so the months from the test run out first.
        return never_words(interval)
    if interval.between == "capped":
        return say("figure-of.clock.capped", {"reused": interval.reused, "never": interval.never})
    return _months(interval.between)


def _months(months: int) -> str:
    return say("figure-of.clock.months", {"count": months, "months": months})


def only_for(interval: TestInterval) -> str:
    """The classes or the material a clock is asked of."""
    parts = []
    if interval.classes:
        parts.append(class_words(interval.classes))
    if interval.material is not None:
        parts.append(say("figure-of.clock.material", {"material": interval.material}))
    return listed(parts) or say("figure-of.clock.every", {})


def class_words(classes: Iterable[str]) -> str:
    """Classes in a row, as people say them.

    >>> class_words(["00", "0", "1", "2"]), class_words(["3", "4"]), class_words(["0"])
    ('classes 00 to 2', 'classes 3 and 4', 'class 0')
    """
    names = list(classes)
    if len(names) == 1:
        return say("figure-of.class.one", {"name": names[0]})
    if len(names) > 2 and names == _CLASSES[_CLASSES.index(names[0]) :][: len(names)]:
        return say("figure-of.class.range", {"first": names[0], "last": names[-1]})
    return say("figure-of.class.several", {"names": listed(names)})


def kind_words(kinds: Iterable[str]) -> str:
    """Kinds in a row, in the trade's words."""
    return listed(KINDS[kind] for kind in kinds)
