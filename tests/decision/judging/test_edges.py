"""Small things of judging that other tests pass by: each was found by a change nobody noticed."""

from __future__ import annotations

from contextlib import nullcontext
from datetime import date
from typing import Any

import pytest
from msgspec.structs import replace

from app.decision.domain.errors import ProgramFault
from app.decision.domain.finding import Outcome
from app.decision.domain.limits import Limit
from app.decision.fields.words import DEFECTS
from app.decision.judging.catalogues import catalogues
from app.decision.judging.change import Change
from app.decision.judging.changes import what_to_change
from app.decision.judging.defects import of_air_test, of_inspection
from app.decision.judging.held_sets import hold, hold_house
from app.decision.judging.judge import ask, judge
from app.decision.judging.status import is_dated, status_of
from tests import build
from tests.build import Table

TEST, AIR = build.gloves()["records"]


def turned(case: Table, *shelf: Table) -> tuple[Change, ...]:
    facts = build.facts(case)
    return what_to_change(facts, judge(facts), (*facts.pieces, *(build.piece(one) for one in shelf)))


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
    assert told(turned(case)) == [("confirm", "G1", "change.certificate")]


@pytest.mark.parametrize("hand", ["left", "right"])
def test_a_hand_the_air_test_left_out_is_mended_by_an_air_test(hand: str) -> None:
    one_hand = {key: value for key, value in AIR.items() if key != hand}
    assert told(turned(kit(G1=build.gloves(records=[TEST, one_hand, build.look()])))) == [
        ("check", "G1", "change.air-test")
    ]


def test_the_search_ends_after_so_many_judgements(monkeypatch: pytest.MonkeyPatch) -> None:
    old = build.gloves(records=[{**TEST, "on": "2025-01-01"}, AIR])
    assert [one.change for one in turned(kit(G1=old), build.gloves("G2"))] == ["swap"]
    monkeypatch.setattr("app.decision.judging.changes.MOST_JUDGEMENTS", 1)
    assert told(turned(kit(G1=old), build.gloves("G2"))) == [("none", "kit", "change.not-found")]


@pytest.mark.parametrize(("tested_on", "change"), [("2025-09-03", "swap"), ("2025-09-02", "enter")])
def test_a_pair_that_lasts_to_the_very_last_day_is_taken(tested_on: str, change: str) -> None:
    old = build.gloves(records=[{**TEST, "on": "2025-01-01"}, AIR])
    other = build.gloves("G2", records=[{**TEST, "on": tested_on}, AIR])
    assert [one.change for one in turned(kit(G1=old), other)] == [change]


def test_caps_that_one_look_of_the_day_named_are_not_looked_at_again() -> None:
    meter = build.plain(
        "D1", "multimeter", marks=[["III", 1000]], max_input_dc_v=1000,
        records=[build.look(), {"what": "calibration", "on": "2026-01-01", "result": "passed"}],
    )  # fmt: skip
    leads = build.plain("W1", "test-leads", marks=[["III", 1000]], tip_mm=2)
    leads["records"] = [build.look(caps="present"), build.look(at="07:30")]
    case = kit(leads, D1=meter, G1=build.gloves(records=[TEST]))
    case["pieces"] = [one for one in case["pieces"] if one["code"] not in ("B1", "K1")]
    case["job"]["task"], case["person"]["scopes"], case["second"] = "measure-only", ["live"], {"code": "P2"}
    assert told(turned(case)) == [("check", "G1", "change.air-test")]


def test_sizes_nobody_stated_are_outside_the_kit() -> None:
    case = build.world()
    del case["person"]["glove_sizes"]
    assert told(turned(case, build.gloves("G2"))) == [("none", "G1", "change.outside")]


def test_a_swap_that_leaves_as_much_wrong_is_no_way_out() -> None:
    weak: Table = {"marks": [["III", 600]]}
    (only,) = turned(kit(D1=build.detector(**weak)), build.detector("D2", **weak))
    assert (only.change, only.subject, only.key) == ("none", "D1", "change.nothing-on-shelf")
    assert only.about is not None
    assert only.about.rule == "chain-stands-voltage"


def test_a_paper_of_a_piece_that_goes_in_the_end_is_not_looked_at_first() -> None:
    # A pair in good order but for its paper; there are protectors for one pair only, and this one was scanned first.
    case = kit()
    case["pieces"].insert(0, build.gloves("G9", records=[{**TEST, "evidence": "sheet-only"}, AIR]))
    assert told(turned(case)) == [("remove", "G9", "change.remove")]


def test_a_inspection_that_found_something_sets_no_new_date() -> None:
    looks = [build.look(on="2025-06-01"), build.look(on="2026-02-01", defects=["cracked"])]
    facts = build.facts(build.world(pieces=[build.plain("T1", "insulated-tool", records=looks)]))
    one = status_of(facts, facts.pieces[0])
    assert (one.state, one.due_on, one.counted_from) == ("on-hold", date(2026, 6, 1), date(2025, 6, 1))


def gone(first: str, second: str) -> Table:
    """Given to two people on one day, nobody knows to whom first."""
    moves = [{"what": "hand-over", "on": "2026-02-01", "to": one} for one in (first, second)]
    return build.gloves(records=[TEST, *moves])


@pytest.mark.parametrize("piece", [gone("P3", "P4"), gone("P4", "P3")])
def test_of_two_places_it_may_be_in_the_first_by_name_is_told(piece: Table) -> None:
    facts = build.facts(build.world(pieces=[piece]))
    assert status_of(facts, facts.pieces[0]).holder == "P3"
    (said,) = [one for one in ask(facts, {"at-hand"}) if one.outcome is Outcome.NOT_MET]
    assert said.values["holder"] == "P3"


@pytest.mark.parametrize("sets", [["us-osha-137", "iec-60903-2014"], ["iec-60903-2014", "us-osha-137"]])
def test_of_two_sets_the_worse_answer_makes_the_standing(sets: list[str]) -> None:
    # 13 mA: above the US limit of 12 for this glove, below the other's of 14.
    figures = {
        **TEST, "evidence": "figures", "occasion": "in-service", "test_v": 5000, "kind_of_current": "ac",
        "frequency_hz": 60, "dwell_s": 60, "left_ma": 13, "right_ma": 8,
    }  # fmt: skip
    site = {"altitude_m": 140, "confirmed_in_print": "all"}
    facts = build.facts(build.world(pieces=[build.gloves(records=[figures, AIR])], rule_sets=sets, site=site))
    assert {facts.tested(facts.pieces[0], one).failed is None for one in facts.rule_sets} == {True, False}
    assert status_of(facts, facts.pieces[0]).state == "on-hold"


def test_of_several_checks_of_the_day_that_lack_the_first_is_told() -> None:
    facts = build.facts(build.world(pieces=[build.detector(records=[])]))
    one = status_of(facts, facts.pieces[0])
    assert (one.state, one.why.key) == ("inspect-today", "inspected.not-today")


def test_a_later_paper_nobody_saw_does_not_take_away_the_test_that_counts() -> None:
    unseen = {**TEST, "on": "2026-02-01", "evidence": "sheet-only"}
    facts = build.facts(build.world(pieces=[build.gloves(records=[TEST, unseen, AIR])]))
    one = status_of(facts, facts.pieces[0])
    assert (one.state, one.counted_from) == ("ready", date(2026, 1, 15))


def test_a_kind_is_dated_as_soon_as_one_set_dates_it() -> None:
    facts = build.facts(build.world())
    (dating,) = facts.rule_sets
    silent = replace(dating, intervals={})
    for sets in ((dating, silent), (silent, dating)):
        assert is_dated(replace(facts, rule_sets=sets), "rubber-gloves")
    assert not is_dated(replace(facts, rule_sets=(silent,)), "rubber-gloves")


@pytest.mark.parametrize(("months", "holds"), [(0, False), (1, True), (60, True), (61, False)])
@pytest.mark.parametrize("name", ["never", "reused", "between"])
def test_months_of_a_clock_may_be_either_end_of_their_range(name: str, months: int, holds: bool) -> None:
    known = catalogues()
    rule_set = known.rule_sets["us-osha-137"]
    (clock,) = rule_set.intervals["rubber-gloves"]
    timed = {**rule_set.intervals, "rubber-gloves": (replace(clock, **{name: months}),)}
    with nullcontext() if holds else pytest.raises(ProgramFault):
        hold(replace(rule_set, intervals=timed), known.kinds)


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
    can_be_found = {one for kind in catalogues().kinds.values() for one in of_inspection(kind)} | {*of_air_test()}
    assert can_be_found == set(DEFECTS)


def test_a_meter_swapped_for_another_that_takes_loose_leads_keeps_them() -> None:
    def meter(code: str, calibrated: str) -> Table:
        done = {"what": "calibration", "on": calibrated, "result": "passed"}
        return build.plain(code, "multimeter", marks=[["III", 1000]], max_input_dc_v=1000, records=[build.look(), done])

    leads = build.plain("W1", "test-leads", marks=[["III", 1000]], tip_mm=2, records=[build.look(caps="present")])
    case = kit(leads, D1=meter("M1", "2025-01-01"))
    case["job"]["circuits"][0]["maker_names_multimeter"] = True
    assert told(turned(case, meter("M2", "2026-01-01"))) == [("swap", "M1", "change.swap")]


def test_who_exempted_a_class_is_told_with_every_decision() -> None:
    site = {"altitude_m": 140, "dielectric_exempt_00_0": {"approved_by": "P9", "reason": "annex E.5"}}
    verdict = judge(build.facts({**build.world(site=site), "rule_sets": ["en-60903-2003"]}))
    (one,) = [one for one in verdict.cautions if one.subject == "dielectric_exempt_00_0"]
    assert (one.key, one.values["approved_by"], one.values["reason"]) == ("site-rule.applied", "P9", "annex E.5")


def test_an_exemption_that_lasts_longer_than_the_test_makes_the_standing() -> None:
    site = {"altitude_m": 140, "dielectric_exempt_00_0": {"approved_by": "P9", "reason": "annex E.5"}}
    piece = build.gloves(records=[{**TEST, "on": "2025-10-01"}, AIR])
    facts = build.facts({**build.world(pieces=[piece], site=site), "rule_sets": ["en-60903-2003"]})
    one = status_of(facts, facts.pieces[0])
    assert (one.due_on, one.decides, one.counted_from) == (date(2026, 9, 2), "exempted/6", build.DAY)


@pytest.mark.parametrize(
    ("records", "state", "key"),
    [
        ([{**AIR, "on": "2025-08-20"}], "overdue", "electrical-test-in-date.exempt-overdue"),
        ([{**AIR, "on": "2025-08-20", "right": "failed"}], "on-hold", ""),
        ([], "not-tested", "electrical-test-in-date.exempt-unchecked"),
        ([{**TEST, "on": "2025-08-20"}], "overdue", "electrical-test-in-date.overdue"),
    ],
)
def test_of_an_exempted_pair_it_is_the_exemption_that_runs_out(records: list[Table], state: str, key: str) -> None:
    site = {"altitude_m": 140, "dielectric_exempt_00_0": {"approved_by": "P9", "reason": "annex E.5"}}
    piece = build.gloves(records=records)
    facts = build.facts({**build.world(pieces=[piece], site=site), "rule_sets": ["en-60903-2003"]})
    assert status_of(facts, facts.pieces[0]).state == state
    found = {one.rule: one.key for one in ask(facts, ("electrical-test-in-date",)) if one.outcome is not Outcome.MET}
    assert not key or found == {"electrical-test-in-date": key}


def test_a_pair_without_protectors_gets_some() -> None:
    assert told(turned(kit(build.gloves("G2")), build.protectors("L2"))) == [("add", "L2", "change.add")]


def test_what_the_kit_lacks_is_said_before_what_is_swapped_in_it() -> None:
    case = kit(G1=build.gloves(records=[{**TEST, "on": "2025-01-01"}, AIR]))
    case["pieces"] = [one for one in case["pieces"] if one["code"] != "K1"]
    assert told(turned(case, build.gloves("G2"), build.plain("K2", "lock-off-set"))) == [
        ("add", "K2", "change.add"), ("swap", "G1", "change.swap"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("piece", "key"), [(build.protectors(records=[]), "change.inspection"), (build.plain("B1", "barrier-set", records=[]), "change.inspection")]
)  # fmt: skip
def test_only_leads_are_inspected_for_their_caps(piece: Table, key: str) -> None:
    assert told(turned(kit(**{piece["code"]: piece}))) == [("check", piece["code"], key)]


@pytest.mark.parametrize(
    ("piece", "state", "key"),
    [
        (build.gloves(hand="left"), "cannot-tell", "hands-belong-together.single"),
        (build.gloves(records=[{"what": "event", "kind": "repaired", "repair": "trimmed", "on": "2025-12-01"}, TEST, AIR]),
         "on-hold", "repair-allowed.not-this-way"),
        (build.gloves(records=[{"what": "event", "kind": "repaired", "on": "2025-12-01"}, TEST, AIR]),
         "cannot-tell", "repair-allowed.unknown"),
    ],
)  # fmt: skip
def test_a_single_glove_and_a_repair_nobody_allows_make_the_standing(piece: Table, state: str, key: str) -> None:
    facts = build.facts(build.world(pieces=[piece]))
    one = status_of(facts, facts.pieces[0])
    assert (one.state, one.why.key) == (state, key)


def test_an_exemption_that_ends_before_the_test_does_leaves_its_day() -> None:
    site = {"altitude_m": 140, "dielectric_exempt_00_0": {"approved_by": "P9", "reason": "annex E.5"}}
    piece = build.gloves(
        records=[{**TEST, "on": "2026-02-20"}, {**AIR, "on": "2026-02-25"}, {**AIR, "on": "2026-01-15"}]
    )
    facts = build.facts({**build.world(pieces=[piece], site=site), "rule_sets": ["en-60903-2003"]})
    assert status_of(facts, facts.pieces[0]).due_on == date(2026, 8, 25)
    older = build.gloves(records=[{**TEST, "on": "2026-02-20"}, {**AIR, "on": "2026-01-15"}])
    facts = build.facts({**build.world(pieces=[older], site=site), "rule_sets": ["en-60903-2003"]})
    assert status_of(facts, facts.pieces[0]).due_on == date(2026, 8, 20)


def test_an_air_test_that_lacks_is_due_today_beside_a_inspection() -> None:
    facts = build.facts(build.world(pieces=[build.gloves(records=[TEST, build.look()])]))
    one = status_of(facts, facts.pieces[0])
    assert (one.state, one.why.key) == ("inspect-today", "air-test-done.not-today")


@pytest.mark.parametrize(
    "more", [{"class": "1"}, {"records": [{**TEST, "evidence": "sheet-only"}, AIR]}, {"records": [TEST]}, {}]
)
@pytest.mark.parametrize("at", [0, 6])
def test_a_pair_that_is_one_too_many_is_left_out_wherever_it_was_scanned(more: Table, at: int) -> None:
    case = kit()
    case["pieces"].insert(at, build.gloves("G9", **more))
    found = turned(case)
    assert [(one.change, one.key) for one in found] == [("remove", "change.remove")]
    if more:
        assert found[0].subject == "G9"
