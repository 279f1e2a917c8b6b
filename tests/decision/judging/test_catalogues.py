"""Declarations held against each other: a kind without a line, a rule without a declaration stop the program."""

from __future__ import annotations

import subprocess
import sys
from typing import Any

import pytest
from msgspec.structs import replace

from app.decision.domain import verdict
from app.decision.domain.errors import ProgramFault
from app.decision.domain.rule import CircuitRule, KitRule, PieceRule
from app.decision.fields import words
from app.decision.judging.catalogues import Catalogues, _check, catalogues

KNOWN = catalogues()
SET = KNOWN.rule_sets["us-osha-137"]


def with_house(**changes: Any) -> Catalogues:
    return replace(KNOWN, house=replace(KNOWN.house, **changes))


def with_set(**changes: Any) -> Catalogues:
    return replace(KNOWN, rule_sets={SET.key: replace(SET, **changes)})


TASK = KNOWN.tasks["measure-only"]
CONTRADICTING: list[tuple[str, Catalogues, str]] = [
    ("catalogue.kind-not-covered",
     with_house(covers={key: rules for key, rules in KNOWN.house.covers.items() if key != "barrier-set"}),
     "barrier-set"),
    ("catalogue.kind-unknown", with_house(covers={**KNOWN.house.covers, "ladder": ()}), "ladder"),
    ("catalogue.kind-unknown", with_set(covers={**SET.covers, "ladder": ()}), "ladder"),
    ("catalogue.rule-unknown", with_set(covers={"rubber-gloves": ("colour",)}), "colour"),
    # A rule of the kit is no demand on a piece, and the other way round.
    ("catalogue.rule-unknown", with_set(covers={"rubber-gloves": ("place-dry",)}), "place-dry"),
    ("catalogue.rule-unknown", with_house(kit=(*KNOWN.house.kit, "not-held")), "not-held"),
    ("catalogue.rule-unknown", with_house(kit=(*KNOWN.house.kit, "colour")), "colour"),
    ("catalogue.rule-unknown", with_house(circuit=("place-dry",)), "place-dry"),
    ("catalogue.role-unknown", replace(KNOWN, tasks={TASK.key: replace(TASK, roles=("ladder",))}), "measure-only"),
]  # fmt: skip


@pytest.mark.parametrize(("key", "found", "thing"), CONTRADICTING)
def test_declarations_that_contradict_each_other_are_a_fault(key: str, found: Catalogues, thing: str) -> None:
    with pytest.raises(ProgramFault) as told:
        _check(found)
    assert (told.value.key, told.value.thing) == (key, thing)


def test_a_set_in_a_file_that_is_not_named_after_it_is_a_fault() -> None:
    """It would be listed, and could not be chosen."""
    with pytest.raises(ProgramFault) as told:
        _check(replace(KNOWN, rule_sets={"us-else": replace(SET, key="us-else")}))
    assert (told.value.key, told.value.thing) == ("catalogue.file-name", "us-else")
    assert told.value.file == "app/decision/rulesets/sets/us_else.py"


def test_a_list_of_standings_reads_the_sets_chosen_and_nothing_that_judges() -> None:
    """What it does not need would stand between a start and its first rows."""
    code = (
        "import sys; from app.decision.judging.catalogues import rule_sets_of; from app.decision.kinds import kinds; from app.decision.domain.register import Depot; "
        "from app.decision.domain.limits import SiteRules; "
        "found = rule_sets_of(Depot(site=SiteRules(), rule_sets=('de-dguv',))); "
        "print([one.key for one in found], len(kinds()), "
        "sorted(one for one in sys.modules if one.startswith(('app.decision.rules.', 'app.decision.tasks.', 'app.decision.rulesets.sets.'))))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == f"['de-dguv'] {len(KNOWN.kinds)} ['app.decision.rulesets.sets.de_dguv']\n"


def test_as_shipped_they_agree() -> None:
    _check(KNOWN)


def test_every_declared_word_is_a_word_of_the_format() -> None:
    assert set(KNOWN.rules) == set(words.RULES)
    assert set(KNOWN.rule_sets) == set(words.RULE_SETS)


def test_every_rule_is_switched_on_somewhere() -> None:
    """A rule nobody asks would be a demand that does not exist."""
    asked = {name for names in KNOWN.house.covers.values() for name in names}
    asked |= {name for one in KNOWN.rule_sets.values() for names in one.covers.values() for name in names}
    asked |= {*KNOWN.house.kit, *KNOWN.house.circuit}
    assert asked == set(KNOWN.rules)
    assert all(isinstance(rule, (PieceRule, KitRule, CircuitRule)) for rule in KNOWN.rules.values())


def test_every_piece_is_asked_the_demands_of_every_piece() -> None:
    every = {"not-held", "not-withdrawn", "at-hand", "inspected"}
    for kind, names in KNOWN.house.covers.items():
        everywhere = {*names, *SET.covers.get(kind, ())}
        assert every <= everywhere, kind
        assert "no-open-event" in everywhere, kind


def test_every_figure_says_where_it_is_from() -> None:
    for limits in (SET.limits, KNOWN.house.limits):
        for limit in limits.values():
            assert limit.clause
            assert limit.confidence in ("P", "S", "T", "M", "H")
            assert (limit.confidence == "H") == (limit.clause == "house policy")


def test_what_is_said_first_in_a_refusal_are_rules_there_are() -> None:
    assert set(catalogues().rules) >= verdict._NEVER_MENDED


def test_nothing_that_is_self_tested_is_asked_a_calibration() -> None:
    self_tested = {kind.key for kind in KNOWN.kinds.values() if kind.has_self_test}
    assert self_tested >= {"two-pole-detector", "proving-unit"}
    assert all("calibration-in-date" not in KNOWN.house.covers[key] for key in self_tested)
