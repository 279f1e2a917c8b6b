"""Seeded generator of whole kits as worked cases of level "decision", for runs of the judges against each other.

Every kit starts as one that may go out: one of three tasks, every role filled, every record and person in order
for the whole job, judged by the default rule set, another or two (kits_laws.py), with up to two pieces beyond the
roles (kits_extra.py). Then *ways* are laid on it (kits_ways.py). The mix, drawn per kit:

- 45 % no spoiler: only harmless ways (0 to 4), among them every limit hit on the limit and one unit short of it;
- 45 % exactly one spoiler, drawn evenly from `SPOILERS`, with 0 to 2 harmless ways beside it;
- 10 % two to four spoilers that touch different parts of the kit.

Nothing here judges. A spoiler names the one *cause* that was put in; a cause may show up under more than one rule
(a pair without a class mark has no limit to compare either; a hook overdue for its yearly look cannot have been
looked over today). The names say which rule the cause belongs to.
A kit depends on its seed and number alone, not on the order of calls.
"""

from __future__ import annotations

from random import Random
from typing import Any, Final, NamedTuple

from tests.oracle import kits_chain, kits_gear, kits_goods, kits_hands, kits_job, kits_sets, kits_tests, kits_volts
from tests.oracle.kits_extra import lay_out_all
from tests.oracle.kits_plan import Unfit, draw_plan, settle
from tests.oracle.kits_ways import WAYS, Way
from tests.oracle.kits_world import World, case_of

#: The modules whose import declares the ways; the order of import is the order of the draw.
DECLARED_BY: Final = (kits_chain, kits_gear, kits_goods, kits_hands, kits_job, kits_sets, kits_tests, kits_volts)

_ALL: Final = tuple(WAYS[name] for name in sorted(WAYS))
_SPOILING: Final = tuple(way for way in _ALL if way.spoils)
_HARMLESS: Final = tuple(way for way in _ALL if way.steps)

#: Spoiler name -> the rule whose demand it breaks.
SPOILERS: Final[dict[str, str]] = {way.name: way.name.partition("/")[0] for way in _SPOILING}

#: Names of harmless variants: "<way>@<step>" for a limit hit short of it (-1) or on it (+0), else the way alone.
VARIANTS: Final = tuple(_name for way in _HARMLESS for _name in (f"{way.name}@{step:+d}" for step in way.steps))


class Explained(NamedTuple):
    """A case, the spoilers laid on it and the harmless variants laid on it, in the order drawn."""

    case: dict[str, Any]
    spoilers: tuple[str, ...]
    variants: tuple[str, ...]


def kit(seed: int, number: int) -> dict[str, Any]:
    """One worked case as a reader of TOML would give it, without an expectation."""
    return explained(seed, number).case


def described(seed: int, number: int) -> tuple[dict[str, Any], tuple[str, ...]]:
    """The case and the names of the spoilers laid on it (none: nothing was done that refuses)."""
    case, spoilers, _ = explained(seed, number)
    return case, spoilers


def explained(seed: int, number: int) -> Explained:
    """The case with everything that was done to it."""
    rng = Random(f"{seed}/{number}")
    dice = rng.random()
    wanted = 0 if dice < 0.45 else 1 if dice < 0.9 else rng.randrange(2, 5)
    while True:
        spoiling = _spoilers(rng, wanted)
        variants = _variants(rng, spoiling, rng.randrange(5) if wanted == 0 else rng.randrange(3))
        try:
            world = _laid_out(rng, spoiling, variants)
        except Unfit:
            continue  # no such day or piece in this draw; the same generator goes on, so the kit stays determined
        rng.shuffle(world.pieces)
        for piece in world.pieces:
            if rng.random() < 0.15:
                rng.shuffle(piece["records"])
        case = case_of(world, f"K{seed}-{number}", f"drawn, seed {seed}, number {number}")
        names = tuple(f"{way.name}@{step:+d}" for way, step in variants)
        return Explained(case, tuple(way.name for way in spoiling), names)


def _spoilers(rng: Random, wanted: int) -> list[Way]:
    chosen: list[Way] = []
    while len(chosen) < wanted:
        way = rng.choice(_SPOILING)
        if way.goes_with(chosen):
            chosen.append(way)
    return chosen


def _variants(rng: Random, spoiling: list[Way], tries: int) -> list[tuple[Way, int]]:
    """Harmless ways beside the spoilers; one that collides is left out, so that one reason stays one reason."""
    ways, chosen = list(spoiling), []
    for _ in range(tries):
        way = rng.choice(_HARMLESS)
        if way.goes_with(ways):
            ways.append(way)
            chosen.append((way, rng.choice(way.steps)))
    return chosen


def _laid_out(rng: Random, spoiling: list[Way], variants: list[tuple[Way, int]]) -> World:
    laid = [(way, 1) for way in spoiling] + variants
    tasks = frozenset("ILM").intersection(*(way.tasks for way, _ in laid))
    wants = {key: wanted for way, _ in laid for key, wanted in way.wants.items()}
    plan = draw_plan(rng, rng.choice(sorted(tasks)), wants)
    for way, step in laid:
        if way.on_plan is not None:
            way.on_plan(plan, rng, step)
    settle(plan, rng)
    world = lay_out_all(plan, rng)
    if wants.get("history") == "fresh":
        kits_tests.fresh_history(world, rng)
    # What takes pieces away goes first, so that no later way is laid on a piece that then leaves the kit.
    for way, step in sorted(laid, key=lambda pair: not pair[0].early):
        if way.on_world is not None:
            way.on_world(world, rng, step)
    return world
