"""A second press of Enter writes nothing: what the same person has said of a thing stands."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import pytest

from app.usecases.add_alias import add_alias
from app.usecases.add_person import add_person
from app.usecases.desk import Desk
from app.usecases.make_bag import make_bag
from app.usecases.set_rule import set_rule
from app.usecases.take_stock import take_stock
from tests.fakes import KIT, FixedClock
from tests.usecases.conftest import Refused

P5 = {"code": "P5", "scopes": ["isolate"], "name": "a name"}
ACTS: dict[str, tuple[str, Callable[[Desk, str], object]]] = {
    "stocktake": ("stocktake.twice", lambda desk, by: take_stock(desk, by, KIT, "")),
    "lost": ("stocktake.twice", lambda desk, by: take_stock(desk, by, [*KIT, "K11"], "")),
    "bag": ("entry.stands", lambda desk, by: make_bag(desk, by, "BAG", ["L1", "G1"])),
    "rules": ("entry.stands", lambda desk, by: set_rule(desk, by, {"warning_days": 20, "altitude_m": 100})),
    "shipped": ("entry.stands", lambda desk, by: set_rule(desk, by, {"altitude_m": None})),
    "person": ("entry.stands", lambda desk, by: add_person(desk, by, P5)),
    "nameless": ("entry.stands", lambda desk, by: add_person(desk, by, {"code": "P5"})),
    "label": ("alias.there", lambda desk, by: add_alias(desk, by, "0815", "L1")),
}  # fmt: skip


@pytest.mark.parametrize("act", ACTS)
def test_the_same_again_by_the_same_person_writes_nothing(act: str, desk: Desk, refused: Refused) -> None:
    key, does = ACTS[act]
    does(desk, "P0")
    assert refused(lambda: does(desk, "P0")).key == key


@pytest.mark.parametrize("act", [one for one in ACTS if one != "label"])
def test_another_person_may_say_the_same(act: str, desk: Desk) -> None:
    _, does = ACTS[act]
    does(desk, "P0")
    before = desk.anchors()
    does(desk, "P9")
    assert desk.anchors() != before


def test_what_was_changed_in_between_may_be_put_back(desk: Desk) -> None:
    for pieces in (["L1"], ["G1"], ["L1"]):
        make_bag(desk, "P0", "BAG", pieces)
    for days in (20, 10, 20):
        set_rule(desk, "P0", {"warning_days": days})
    for name in ("one", "another", "one"):
        add_person(desk, "P0", {**P5, "name": name})


def test_of_several_rules_only_what_is_new_is_entered(desk: Desk) -> None:
    set_rule(desk, "P0", {"warning_days": 20})
    assert len(set_rule(desk, "P0", {"warning_days": 20, "altitude_m": 100}).entries) == 1


def test_stock_taken_again_later_is_another_stocktake(desk: Desk, clock: FixedClock) -> None:
    take_stock(desk, "P0", KIT, "")
    clock.moment += timedelta(minutes=3)
    assert take_stock(desk, "P0", KIT, "").entries
