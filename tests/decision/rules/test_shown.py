"""What a finding shows beside its outcome: figures in the units people read, and what the sentence is filled with."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from app.decision.domain.finding import Finding
from tests import build
from tests.build import DAY, Table

AIR = {"what": "air-test", "on": DAY, "left": "passed", "right": "passed"}
TEST = build.gloves()["records"][0]


def findings(case: Table) -> dict[tuple[str, str], Finding]:
    verdict = build.verdict(case)
    return {(one.rule, one.subject): one for one in (*verdict.met, *verdict.stops)}


def full() -> Table:
    """The good world with a shield, a hook and a fuse, and an energy stated."""
    case = build.world(site={"altitude_m": 140})
    case["job"]["incident_energy_cal"] = 8.5
    case["job"]["circuits"][0]["reading_v"] = 800
    case["pieces"][1] |= {"leather_mm": 0.8}
    case["pieces"][2] |= {"fuse": {"kind": "hbc", "v": 1000, "ac_only": False}}
    case["pieces"] += [
        build.plain("S1", "arc-face-shield", arc_rating_cal=12, fabric_rating_cal=11, window_rating_cal=10, hood=True),
        build.plain("H1", "rescue-hook", voltage_mark={"dc_v": 1000}),
    ]
    return case


@pytest.mark.parametrize(
    ("rule", "subject", "measured", "required", "unit"),
    [
        ("air-test-done", "G1", 1.2, 1.5, "x"),
        ("altitude-within-mark", "D1", 140, 2000, "m"),
        ("arc-rating", "S1", 10, 8.5, "cal/cm2"),
        ("chain-stands-voltage", "D1", 1000, 914.76, "V"),
        ("circuit-in-scope", "traction", 831.6, None, "V"),
        ("class-known", "G1", "0", None, None),
        ("cuff-clearance", "G1", 35, 25, "mm"),
        ("data-agrees-with-reading", "traction", 800, 831.6, "V"),
        ("electrical-test-counts", "G1", date(2026, 1, 15), None, None),
        ("electrical-test-in-date", "G1", DAY, date(2026, 7, 14), None),
        ("fuse-fit", "D1", 1000, 914.76, "V"),
        ("glove-fits-wearer", "G1", 10, "10", "in"),
        ("input-stands-voltage", "D1", 1500, 914.76, "V"),
        ("insulation-class-stands-voltage", "G1", 1500, 914.76, "V"),
        ("person-authorised", "P1", None, "isolate", None),
        ("protector-fits-class", "L1", 0.8, 0.58, "mm"),
        ("protectors-worn", "G1", 1, 1, None),
        ("proving-unit-fits", "U1", 690, 12, "V"),
        ("tip-exposure", "D1", 2, 4, "mm"),
        ("voltage-mark-stands-voltage", "H1", 1000, 914.76, "V"),
        ("working-voltage-known", "traction", 831.6, None, "V"),
    ],
)
def test_figures_of_a_met_demand(rule: str, subject: str, measured: object, required: object, unit: str | None) -> None:
    case = full()
    assert build.verdict(case).may_be_issued
    found = findings(case)[rule, subject]
    assert (found.measured, found.required, found.unit) == (measured, required, unit)


SHORT: list[tuple[str, str, Table, Table]] = [
    ("chain-stands-voltage", "D1", {"marks": [["III", 600]]},
     {"measured": 600, "shortfall_v": 914.76 - 600, "member": "D1", "category": "III"}),
    ("input-stands-voltage", "D1", {"max_input_dc_v": 600}, {"measured": 600, "shortfall_v": 914.76 - 600}),
    ("fuse-fit", "D1", {"fuse": {"kind": "hbc", "v": 500, "ac_only": False}},
     {"measured": 500, "shortfall_v": 914.76 - 500}),
    ("voltage-mark-stands-voltage", "H1", {"voltage_mark": {"dc_v": 500}}, {"measured": 500, "shortfall_v": 914.76 - 500}),
    ("insulation-class-stands-voltage", "G1", {"class": "00"},
     {"measured": 750, "shortfall_v": 914.76 - 750, "insulation_class": "00"}),
    ("tip-exposure", "D1", {"tip_mm": 4.5}, {"measured": 4.5, "required": 4}),
    ("arc-rating", "S1", {"arc_rating_cal": 8}, {"measured": 8, "required": 8.5}),
    ("protector-fits-class", "L1", {"leather_mm": 0.5}, {"measured": 0.5, "required": 0.58}),
    ("protector-fits-class", "L1", {"leather_mm": 1.3}, {"measured": 1.3, "required": 1.2}),
    ("glove-fits-wearer", "G1", {"size": 12}, {"measured": 12, "required": "10", "person": "P1"}),
    ("altitude-within-mark", "D1", {"max_altitude_m": 100}, {"measured": 140, "required": 100}),
    ("proving-unit-fits", "U1", {"output_dc_v": 10}, {"measured": 10, "required": 12, "instrument": "D1"}),
    ("air-test-done", "G1", {"records": [TEST, {**AIR, "inflation": 1.6}]}, {"measured": 1.6, "required": 1.5}),
    ("air-test-done", "G1", {"records": [TEST, {**AIR, "inflation": 1, "defects": ["hole", "cut"]}]},
     {"defects": ("hole", "cut")}),
    ("air-test-done", "G1", {"records": [TEST, {**AIR, "left": "failed"}]}, {"defects": ("one-hand-failed",)}),
    ("not-held", "G1", {"records": [TEST, {**AIR, "left": "failed"}]},
     {"defects": ("one-hand-failed",), "since": "2026-03-02"}),
    ("not-held", "B1", {"records": [build.look(defects=["cracked", "damp"])]},
     {"defects": ("cracked", "damp"), "since": "2026-03-02"}),
    ("not-held", "B1", {"records": [build.look(), {"what": "hold", "on": "2026-02-01", "why": "recall"}]},
     {"why": "recall", "since": "2026-02-01"}),
    ("inspected", "B1", {"records": [build.look(defects=["cracked", "damp"])]}, {"defects": ("cracked", "damp")}),
    ("no-open-event", "D1", {"records": [*build.detector()["records"], {"what": "event", "kind": "wet", "on": "2026-02"}]},
     {"event": "wet", "day": "2026-02-01 to 2026-02-28"}),
    ("not-withdrawn", "B1", {"records": [build.look(), {"what": "withdrawal", "on": "2026-02-01"}]},
     {"since": "2026-02-01"}),
    ("at-hand", "B1", {"records": [build.look(), {"what": "issue", "on": "2026-02-01"}]}, {"since": "2026-02-01"}),
    ("at-hand", "B1", {"custody": "V7"}, {"holder": "V7"}),
    ("electrical-test-in-date", "G1", {"records": [{**TEST, "on": "2025-06-02"}, {**AIR, "inflation": 1}]},
     {"measured": DAY, "required": date(2025, 12, 1), "due_on": date(2025, 12, 2), "why": "from-test/6"}),
    ("electrical-test-in-date", "G1", {"records": [{**TEST, "result": "failed"}, {**AIR, "inflation": 1}]},
     {"day": "2026-01-15"}),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "subject", "change", "shown"), SHORT)
def test_what_a_refusal_shows(rule: str, subject: str, change: Table, shown: dict[str, Any]) -> None:
    case = full()
    next(one for one in case["pieces"] if one["code"] == subject).update(change)
    found = findings(case)[rule, subject]
    told = {"measured": found.measured, "required": found.required, **found.values}
    for name, value in shown.items():
        assert told[name] == (pytest.approx(value) if isinstance(value, float) else value), name
    assert found in build.verdict(case).stops


def test_the_missing_roles_are_named_together() -> None:
    case = build.world()
    case["pieces"] = [one for one in case["pieces"] if one["code"] not in ("B1", "K1")]
    assert findings(case)["task-roles-filled", "kit"].values["roles"] == ("barrier-set", "lock-off")


def test_the_earlier_bad_inflation_is_answered_by_a_later_good_one() -> None:
    over, good = {**AIR, "inflation": 1.6}, {**AIR, "inflation": 1.2}
    for first, second, rules in ((over, good, set()), (good, over, {"air-test-done"})):
        case = build.world()
        case["pieces"][0]["records"] = [TEST, {**first, "at": "07:00"}, {**second, "at": "08:00"}]
        assert build.stops(case) == rules


def test_the_weakest_member_of_a_chain_is_named() -> None:
    meter = build.plain("M1", "multimeter", marks=[["III", 800]])
    leads = build.plain("W1", "test-leads", marks=[["III", 600]], tip_mm=2, records=[build.look(caps="present")])
    case = build.world(pieces=[meter, leads])
    found = findings(case)["chain-stands-voltage", "M1+W1"]
    assert (found.values["member"], found.measured) == ("W1", 600)
    assert found.values["offers"] == (("M1", 800_000), ("W1", 600_000))


@pytest.mark.parametrize(
    ("threshold", "cautions"),
    [({"threshold_dc_v": 60, "threshold_ac_v": 30}, 0), ({"threshold_dc_v": 60.001, "threshold_ac_v": 12}, 1),
     ({"threshold_dc_v": 12, "threshold_ac_v": 30.001}, 1)],
)  # fmt: skip
def test_a_detector_that_shows_too_late_brings_a_caution(threshold: Table, cautions: int) -> None:
    case = build.world()
    case["pieces"][2].update(threshold)
    verdict = build.verdict(case)
    assert verdict.may_be_issued
    assert sum(one.key == "instrument-suits-task.threshold" for one in verdict.cautions) == cautions


@pytest.mark.parametrize(
    ("on", "cautions"), [("2026-01-14", 0), ("2026-01-15", 0), ("2026-01-16", 1), ("2026-02", 1), (None, 1)]
)
def test_a_paper_that_does_not_count_is_told_where_it_may_be_the_latest(on: str | None, cautions: int) -> None:
    unseen = {"what": "electrical-test", "result": "passed", "evidence": "sheet-only", "on": on}
    case = build.world()
    case["pieces"][0]["records"].append({key: value for key, value in unseen.items() if value is not None})
    verdict = build.verdict(case)
    assert verdict.may_be_issued
    assert sum(one.rule == "electrical-test-counts" for one in verdict.cautions) == cautions


@pytest.mark.parametrize(("energy", "beyond"), [(40, False), (40.001, True)])
def test_beyond_the_highest_arc_category_a_caution_rides_along(energy: float, beyond: bool) -> None:
    case = full()
    case["pieces"][-2] |= {"arc_rating_cal": 65, "fabric_rating_cal": 65, "window_rating_cal": 65}
    case["job"]["incident_energy_cal"] = energy
    verdict = build.verdict(case)
    assert [one.key for one in verdict.met if one.rule == "arc-rating"] == ["arc-rating.reaches"]
    assert ("arc-rating.beyond" in [one.key for one in verdict.cautions]) is beyond
