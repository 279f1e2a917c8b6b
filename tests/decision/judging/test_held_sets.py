"""A set that does not hold together stops the start, naming its file, the key and what to do."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace

from app.decision.domain.errors import ProgramFault
from app.decision.domain.limits import Limit, RuleSet, TestInterval
from app.decision.judging.catalogues import catalogues
from app.decision.judging.held_sets import file_of, hold, hold_house
from app.decision.rulesets.class_tables import by_key
from app.words.saying import say_in_two

KNOWN = catalogues()
SET = KNOWN.rule_sets["us-osha-137"]
EN = KNOWN.rule_sets["en-60903-2003"]


def without(*keys: str, of: RuleSet = SET) -> RuleSet:
    return replace(of, limits={key: limit for key, limit in of.limits.items() if key not in keys})


def moved(name: str, **changes: Any) -> RuleSet:
    return replace(SET, limits={**SET.limits, name: replace(SET.limits[name], **changes)})


def timed(**changes: Any) -> RuleSet:
    (clock,) = SET.intervals["rubber-gloves"]
    return replace(SET, intervals={**SET.intervals, "rubber-gloves": (replace(clock, **changes),)})


def tabled(kind: str, **changes: Any) -> RuleSet:
    return replace(SET, tables={**SET.tables, kind: replace(SET.tables[kind], **changes)})


BROKEN: list[tuple[str, RuleSet, str]] = [
    ("catalogue.limit-missing", without("use/ac/0"), "use/ac/0"),
    ("catalogue.limit-missing", without("use/dc/4"), "use/dc/4"),
    ("catalogue.limit-missing", without("dielectric-footwear/use/dc/2"), "dielectric-footwear/use/dc/2"),
    ("catalogue.limit-missing", without("current/4/410", "current/4/460"), "current/4"),
    ("catalogue.limit-missing", without("dielectric-footwear/current/0"), "dielectric-footwear/current/0"),
    ("catalogue.limit-missing", without("repair-place"), "repair-place"),
    ("catalogue.limit-missing", without("trim-least"), "trim-least"),
    ("catalogue.limit-missing", without("line-hose/class-table"), "line-hose/class-table"),
    ("catalogue.limit-missing", without("dielectric-exempt/months", of=EN), "dielectric-exempt/months"),
    ("catalogue.limit-missing", replace(SET, tables={}), "tables: rubber-gloves"),
    ("catalogue.limit-missing", tabled("rubber-gloves", classes=("00", "5")), "use/ac/5"),
    ("catalogue.limit-range", moved("use/ac/0", value=1_000), "us-osha-137/use/ac/0"),
    ("catalogue.limit-range", moved("use/ac/0", value=1_000_000_000), "us-osha-137/use/ac/0"),
    ("catalogue.limit-range", moved("use/ac/0", value=-1), "us-osha-137/use/ac/0"),
    ("catalogue.limit-range", moved("use/ac/0", unit="furlong"), "us-osha-137/use/ac/0"),
    ("catalogue.limit-range", moved("current/0/360", value=12), "us-osha-137/current/0/360"),
    ("catalogue.limit-range", moved("line-hose/class-table", value=1), "us-osha-137/line-hose/class-table"),
    ("catalogue.limit-range", timed(never=0), "us-osha-137/interval/rubber-gloves"),
    ("catalogue.limit-range", timed(reused=61), "us-osha-137/interval/rubber-gloves"),
    ("catalogue.limit-range", timed(between=0), "us-osha-137/interval/rubber-gloves"),
    ("catalogue.limit-source", moved("use/ac/0", clause=""), "us-osha-137/use/ac/0"),
    ("catalogue.limit-source", moved("use/ac/0", confidence="X"), "us-osha-137/use/ac/0"),
    ("catalogue.limit-source", moved("use/ac/0", confidence=""), "us-osha-137/use/ac/0"),
    ("catalogue.limit-source", timed(clause=""), "us-osha-137/interval/rubber-gloves"),
    ("catalogue.limit-source", timed(key=""), "interval"),
    ("catalogue.limit-key", moved("use/ac/0", key="us-osha-137/use/ac/1"), "us-osha-137/use/ac/1"),
    ("catalogue.interval-of-uncovered",
     replace(SET, intervals={**SET.intervals, "barrier-set": SET.intervals["rubber-gloves"]}), "barrier-set"),
    ("catalogue.offer-unknown", replace(SET, offers={"no_gloves": (True,)}), "no_gloves"),
]  # fmt: skip


@pytest.mark.parametrize(("key", "broken", "thing"), BROKEN, ids=[f"{key}-{thing}" for key, _, thing in BROKEN])
def test_a_set_that_does_not_hold_together_is_named_with_its_file_and_the_next_step(
    key: str, broken: RuleSet, thing: str
) -> None:
    with pytest.raises(ProgramFault) as told:
        hold(broken, KNOWN.kinds)
    assert (told.value.key, told.value.thing) == (key, thing)
    assert told.value.file == file_of(broken)
    what, next_step = say_in_two(key, {"thing": thing, "name": broken.key})
    assert thing in what
    assert next_step


def test_a_figure_that_stands_twice_is_a_fault() -> None:
    limit = Limit("s/use/ac/0", 1_000_000, "mV", "clause", "S")
    with pytest.raises(ProgramFault) as told:
        by_key("s", [limit], [replace(limit, value=500_000)])
    assert (told.value.key, told.value.thing) == ("catalogue.limit-twice", "s/use/ac/0")


def test_house_policy_is_held_too() -> None:
    limits = {**KNOWN.house.limits, "calibration-months": replace(KNOWN.house.limits["calibration-months"], value=0)}
    with pytest.raises(ProgramFault) as told:
        hold_house(replace(KNOWN.house, limits=limits))
    assert (told.value.key, told.value.thing) == ("catalogue.limit-range", "house/calibration-months")


def test_what_a_set_says_it_does_not_print_is_not_missing() -> None:
    boots = SET.tables["dielectric-footwear"]
    assert boots.not_printed >= {"use/dc/3", "use/dc/4"}
    with pytest.raises(ProgramFault) as told:
        hold(tabled("dielectric-footwear", not_printed=frozenset()), KNOWN.kinds)
    assert told.value.thing == "dielectric-footwear/use/dc/3"


def test_of_a_kind_not_asked_by_class_no_table_is_missing() -> None:
    unclassed = replace(SET, covers={**SET.covers, "barrier-set": ("no-open-event",)})
    assert "barrier-set" not in unclassed.tables
    hold(unclassed, KNOWN.kinds)


def test_a_set_without_dc_says_so_or_is_incomplete() -> None:
    gb = KNOWN.rule_sets["gb-17622"]
    hold(gb, KNOWN.kinds)
    with pytest.raises(ProgramFault) as told:
        hold(replace(gb, notices=()), KNOWN.kinds)
    assert told.value.thing == "use/dc/0"


@pytest.mark.parametrize("name", sorted(KNOWN.rule_sets))
def test_every_set_holds_together_and_stands_in_the_file_of_its_key(name: str) -> None:
    import importlib

    rule_set = KNOWN.rule_sets[name]
    hold(rule_set, KNOWN.kinds)
    module = file_of(rule_set).removesuffix(".py").replace("/", ".")
    assert importlib.import_module(module).SET is rule_set
    assert all(isinstance(one, TestInterval) for clocks in rule_set.intervals.values() for one in clocks)
