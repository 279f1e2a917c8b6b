"""What worked cases cannot say: the absence of a caution, decision level only, and readings of half-known things."""

from __future__ import annotations

from typing import Any

import pytest

from app.decision.domain.finding import Finding, Outcome
from app.decision.judging.judge import ask
from tests import build
from tests.build import Table


def found(rule: str, case: Table) -> list[Finding]:
    return [one for one in ask(build.facts(case), {rule}) if one.key != "no-demand"]


def outcomes(rule: str, case: Table) -> set[tuple[str, str]]:
    return {(one.subject, one.outcome.value) for one in found(rule, case) if one.outcome is not Outcome.CAUTION}


def with_piece(**changes: Table) -> Table:
    case = build.world()
    case["pieces"] = [changes.get(one["code"], one) for one in case["pieces"]]
    return case


def circuit(**keys: Any) -> Table:
    return {"task": "isolate-and-prove-dead", "circuits": [{"key": "traction", "category": "III", **keys}]}


def test_two_millimetres_of_tip_bring_no_caution() -> None:
    assert all(one.outcome is Outcome.MET for one in found("tip-exposure", with_piece(D1=build.detector(tip_mm=2))))
    over = found("tip-exposure", with_piece(D1=build.detector(tip_mm=2.001)))
    assert Outcome.CAUTION in {one.outcome for one in over}


def test_the_looser_clearance_waits_for_its_approver_and_its_print() -> None:
    close = build.protectors(length_mm=330)  # 360 - 330 - 15 = 15 mm: below 25, above 13
    approved = [{"key": "clearance_table", "approved_by": "P9", "reason": "agreed"}]
    for site, outcome in (
        ({"clearance_table": "astm-f496"}, "not-met"),
        ({"clearance_table": "astm-f496", "approvals": approved}, "cannot-tell"),
        (
            {
                "clearance_table": "astm-f496",
                "approvals": approved,
                "confirmed_in_print": ["house/clearance/astm-f496/0"],
            },
            "met",
        ),
    ):
        case = {**with_piece(L1=close), "site": site}
        assert outcomes("cuff-clearance", case) == {("G1", outcome)}


def test_a_threshold_not_stated_cannot_be_told_at_an_issue() -> None:
    dumb = {key: value for key, value in build.detector().items() if not key.startswith("threshold")}
    assert outcomes("proving-unit-fits", with_piece(D1=dumb)) == {("U1", "cannot-tell")}
    assert outcomes("proving-unit-fits", {**with_piece(D1=dumb), "level": "finding"}) == {("U1", "met")}


@pytest.mark.parametrize(("confirmed", "outcome"), [([], "cannot-tell"), (["us-osha-137/repair-place"], "met")])
def test_a_repair_waits_for_its_print(confirmed: list[str], outcome: str) -> None:
    event = {"what": "event", "kind": "patched", "on": "2025-12-01", "place": "cuff"}
    pair = build.gloves(records=[event, *build.gloves()["records"]])
    case = {**with_piece(G1=pair), "site": {"altitude_m": 1, "confirmed_in_print": confirmed}}
    assert outcomes("repair-allowed", case) == {("G1", outcome)}


def test_phase_to_earth_waits_for_its_footnote() -> None:
    job = circuit(
        supply="ac-three-phase", maker_max_v=1700, phase_to_earth_v=980, phase_to_earth_confirmed_by="P9",
    )  # fmt: skip
    for confirmed, outcome in (([], "not-met"), (["us-osha-137/phase-to-earth"], "met")):
        case = build.world(job=job, site={"confirmed_in_print": confirmed})
        assert outcomes("insulation-class-stands-voltage", case) == {("G1", outcome)}


def test_one_of_fabric_and_window_tells_nothing_of_the_other() -> None:
    shield = build.plain("S1", "arc-face-shield", fabric_rating_cal=40, hood=True)
    case = build.world(job={**circuit(supply="isolated-dc", maker_max_v=400), "incident_energy_cal": 5})
    case["pieces"].append(shield)
    assert outcomes("arc-rating", case) == {("S1", "cannot-tell")}


def test_times_of_day_decide_between_two_checks() -> None:
    def air(at: str, left: str) -> Table:
        return {"what": "air-test", "on": build.DAY, "at": at, "left": left, "right": "passed", "inflation": 1.2}

    test = build.gloves()["records"][0]
    later_good = build.gloves(records=[test, air("07:00", "failed"), air("08:00", "passed")])
    later_bad = build.gloves(records=[test, air("07:00", "passed"), air("08:00", "failed")])
    assert outcomes("air-test-done", with_piece(G1=later_good)) == {("G1", "met")}
    assert outcomes("air-test-done", with_piece(G1=later_bad)) == {("G1", "not-met")}
    # The defect found in the morning still holds the pair, whatever the second test says.
    assert ("G1", "not-met") in outcomes("not-held", with_piece(G1=later_good))
    return_only = {"what": "return", "on": build.DAY}
    voided = build.gloves(records=[test, air("07:00", "passed"), return_only])
    assert outcomes("air-test-done", with_piece(G1=voided)) == {("G1", "not-met")}


def test_a_pair_goes_to_the_wearer_it_fits() -> None:
    second = {"code": "P2", "scopes": ["live"], "glove_sizes": [8]}
    case = build.world(second=second, job={"task": "work-in-open-live-pack", "circuits": []})
    case["pieces"] += [build.gloves("G2", size=8), build.protectors("L2")]
    assert outcomes("glove-fits-wearer", case) == {("G1", "met"), ("G2", "met")}
    case["pieces"][-2]["size"] = 10
    assert ("G2", "not-met") in outcomes("glove-fits-wearer", case) or ("G1", "not-met") in outcomes(
        "glove-fits-wearer", case
    )


@pytest.mark.parametrize(
    ("categories", "outcome"), [(["II"], "met"), (["II", "II"], "met"), (["II", "III"], "not-met"), ([], "not-met")]
)
def test_a_long_tip_is_for_circuits_that_are_all_of_category_ii(categories: list[str], outcome: str) -> None:
    case = with_piece(D1=build.detector(tip_mm=19))
    case["site"] = {
        "tip_profile": "iec",
        "approvals": [{"key": "tip_profile", "approved_by": "P9", "reason": "agreed"}],
    }
    case["job"]["circuits"] = [
        {"key": f"c{number}", "supply": "ac-single-phase", "maker_max_v": 230, "category": category}
        for number, category in enumerate(categories)
    ]
    assert outcomes("tip-exposure", case) == {("D1", outcome)}
