"""What a way is: one named thing done to a kit in good order, and how ways are kept from colliding.

A way either spoils (one reason of refusal) or is harmless. An *edge* is a limit hit one unit below, on and
above: its steps -1 and 0 (short of the limit, and on it) are notes, its step +1 spoils.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random
from typing import Final

from tests.oracle.kits_plan import Plan
from tests.oracle.kits_world import World

PlanAct = Callable[[Plan, Random, int], None]
WorldAct = Callable[[World, Random, int], None]

#: What ways of the hands may touch, so that a kit without gloves gets no further spoilers on gloves.
GLOVES: Final = ("gloves.test", "gloves.air", "gloves.look", "gloves.size", "gloves.class", "gloves.custody")


@dataclass(frozen=True, slots=True)
class Way:
    """`early` ways take pieces away and run before those that pick a piece."""

    name: str
    touches: frozenset[str]
    tasks: frozenset[str]
    wants: dict[str, str]
    steps: tuple[int, ...]
    spoils: bool
    early: bool = False
    on_plan: PlanAct | None = None
    on_world: WorldAct | None = None

    def goes_with(self, others: list[Way]) -> bool:
        """No part touched twice, a task in common, and no fixing contradicted."""
        tasks = self.tasks
        for other in others:
            if self.touches & other.touches:
                return False
            tasks = tasks & other.tasks
            if any(self.wants.get(key, wanted) != wanted for key, wanted in other.wants.items()):
                return False
        return bool(tasks)


#: Every way by name, in the order of declaration (the draw depends on it).
WAYS: Final[dict[str, Way]] = {}

EDGE: Final = (-1, 0)


def _declare(way: Way) -> None:
    if way.name in WAYS:
        message = f"way named twice: {way.name}"
        raise ValueError(message)
    WAYS[way.name] = way


def _touched(touches: tuple[str, ...], wants: dict[str, str]) -> frozenset[str]:
    """A way that needs a supply or a class leaves both to itself: ways of the voltage set them too."""
    more = [part for key, part in (("supply", "volts"), ("glove_class", "glove-class")) if key in wants]
    return frozenset((*touches, *more))


def on_plan(
    name: str,
    *touches: str,
    tasks: str = "ILM",
    steps: tuple[int, ...] = (),
    spoils: bool = True,
    also: dict[str, str] | None = None,
    **wants: str,
) -> Callable[[PlanAct], PlanAct]:
    """Declare a way that fixes the plan before the kit is laid out; `wants` and `also` are the fixings it needs."""

    fixed = wants | (also or {})

    def declare(act: PlanAct) -> PlanAct:
        _declare(Way(name, _touched(touches, fixed), frozenset(tasks), fixed, steps, spoils, on_plan=act))
        return act

    return declare


def on_world(
    name: str,
    *touches: str,
    tasks: str = "ILM",
    steps: tuple[int, ...] = (),
    spoils: bool = True,
    early: bool = False,
    also: dict[str, str] | None = None,
    **wants: str,
) -> Callable[[WorldAct], WorldAct]:
    """Declare a way that changes the kit laid out in good order; `wants` and `also` are the fixings it needs."""

    fixed = wants | (also or {})

    def declare(act: WorldAct) -> WorldAct:
        _declare(Way(name, _touched(touches, fixed), frozenset(tasks), fixed, steps, spoils, early, on_world=act))
        return act

    return declare
