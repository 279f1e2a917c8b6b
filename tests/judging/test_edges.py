"""Small things of judging that other tests pass by: each was found by a change nobody noticed."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from msgspec.structs import replace

from app.domain.case.words import DEFECTS
from app.domain.errors import ProgramFault
from app.domain.limits import Limit
from app.judging.catalogues import catalogues
from app.judging.change import Change
from app.judging.cure import cure
from app.judging.defects import of_air_test, of_look_over
from app.judging.held_sets import hold_house
from app.judging.judge import judge
from app.judging.standing import standing
from tests import build
from tests.build import Table

TEST, AIR = build.gloves()["records"]


def cured(case: Table, *shelf: Table) -> tuple[Change, ...]:
    facts = build.facts(case)
    return cure(facts, judge(facts), (*facts.pieces, *(build.piece(one) for one in shelf)))


def kit(*added: Table, **by_code: Table) -> Table:
    case = build.world()
    case["pieces"] = [*(by_code.get(one["code"], one) for one in case["pieces"]), *added]
    return case


def told(changes: tuple[Change, ...]) -> list[tuple[str, str, str]]:
    return [(one.change, one.subject, one.key) for one in changes]


@pytest.mark.parametrize(
    ("test", "site"),
    [
        ({"evidence": "sheet-only"}, {}),
        ({"evidence": "stated-pass"}, {}),
        ({"lab": "Hollow Road Bench"}, {"labs": ["Mill Lane Bench"]}),
    ],
)
def test_every_reason_that_a_look_at_the_paper_mends_is_mended_by_it(test: Table, site: dict[str, Any]) -> None:
    case = kit(G1=build.gloves(records=[{**TEST, **test}, AIR]))
    case["site"].update(site)
    assert told(cured(case)) == [("confirm", "G1", "cure.certificate")]


def test_sizes_nobody_stated_are_outside_the_kit() -> None:
    case = build.world()
    del case["person"]["glove_sizes"]
    assert told(cured(case, build.gloves("G2"))) == [("none", "G1", "cure.outside")]


def test_a_swap_that_leaves_as_much_wrong_is_no_way_out() -> None:
    weak: Table = {"marks": [["III", 600]]}
    (only,) = cured(kit(D1=build.detector(**weak)), build.detector("D2", **weak))
    assert (only.change, only.subject, only.key) == ("none", "D1", "cure.nothing-on-shelf")
    assert only.about is not None
    assert only.about.rule == "chain-stands-voltage"


def test_a_paper_of_a_piece_that_goes_in_the_end_is_not_looked_at_first() -> None:
    # A pair in good order but for its paper; there are protectors for one pair only, and this one was scanned first.
    case = kit()
    case["pieces"].insert(0, build.gloves("G9", records=[{**TEST, "evidence": "sheet-only"}, AIR]))
    assert told(cured(case)) == [("remove", "G9", "cure.remove")]


def test_a_look_over_that_found_something_sets_no_new_date() -> None:
    looks = [build.look(on="2025-06-01"), build.look(on="2026-02-01", defects=["cracked"])]
    facts = build.facts(build.world(pieces=[build.plain("T1", "insulated-tool", records=looks)]))
    one = standing(facts, facts.pieces[0])
    assert (one.state, one.due_on, one.counted_from) == ("held", date(2026, 6, 1), date(2025, 6, 1))


# A slip of a digit or a unit falls outside: what a figure of each unit can be at least and at most.
RANGES = [
    ("mV", 100_000, 70_000_000), ("uA", 1_000, 30_000), ("s", 10, 600), ("um", 100, 200_000), ("mm", 100, 2_000),
    ("m", 100, 10_000), ("months", 1, 60), ("years", 1, 30), ("mcal/cm2", 1_000, 100_000), ("0.01", 100, 300),
    ("0.01 in", 1, 500), ("statement", 0, 0),
]  # fmt: skip


def is_held(value: int, unit: str) -> bool:
    limits = {"x": Limit("house/x", value, unit, "clause", "H")}
    try:
        hold_house(replace(catalogues().house, limits=limits))
    except ProgramFault:
        return False
    return True


@pytest.mark.parametrize(("unit", "least", "most"), RANGES)
def test_a_figure_may_be_either_end_of_its_range_and_nothing_beyond(unit: str, least: int, most: int) -> None:
    values = (least - 1, least, most, most + 1)
    assert [is_held(value, unit) for value in values] == [False, True, True, False]


@pytest.mark.parametrize("value", [-1, 0, 1, 2])
def test_no_figure_of_a_unit_nobody_knows_is_held(value: int) -> None:
    assert not is_held(value, "furlong")


def test_every_defect_that_can_be_found_is_a_word_of_the_format() -> None:
    can_be_found = {one for kind in catalogues().kinds.values() for one in of_look_over(kind)} | {*of_air_test()}
    assert can_be_found == set(DEFECTS)
