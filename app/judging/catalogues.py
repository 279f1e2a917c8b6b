"""The catalogues, each walked once: kinds, tasks, rules and sets; calculations apart."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from msgspec import Struct

from app.domain.catalogue import declared
from app.domain.declarations import Kind, Task
from app.domain.errors import BadInput, ProgramFault
from app.domain.limits import HousePolicy, RuleSet
from app.domain.register import Depot
from app.domain.rule import CircuitRule, KitRule, PieceRule, Rule
from app.judging.calculation import Calculation
from app.judging.held_sets import hold, hold_house
from app.rulesets.house import HOUSE_POLICY


class Catalogues(Struct, frozen=True):
    """Everything that is declared, by key."""

    kinds: Mapping[str, Kind]
    tasks: Mapping[str, Task]
    rules: Mapping[str, Rule]
    rule_sets: Mapping[str, RuleSet]
    house: HousePolicy


@cache
def catalogues() -> Catalogues:
    """Walk every catalogue and hold the declarations against each other.

    Raises ProgramFault where a set or house policy names a rule or kind that is not declared, or a kind that no line
    covers: such a kind would otherwise be issued unjudged.
    """
    found = Catalogues(
        kinds=declared("app.kinds", "KIND", Kind),
        tasks=declared("app.tasks", "TASK", Task),
        rules=declared("app.rules", "RULE", Rule),
        rule_sets=declared("app.rulesets.sets", "SET", RuleSet),
        house=HOUSE_POLICY,
    )
    _check(found)
    return found


@cache
def calculations() -> Mapping[str, Calculation]:
    """The calculations, walked apart: deciding on a kit needs none of them."""
    return declared("app.judging.calculations", "CALCULATION", Calculation)


def _check(found: Catalogues) -> None:
    for rule_set in found.rule_sets.values():
        _check_covers(found, rule_set.key, rule_set.covers)
        hold(rule_set, found.kinds)
    hold_house(found.house)
    _check_covers(found, "house policy", found.house.covers)
    for key in found.kinds:
        if key not in found.house.covers:
            raise ProgramFault("catalogue.kind-not-covered", thing=key)
    for names, shape in ((found.house.kit, KitRule), (found.house.circuit, CircuitRule)):
        for name in names:
            if not isinstance(found.rules.get(name), shape):
                raise ProgramFault("catalogue.rule-unknown", thing=name, name="house policy")
    roles = {kind.role for kind in found.kinds.values()}
    for task in found.tasks.values():
        for role in task.roles:
            if role not in roles:
                raise ProgramFault("catalogue.role-unknown", thing=task.key, name=role)


def _check_covers(found: Catalogues, owner: str, covers: Mapping[str, tuple[str, ...]]) -> None:
    for kind, names in covers.items():
        if kind not in found.kinds:
            raise ProgramFault("catalogue.kind-unknown", thing=kind, name=owner)
        for name in names:
            if not isinstance(found.rules.get(name), PieceRule):
                raise ProgramFault("catalogue.rule-unknown", thing=name, name=owner)


def rule_sets_of(depot: Depot) -> tuple[RuleSet, ...]:
    """The rule sets the depot chose; BadInput for one this version does not have."""
    known = catalogues().rule_sets
    for key in depot.rule_sets:
        if key not in known:
            raise BadInput("unknown.rule-set", thing=key, known=", ".join(known))
    return tuple(known[key] for key in depot.rule_sets)
