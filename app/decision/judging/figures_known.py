"""The figures of rule sets and house policy one by one, each with the kinds of kit that lean on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct

from app.decision.domain.limits import HousePolicy, Limit, RuleSet, TestInterval
from app.decision.judging.catalogues import catalogues

FROM_MEMORY = "M"
# Beginning of a house figure -> the house rule that reads it; the kinds are those the rule is asked of.
_READ_BY: Mapping[str, str] = {
    "clearance": "cuff-clearance", "derived-clearance-allowance": "cuff-clearance",
    "glove-size-step": "glove-fits-wearer", "tip": "tip-exposure",
    "altitude-if-silent": "altitude-within-mark", "leather": "protector-fits-class",
    "calibration-months": "calibration-in-date", "inspection-months": "inspection-in-date",
}  # fmt: skip


class FigureKnown(Struct, frozen=True):
    """One figure. `title`: of the set it stands in, "" for house policy.

    `kinds`: the kinds of kit that lean on it, () where it is of the work, the people or every kind.
    """

    figure: Limit | TestInterval
    title: str
    kinds: tuple[str, ...]

    @property
    def key(self) -> str:
        """The permanent key."""
        return self.figure.key

    @property
    def is_from_memory(self) -> bool:
        """Whether it waits for somebody to see it in print."""
        return self.figure.confidence == FROM_MEMORY


def figures_of(rule_sets: Iterable[RuleSet]) -> tuple[FigureKnown, ...]:
    """Every figure of these sets and of house policy, which goes with any of them; each once, in declared order."""
    known = catalogues()
    own = [figure for rule_set in rule_sets for figure in _of_set(rule_set, known.kinds)]
    return (*own, *_of_house(known.house))


def every_figure() -> Mapping[str, FigureKnown]:
    """Every figure this version has, by key."""
    return {figure.key: figure for figure in figures_of(catalogues().rule_sets.values())}


def _of_set(rule_set: RuleSet, kinds: Iterable[str]) -> Iterator[FigureKnown]:
    known = set(kinds)
    for whole, limit in rule_set.limits.items():
        own = whole.split("/")[0]
        yield FigureKnown(limit, rule_set.title, (own,) if own in known else _leaning(rule_set, whole, limit))
    for kind, intervals in rule_set.intervals.items():
        for interval in intervals:
            yield FigureKnown(interval, rule_set.title, (kind,))


def _leaning(rule_set: RuleSet, name: str, limit: Limit) -> tuple[str, ...]:
    """The kinds that read a shared figure: by class, class and length, where they are mended, or while on the shelf."""
    parts = name.split("/")
    if parts[0] == "current":
        tables = rule_set.tables.items()
        return tuple(kind for kind, table in tables if table.current and not table.prefix and parts[1] in table.classes)
    if len(parts) == 3:
        *what, one_class = parts
        return tuple(kind for kind in rule_set.tables if rule_set.class_limit(kind, one_class, *what) is limit)
    mended = [kind for kind, text in rule_set.repairs.items() if name in (text.place, text.least)]
    shelved = [
        kind for kind, clocks in rule_set.intervals.items() if any(interval.shelf == name for interval in clocks)
    ]
    return (*mended, *shelved)


def _of_house(house: HousePolicy) -> Iterator[FigureKnown]:
    for name, limit in house.limits.items():
        rule = _READ_BY.get(name.split("/")[0])
        yield FigureKnown(limit, "", tuple(kind for kind, rules in house.covers.items() if rule in rules))
