"""What a missing limit, mark or figure comes to: never consent."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Finding, Outcome
from app.decision.domain.limits import RuleSet
from app.decision.domain.rule import KitRule, PieceRule
from app.decision.judging.catalogues import catalogues
from app.decision.judging.judge import ask
from tests import build
from tests.build import Table

SET = catalogues().rule_sets["us-osha-137"]


def under(rule_set: RuleSet, case: Table) -> Facts:
    return replace(build.facts(case), rule_sets=(rule_set,), _memo={}, _chains={})


def asked(rule: str, case: Table, rule_set: RuleSet = SET) -> list[Finding]:
    return list(ask(under(rule_set, case), {rule}))


def keys(rule: str, case: Table, rule_set: RuleSet = SET) -> list[tuple[str, str]]:
    """(outcome, key) of what a rule says, cautions and pieces it makes no demand of left out."""
    found = [one for one in asked(rule, case, rule_set) if one.outcome is not Outcome.CAUTION]
    return [(one.outcome.value, one.key) for one in found if one.key != "no-demand"]


def lacking(*limits: str) -> RuleSet:
    return replace(SET, limits={key: limit for key, limit in SET.limits.items() if key not in limits})


def with_piece(code: str, **keys: Any) -> Table:
    case = build.world()
    for piece in case["pieces"]:
        if piece["code"] == code:
            piece.update(keys)
    return case


def on_circuit(**keys: Any) -> Table:
    return {"task": "isolate-and-prove-dead", "circuits": [{"key": "t", "category": "III", **keys}]}


NOMINAL = on_circuit(supply="isolated-dc", nominal_v=355)


def test_a_class_the_table_does_not_hold() -> None:
    world = build.world()
    assert keys("class-known", world, lacking("use/ac/0")) == [("cannot-tell", "class-known.not-in-table")]
    assert keys("insulation-class-stands-voltage", world, lacking("use/dc/0")) == [
        ("cannot-tell", "insulation-class-stands-voltage.no-limit")
    ]


def test_a_use_voltage_not_seen_in_print_carries_no_consent() -> None:
    limit = SET.limits["use/dc/0"]
    doubtful = replace(SET, limits={**SET.limits, "use/dc/0": replace(limit, confidence="M")})
    world = build.world()
    assert keys("insulation-class-stands-voltage", world, doubtful) == [("cannot-tell", "limit-not-seen-in-print")]
    world["site"] = {"confirmed_in_print": [limit.key]}
    assert keys("insulation-class-stands-voltage", world, doubtful)[0][0] == "met"
    # It refuses at once where even the doubtful figure falls short.
    short = build.world(job=on_circuit(supply="isolated-dc", maker_max_v=1500.001))
    assert keys("insulation-class-stands-voltage", short, doubtful) == [
        ("not-met", "insulation-class-stands-voltage.short")
    ]


@pytest.mark.parametrize("rule", ["electrical-test-counts", "electrical-test-in-date"])
def test_a_set_without_a_schedule_asks_no_test(rule: str) -> None:
    unscheduled = replace(SET, intervals={"rubber-gloves": ()})
    assert keys(rule, with_piece("G1", records=[]), unscheduled) == [("met", "electrical-test.not-asked")]


def test_inflation_not_written_down() -> None:
    test, air = build.gloves()["records"]
    unwritten = {key: value for key, value in air.items() if key != "inflation"}
    case = with_piece("G1", records=[test, unwritten])
    assert keys("air-test-done", case) == [("cannot-tell", "air-test-done.inflation-unknown")]
    assert keys("air-test-done", {**case, "level": "finding"}) == [("met", "air-test-done.done")]


@pytest.mark.parametrize(
    ("glove_type", "inflation", "outcome"),
    [("I", 1.5, "met"), ("I", 1.51, "not-met"), ("II", 1.25, "met"), ("II", 1.26, "not-met"),
     (None, 1.25, "met"), (None, 1.26, "cannot-tell"), (None, 1.5, "cannot-tell"), (None, 1.51, "not-met")],
)  # fmt: skip
def test_inflation_by_type(glove_type: str | None, inflation: float, outcome: str) -> None:
    test, air = build.gloves()["records"]
    case = with_piece("G1", records=[test, {**air, "inflation": inflation}])
    case["pieces"][0]["type"] = glove_type
    if glove_type is None:
        del case["pieces"][0]["type"]
    assert keys("air-test-done", case)[0][0] == outcome


def test_clearance_measured_today_stands_for_the_lengths() -> None:
    records = build.gloves()["records"]
    for measured, outcome in ((24.999, "not-met"), (25, "met")):
        look = build.look(clearance_mm=measured)
        assert keys("cuff-clearance", with_piece("G1", records=[*records, look]))[0][0] == outcome
    both = [build.look(clearance_mm=40), build.look(clearance_mm=20)]
    assert keys("cuff-clearance", with_piece("G1", records=[*records, *both]))[0][0] == "not-met"
    old = {**build.look(clearance_mm=20), "on": "2026-03-01"}
    assert keys("cuff-clearance", with_piece("G1", records=[*records, old]))[0][0] == "met"


@pytest.mark.parametrize("kit", [
    [build.gloves(), build.plain("L1", "leather-protectors", cut_for_class="0")],
    [{key: value for key, value in build.gloves().items() if key != "length_mm"}, build.protectors()],
    [build.gloves(), build.protectors(), build.plain("L2", "leather-protectors", cut_for_class="0")],
])  # fmt: skip
def test_clearance_needs_every_length(kit: list[Table]) -> None:
    assert keys("cuff-clearance", build.world(pieces=kit)) == [("cannot-tell", "cuff-clearance.not-measured")]


def test_a_hook_never_inspected() -> None:
    case = build.world(pieces=[{"code": "H1", "kind": "rescue-hook"}])
    assert keys("inspection-in-date", case) == [("not-met", "inspection-in-date.none")]
    tool = build.world(pieces=[{"code": "S1", "kind": "insulated-tool"}])
    assert keys("inspection-in-date", tool) == [("met", "inspection-in-date.not-refused")]


def bare(insulation_class: str, **circuit: Any) -> Table:
    case = with_piece("G1", **{"class": insulation_class})
    stated = {"without_protectors": True, "dexterity_stated_by": "P9", "low_damage_risk_stated_by": "P9"}
    return {**case, "job": {**on_circuit(**circuit), **stated}}


def test_bare_gloves_where_the_set_prints_no_limit() -> None:
    small = bare("0", supply="isolated-dc", maker_max_v=100)
    assert keys("protectors-worn", small, lacking("use/dc/00")) == [("cannot-tell", "protectors-worn.no-limit")]
    least = bare("00", supply="isolated-dc", maker_max_v=100)
    assert keys("protectors-worn", least, lacking("use/dc/00", "bare/dc/00")) == [
        ("cannot-tell", "protectors-worn.no-limit")
    ]


@pytest.mark.parametrize(
    ("limits", "volts", "outcome"),
    [
        ((), 375, "met"), ((), 375.001, "not-met"),
        # Half its use voltage says the same where the text prints none; without a use voltage nobody can tell.
        (("bare/dc/00",), 375, "met"), (("bare/dc/00",), 375.001, "not-met"),
        (("use/dc/00",), 375, "cannot-tell"),
    ],
)  # fmt: skip
def test_bare_class_00_stands_half(limits: tuple[str, ...], volts: float, outcome: str) -> None:
    case = bare("00", supply="isolated-dc", maker_max_v=volts)
    assert keys("protectors-worn", case, lacking(*limits))[0][0] == outcome


@pytest.mark.parametrize(("volts", "strict", "us_text"), [(750, "met", "met"), (751, "not-met", "met")])
def test_bare_class_0_by_the_us_text_alone_needs_an_approver(volts: int, strict: str, us_text: str) -> None:
    case = bare("0", supply="isolated-dc", maker_max_v=volts)
    approved = [{"key": "without_protectors_reading", "approved_by": "P9", "reason": "agreed"}]
    site = {"without_protectors_reading": "us-osha-137"}
    assert keys("protectors-worn", case)[0][0] == strict
    assert keys("protectors-worn", {**case, "site": site})[0][0] == strict
    assert keys("protectors-worn", {**case, "site": {**site, "approvals": approved}})[0][0] == us_text
    assert keys("protectors-worn", {**case, "site": {"approvals": approved}})[0][0] == strict


def test_a_repair_under_a_set_that_was_not_seen_to_speak_of_repairs() -> None:
    event = {"what": "event", "kind": "patched", "on": "2025-12-01", "place": "cuff"}
    case = with_piece("G1", records=[event])
    silent = replace(SET, repairs={})
    assert keys("repair-allowed", case, silent) == [("cannot-tell", "repair-allowed.no-clause")]


@pytest.mark.parametrize(
    ("repair", "place", "outcome"),
    [
        ("patched", "finger", "not-met"), ("patched", None, "cannot-tell"), ("patched", "elbow", "cannot-tell"),
        ("liquid-compound", "gauntlet", "met"), ("trimmed", None, "not-met"), ("cut-shorter", "cuff", "not-met"),
        (None, "cuff", "cannot-tell"), ("glued", "cuff", "cannot-tell"),
    ],
)  # fmt: skip
def test_repairs(repair: str | None, place: str | None, outcome: str) -> None:
    event: Table = {"what": "event", "kind": "repaired", "on": "2025-12-01"}
    event |= {key: value for key, value in (("repair", repair), ("place", place)) if value is not None}
    case = {**with_piece("G1", records=[event]), "site": {"confirmed_in_print": "all"}}
    assert keys("repair-allowed", case)[0][0] == outcome


def test_a_circuit_of_which_nothing_is_known() -> None:
    case = build.world(job=on_circuit(supply="isolated-dc"))
    assert keys("working-voltage-known", case) == [("cannot-tell", "working-voltage-known.nothing")]
    assert keys("circuit-in-scope", case) == [("cannot-tell", "stands.voltage-unknown")]
    assert keys("data-agrees-with-reading", case) == [("met", "data-agrees-with-reading.no-reading")]


def test_a_reading_is_only_a_lower_bound() -> None:
    alone = build.world(job=on_circuit(supply="isolated-dc", reading_v=300))
    assert keys("working-voltage-known", alone) == [("cannot-tell", "working-voltage-known.reading-only")]
    cells = build.world(job=on_circuit(supply="isolated-dc", reading_v=300, cells={"chemistry": "nmc", "max_v": 4.2}))
    (found,) = asked("working-voltage-known", cells)
    assert (found.key, dict(found.values)) == (
        "working-voltage-known.reading-range",
        {"fewest": 72, "most": 120, "highest_v": 504.0},
    )


def test_a_threshold_of_a_meter_is_not_asked_for() -> None:
    meter = build.plain("M1", "multimeter", fixed_leads=True)
    case = build.world(pieces=[build.proving_unit(), meter])
    assert keys("proving-unit-fits", case) == [("met", "proving-unit-fits.fits")]


def test_no_task_no_roles() -> None:
    facts = replace(build.facts(build.world()), job=replace(build.facts(build.world()).job, task=None))
    rules = catalogues().rules
    told = {}
    for name in ("task-roles-filled", "person-authorised", "second-person-present"):
        rule = rules[name]
        assert isinstance(rule, KitRule)
        told[name] = [one.outcome.value for one in rule.check(facts)]
    assert told == {
        "task-roles-filled": ["cannot-tell"], "person-authorised": ["cannot-tell"], "second-person-present": ["met"],
    }  # fmt: skip
    suits = rules["instrument-suits-task"]
    assert isinstance(suits, PieceRule)
    detector = next(piece for piece in facts.pieces if piece.code == "D1")
    assert [one.key for one in suits.check(facts, detector, SET)] == ["instrument-suits-task.not-asked"]
