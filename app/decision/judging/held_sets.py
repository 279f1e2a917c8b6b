"""Each set held against itself at start-up: a figure missing, out of range or under a strange key stops the program.

A figure that is silently not there would be "cannot tell" for every kit, and one out of range could issue one.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping

from app.decision.domain.declarations import Kind
from app.decision.domain.errors import ProgramFault
from app.decision.domain.limits import ClassTable, HousePolicy, Limit, RuleSet, TestInterval

# unit -> least and most that a figure of this field can be: a slip of a digit or a unit falls outside
_RANGES: Mapping[str, tuple[int, int]] = {
    "mV": (100_000, 70_000_000),
    "uA": (1_000, 30_000),
    "s": (10, 600),
    "um": (100, 200_000),
    "mm": (100, 2_000),
    "m": (100, 10_000),
    "months": (1, 60),
    "years": (1, 30),
    "mcal/cm2": (1_000, 100_000),
    "0.01": (100, 300),
    "0.01 in": (1, 500),
    "statement": (0, 0),
}
_LETTERS = frozenset("PSTMDH")
_OFFERS = ("figures_required", "without_protectors_reading", "dielectric_exempt_00_0")
_BY_CLASS = "insulation-class-stands-voltage"
NO_DC = "set.no-dc-limits"


def hold(rule_set: RuleSet, kinds: Mapping[str, Kind]) -> None:
    """Raise ProgramFault naming the set's file, the key and what is wrong; the next step stands with its sentence."""
    for name, limit in rule_set.limits.items():
        if limit.key != f"{rule_set.key}/{name}":
            raise _fault("catalogue.limit-key", rule_set, limit.key)
        _hold_limit(limit, file_of(rule_set))
    for kind, intervals in rule_set.intervals.items():
        if kind not in rule_set.covers:
            raise _fault("catalogue.interval-of-uncovered", rule_set, kind)
        for interval in intervals:
            _hold_interval(rule_set, interval)
    for key in rule_set.offers:
        if key not in _OFFERS:
            raise _fault("catalogue.offer-unknown", rule_set, key)
    for missing in _missing(rule_set, kinds):
        raise _fault("catalogue.limit-missing", rule_set, missing)


def hold_house(house: HousePolicy) -> None:
    """The same of house policy's own figures."""
    for limit in house.limits.values():
        _hold_limit(limit, "app/decision/rulesets/house.py")


def file_of(rule_set: RuleSet) -> str:
    """Where the set is declared: by the recipe, a file named after its key."""
    return f"app/decision/rulesets/sets/{rule_set.key.replace('-', '_')}.py"


def _fault(key: str, rule_set: RuleSet, thing: str) -> ProgramFault:
    return ProgramFault(key, file=file_of(rule_set), thing=thing, name=rule_set.key)


def _hold_limit(limit: Limit, file: str) -> None:
    least, most = _RANGES.get(limit.unit, (1, 0))
    if not least <= limit.value <= most:
        raise ProgramFault("catalogue.limit-range", file=file, thing=limit.key, value=limit.value, unit=limit.unit)
    if limit.confidence not in _LETTERS or not limit.clause:
        raise ProgramFault("catalogue.limit-source", file=file, thing=limit.key)


def _hold_interval(rule_set: RuleSet, interval: TestInterval) -> None:
    least, most = _RANGES["months"]
    months = [interval.never, interval.reused]
    if isinstance(interval.between, int):
        months.append(interval.between)
    if not all(least <= month <= most for month in months):
        raise _fault("catalogue.limit-range", rule_set, interval.key)
    if interval.confidence not in _LETTERS or not interval.clause or not interval.key:
        raise _fault("catalogue.limit-source", rule_set, interval.key or "interval")


def _missing(rule_set: RuleSet, kinds: Mapping[str, Kind]) -> Iterator[str]:
    """Keys of figures that a covered kind needs and the set neither has nor says it does not print."""
    # A current limit stands under its class, or under class and length.
    rows = {*rule_set.limits, *(key.rpartition("/")[0] for key in rule_set.limits)}
    for kind, rules in rule_set.covers.items():
        if _BY_CLASS not in rules or kind not in kinds:
            continue
        table = rule_set.tables.get(kind)
        if table is None:
            yield f"tables: {kind}"
            continue
        yield from _missing_by_class(rule_set, kind, table, rows)
        text = rule_set.repairs.get(kind)
        needed = (table.leans_on, *((text.place, text.least) if text is not None else ()))
        yield from (key for key in needed if key and key not in rule_set.limits)
    if "dielectric_exempt_00_0" in rule_set.offers and "dielectric-exempt/months" not in rule_set.limits:
        yield "dielectric-exempt/months"


def _missing_by_class(rule_set: RuleSet, kind: str, table: ClassTable, rows: Container[str]) -> Iterator[str]:
    currents = ("ac",) if NO_DC in rule_set.notices else ("ac", "dc")
    for insulation_class in table.classes:
        for current in currents:
            is_said = {f"use/{current}", f"use/{current}/{insulation_class}"} & table.not_printed
            if not is_said and rule_set.class_limit(kind, insulation_class, "use", current) is None:
                yield f"{table.prefix}use/{current}/{insulation_class}"
        row = f"{table.prefix}current/{insulation_class}"
        if table.current is not None and row not in rows:
            yield row
