"""The decided readings of READINGS.md, each by a kit worked out by hand; composite gloves above all."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from . import judge

ON = date(2026, 3, 2)
OWN = "{}/composite-gloves/own-protection"
IEC, EN, OSHA, GB = "iec-60903-2014", "en-60903-2003", "us-osha-137", "gb-17622"
AIR = {"what": "air-test", "on": ON, "left": "passed", "right": "passed", "inflation": 1.25}
LOOK = {"what": "inspection", "on": ON, "defects": []}
TEST = {"what": "electrical-test", "on": ON - timedelta(days=30), "result": "passed"}


def gloves(code: str, kind: str = "composite-gloves", **more: Any) -> dict[str, Any]:
    known = {"code": code, "kind": kind, "class": "1", "class_system": "iec", "length_mm": 410}
    return known | {"records": [AIR, TEST]} | more


def protectors(code: str, **more: Any) -> dict[str, Any]:
    return {
        "code": code,
        "kind": "leather-protectors",
        "cut_for_class": "1",
        "length_mm": 300,
        "records": [LOOK],
    } | more


def found(pieces: list[dict[str, Any]], sets: list[str], seen: Any = (), **job: Any) -> dict[tuple[str, str], Any]:
    case = {"on": ON, "rule_sets": sets, "site": {"confirmed_in_print": seen}, "pieces": pieces}
    case["job"] = {"task": "measure-only", "circuits": [], **job}
    return {(f["rule"], f["subject"]): f for f in judge(case)["findings"]}


def worn(pieces: list[dict[str, Any]], sets: list[str], *seen: str) -> str:
    outcome: str = found(pieces, sets, list(seen))["protectors-worn", "C"]["outcome"]
    return outcome


@pytest.mark.parametrize("name", [IEC, EN, "de-dguv", "as-nzs", GB])
def test_nothing_is_worn_over_composite_gloves_once_that_was_seen_in_print(name: str) -> None:
    assert worn([gloves("C")], [name], OWN.format(name)) == "met"
    assert worn([gloves("C")], [name]) == "cannot-tell"
    assert worn([gloves("C"), protectors("P")], [name]) == "met"


def test_every_chosen_set_has_to_say_so() -> None:
    assert worn([gloves("C")], [IEC, EN], OWN.format(IEC)) == "cannot-tell"
    assert worn([gloves("C")], [IEC, EN], OWN.format(IEC), OWN.format(EN)) == "met"
    assert worn([gloves("C")], [OSHA]) == "not-met"
    assert worn([gloves("C")], [OSHA, IEC], OWN.format(IEC)) == "not-met"


def test_a_pair_worn_bare_asks_no_clearance_no_protectors_and_no_role() -> None:
    rest = [{"code": k, "kind": k, "records": [LOOK]} for k in ("two-pole-detector", "proving-unit")]
    answer = found([gloves("C"), *rest], [IEC], "all")
    assert ("cuff-clearance", "C") not in answer
    assert answer["task-roles-filled", "kit"]["outcome"] == "met"
    assert found([gloves("C"), *rest], [IEC])["task-roles-filled", "kit"]["outcome"] == "not-met"


def test_spare_protectors_are_worn_over_the_composite_pair() -> None:
    tight = protectors("P", length_mm=390, cut_for_class="0")
    answer = found([gloves("C"), tight], [IEC], "all")
    assert answer["cuff-clearance", "C"]["outcome"] == "not-met"
    assert answer["protector-fits-class", "P"]["outcome"] == "not-met"
    # The one pair of protectors belongs to the other gloves, of class 0.
    rubber = gloves("R", "rubber-gloves", **{"class": "0"})
    answer = found([gloves("C"), rubber, tight], [IEC], "all")
    assert ("cuff-clearance", "C") not in answer
    assert answer["protector-fits-class", "P"]["outcome"] == "met"
    assert {answer["protectors-worn", code]["outcome"] for code in "CR"} == {"met"}


def test_at_a_live_pack_a_composite_pair_needs_no_protectors_of_its_own() -> None:
    kit = [gloves("C"), gloves("R", "rubber-gloves"), protectors("P")]
    case = {"on": ON, "rule_sets": [IEC], "site": {"confirmed_in_print": "all"}, "pieces": kit}
    case |= {"job": {"task": "work-in-open-live-pack"}, "person": {"code": "P1"}, "second": {"code": "P2"}}
    for seen, expected in (("all", "met"), ([], "not-met")):
        case["site"] = {"confirmed_in_print": seen}
        answer = {f["rule"]: f["outcome"] for f in judge(case)["findings"]}
        assert answer["second-person-present"] == expected


@pytest.mark.parametrize(
    ("system", "sets", "expected"),
    [("iec", [OSHA], "met"), ("gb", [OSHA], "cannot-tell"), ("gb", [GB], "met"), ("gb", [OSHA, GB], "met")],
)
def test_a_class_number_counts_where_a_chosen_set_judges_its_system(
    system: str, sets: list[str], expected: str
) -> None:
    pieces = [gloves("G", "rubber-gloves", class_system=system), protectors("P")]
    answer = found(pieces, sets)
    assert answer["cuff-clearance", "G"]["outcome"] == expected
    assert answer["protector-fits-class", "P"]["outcome"] == expected


def test_a_failed_air_test_leaves_the_inspection_standing() -> None:
    looked, aired = LOOK | {"at": "08:00"}, AIR | {"at": "09:00", "left": "failed"}
    answer = found([gloves("G", "rubber-gloves", records=[looked, aired, TEST])], [OSHA])
    assert answer["inspected", "G"]["outcome"] == "met"
    assert answer["air-test-done", "G"]["outcome"] == answer["not-held", "G"]["outcome"] == "not-met"
    answer = found([gloves("G", "rubber-gloves", records=[AIR | {"at": "08:00"}, aired, TEST])], [OSHA])
    assert answer["inspected", "G"]["outcome"] == "not-met"


@pytest.mark.parametrize(
    ("kind", "repair", "name", "expected"),
    [
        ("rubber-gloves", "trimmed", OSHA, "not-met"),
        ("rubber-sleeves", "cut-shorter", OSHA, "not-met"),
        ("rubber-sleeves", "patched", OSHA, "met"),
        ("insulating-blanket", "cut-shorter", OSHA, "not-met"),
        ("line-hose", "trimmed", OSHA, "not-met"),
        ("line-hose", "patched", OSHA, "cannot-tell"),
        ("line-hose", "cut-shorter", OSHA, "met"),
        ("insulating-cover", "trimmed", OSHA, "cannot-tell"),
        ("line-hose", "cut-shorter", IEC, "cannot-tell"),
        ("line-hose", "cut-shorter", "us-telecom-268", "cannot-tell"),
        ("line-hose", "patched", "us-telecom-268", "not-met"),
    ],
)
def test_repairs(kind: str, repair: str, name: str, expected: str) -> None:
    event = {"what": "event", "on": ON - timedelta(days=40), "kind": "repaired", "repair": repair, "place": "cuff"}
    answer = found([gloves("E", kind, records=[LOOK, event, TEST])], [name], "all")
    assert answer["repair-allowed", "E"]["outcome"] == expected


def test_telecom_has_no_figure_for_bare_gloves_but_class_0() -> None:
    circuits = [{"key": "c", "supply": "isolated-dc", "maker_max_v": 100}]
    for glove_class, expected in (("0", "met"), ("00", "cannot-tell"), ("1", "cannot-tell")):
        pair = gloves("G", "rubber-gloves", **{"class": glove_class})
        bare = {"without_protectors": True, "dexterity_stated_by": "P9", "low_damage_risk_stated_by": "P9"}
        answer = found([pair], ["us-telecom-268"], "all", circuits=circuits, **bare)
        assert answer["protectors-worn", "G"]["outcome"] == expected


def exempt(*records: dict[str, Any]) -> dict[tuple[str, str], Any]:
    pair = gloves("G", "rubber-gloves", records=list(records), **{"class": "0"})
    site = {"confirmed_in_print": "all", "dielectric_exempt_00_0": {"approved_by": "P9", "reason": "annex E.5"}}
    case = {"on": ON, "rule_sets": [EN], "site": site, "pieces": [pair], "job": {"circuits": []}}
    return {(f["rule"], f["subject"]): f for f in judge(case)["findings"]}


def test_under_the_exemption_the_test_that_lasts_longer_decides() -> None:
    in_date = "electrical-test-in-date", "G"
    aired = AIR | {"on": date(2025, 10, 10)}
    tested = TEST | {"on": date(2025, 11, 20)}
    assert exempt(aired)[in_date]["good_until"] == date(2026, 4, 9)
    assert exempt(aired, tested)[in_date]["good_until"] == date(2026, 5, 19)
    assert exempt(AIR, tested)[in_date]["good_until"] == date(2026, 9, 1)


def test_nobody_is_exempted_from_a_failed_test() -> None:
    answer = exempt(AIR, TEST | {"result": "failed"})
    for rule in ("electrical-test-in-date", "electrical-test-counts", "not-held"):
        assert answer[rule, "G"]["outcome"] == "not-met"
    passed = TEST | {"on": ON - timedelta(days=60)}
    assert exempt(AIR, passed, TEST | {"result": "failed"})["electrical-test-counts", "G"]["outcome"] == "met"


def test_the_shelf_of_nfpa_waits_for_print() -> None:
    for tested, expected in (
        (date(2025, 9, 3), "met"),
        (date(2025, 9, 2), "cannot-tell"),
        (date(2025, 3, 2), "not-met"),
    ):
        pair = gloves("G", "rubber-gloves", first_issue="never", records=[TEST | {"on": tested}])
        answer = found([pair], ["us-nfpa-70e"])
        assert answer["electrical-test-in-date", "G"]["outcome"] == expected
