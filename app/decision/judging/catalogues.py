"""The catalogues, each walked once: kinds, tasks, rules and sets; calculations apart.

A list of standings needs kinds and the sets chosen alone; whatever judges asks for all of it, held against each other.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from functools import cache

from msgspec import Struct

from app.decision.domain.catalogue import declared, declared_under
from app.decision.domain.declarations import Kind, Task
from app.decision.domain.errors import BadInput, ProgramFault
from app.decision.domain.facts import Facts, Job
from app.decision.domain.limits import HousePolicy, RuleSet, SiteRules
from app.decision.domain.piece import Piece
from app.decision.domain.register import Depot
from app.decision.domain.rule import CircuitRule, KitRule, PieceRule, Rule
from app.decision.judging.calculation import Calculation
from app.decision.judging.held_sets import file_of, hold, hold_house
from app.decision.kinds import kinds
from app.decision.rulesets.house import HOUSE_POLICY
from app.decision.tasks import tasks


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

    Each set is held against itself as it is read. Raises ProgramFault where a set or house policy names a rule or kind
    that is not declared, or a kind that no line covers: such a kind would otherwise be issued unjudged.
    """
    known = Catalogues(
        kinds=kinds(),
        tasks=tasks(),
        rules=declared("app.decision.rules", "RULE", Rule),
        rule_sets=declared("app.decision.rulesets.sets", "SET", RuleSet),
        house=HOUSE_POLICY,
    )
    _check(known)
    return known


@cache
def _set_of(key: str) -> RuleSet | None:
    """One set, held against itself without the others being read; None where there is none of that key."""
    rule_set = declared_under("app.decision.rulesets.sets", key, "SET", RuleSet)
    if rule_set is not None:
        hold(rule_set, kinds())
    return rule_set


@cache
def calculations() -> Mapping[str, Calculation]:
    """The calculations, walked apart: deciding on a kit needs none of them."""
    return declared("app.decision.judging.calculations", "CALCULATION", Calculation)


def _check(known: Catalogues) -> None:
    for rule_set in known.rule_sets.values():
        if _set_of(rule_set.key) is None:
            raise ProgramFault("catalogue.file-name", file=file_of(rule_set), thing=rule_set.key)
        _check_covers(known, rule_set.key, rule_set.covers)
    _check_house(known)
    roles = {kind.role for kind in known.kinds.values()}
    for task in known.tasks.values():
        for role in task.roles:
            if role not in roles:
                raise ProgramFault("catalogue.role-unknown", thing=task.key, name=role)


def _check_house(known: Catalogues) -> None:
    hold_house(known.house)
    _check_covers(known, "house policy", known.house.covers)
    for key in known.kinds:
        if key not in known.house.covers:
            raise ProgramFault("catalogue.kind-not-covered", thing=key)
    for names, shape in ((known.house.kit, KitRule), (known.house.circuit, CircuitRule)):
        for name in names:
            if not isinstance(known.rules.get(name), shape):
                raise ProgramFault("catalogue.rule-unknown", thing=name, name="house policy")


def _check_covers(known: Catalogues, owner: str, covers: Mapping[str, tuple[str, ...]]) -> None:
    for kind, names in covers.items():
        if kind not in known.kinds:
            raise ProgramFault("catalogue.kind-unknown", thing=kind, name=owner)
        for name in names:
            if not isinstance(known.rules.get(name), PieceRule):
                raise ProgramFault("catalogue.rule-unknown", thing=name, name=owner)


def facts_on(day: date, site: SiteRules, rule_sets: Iterable[RuleSet], *pieces: Piece) -> Facts:
    """What these pieces are judged by on one day, for no job. Needs kinds and these sets alone."""
    return Facts(
        on=day, until=day, job=Job(), pieces=pieces, kinds=kinds(), house=HOUSE_POLICY, rule_sets=tuple(rule_sets),
        site=site,
    )  # fmt: skip


def rule_sets_of(depot: Depot) -> tuple[RuleSet, ...]:
    """The rule sets the depot chose; BadInput for one this version does not have."""
    return tuple(_chosen(key) for key in depot.rule_sets)


def _chosen(key: str) -> RuleSet:
    rule_set = _set_of(key)
    if rule_set is None:
        raise BadInput("unknown.rule-set", thing=key, known=tuple(catalogues().rule_sets))
    return rule_set
