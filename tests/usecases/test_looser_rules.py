"""Looser readings: what house policy or a chosen set offers stands with a name and a reason, anything else is refused."""

from __future__ import annotations

from typing import Any

import pytest

from app.register.reads.site_rules import depot_rules
from app.usecases.desk import Desk
from app.usecases.load_register import load_depot
from app.usecases.set_rule import set_rule
from tests.usecases.conftest import Refused

EXEMPTION = "dielectric_exempt_00_0"
BY_E5 = {"approved_by": "P9", "reason": "annex E.5, air and visual checks each day"}
EN, NFPA, OSHA = ["en-60903-2003"], ["us-nfpa-70e"], ["us-osha-137"]
READING = {"without_protectors_reading": "us-osha-137"}


def test_the_exemption_is_taken_under_the_set_that_offers_it_and_under_no_other(desk: Desk, refused: Refused) -> None:
    told = refused(lambda: set_rule(desk, "P9", {EXEMPTION: BY_E5}))
    assert (told.key, told.thing, told.values["sets"]) == (
        "rules.looser-not-offered", EXEMPTION, ("US 1910.137 (adopted practice)",),
    )  # fmt: skip
    set_rule(desk, "P9", {"rule_sets": EN})
    set_rule(desk, "P9", {EXEMPTION: BY_E5})
    kept = desk.ask(depot_rules).site.dielectric_exempt_00_0
    assert kept is not None
    assert (kept.approved_by, kept.reason) == ("P9", BY_E5["reason"])


def test_the_exemption_may_be_typed_like_any_looser_rule(desk: Desk, refused: Refused) -> None:
    set_rule(desk, "P9", {"rule_sets": EN})
    assert refused(lambda: set_rule(desk, "P9", {EXEMPTION: True})).key == "rules.looser-without-approver"
    assert refused(lambda: set_rule(desk, "P9", {EXEMPTION: "approved"}, "P9")).key == "rules.looser-without-approver"
    assert refused(lambda: set_rule(desk, "P9", {EXEMPTION: "yes"}, "P9", "so")).key == "case.not-an-approval"
    assert refused(lambda: set_rule(desk, "P9", {EXEMPTION: {"reason": "so"}})).key == "case.key-missing"
    nobody = {**BY_E5, "approved_by": "P99"}
    assert refused(lambda: set_rule(desk, "P9", {EXEMPTION: nobody})).key == "store.unknown-person"
    set_rule(desk, "P9", {EXEMPTION: "approved"}, "P9", "annex E.5")
    assert refused(lambda: set_rule(desk, "P9", {EXEMPTION: True}, "P9", "annex E.5")).key == "entry.stands"
    kept = desk.ask(depot_rules).site.dielectric_exempt_00_0
    assert kept is not None
    assert (kept.approved_by, kept.reason) == ("P9", "annex E.5")


@pytest.mark.parametrize(
    ("sets", "rules", "is_offered"),
    [
        (OSHA, READING, True), (NFPA, READING, False), ([*NFPA, *OSHA], READING, True),
        (OSHA, {"figures_required": False}, True), (EN, {"figures_required": False}, False),
        (EN, {"tip_profile": "iec"}, True), (EN, {"second_person_measure": False}, True),
        (NFPA, {"clearance_table": "astm-f496"}, True),
    ],
)  # fmt: skip
def test_what_a_set_or_house_policy_offers_is_taken_with_a_name(
    sets: list[str], rules: dict[str, Any], is_offered: bool, desk: Desk, refused: Refused
) -> None:
    if sets != OSHA:
        set_rule(desk, "P9", {"rule_sets": sets})
    if is_offered:
        assert refused(lambda: set_rule(desk, "P9", rules)).key == "rules.looser-without-approver"
        assert len(set_rule(desk, "P9", rules, "P9", "a trial of a quarter").entries) == 1
    else:
        told = refused(lambda: set_rule(desk, "P9", rules, "P9", "a trial of a quarter"))
        assert (told.key, told.thing) == ("rules.looser-not-offered", *rules)


def test_a_set_that_takes_away_what_is_in_force_is_refused_naming_both(desk: Desk, refused: Refused) -> None:
    set_rule(desk, "P9", READING, "P9", "the US text alone")
    told = refused(lambda: set_rule(desk, "P9", {"rule_sets": EN}))
    assert (told.key, told.thing) == ("rules.set-takes-offer", "without_protectors_reading")
    assert (told.values["sets"], told.values["others"]) == (("EN 60903:2003",), ("US 1910.137 (adopted practice)",))
    # In one act, or with the old set kept beside the new one.
    set_rule(desk, "P9", {"rule_sets": [*EN, *OSHA]})
    set_rule(desk, "P9", {"rule_sets": EN, "without_protectors_reading": None})
    assert desk.ask(depot_rules).rule_sets == ("en-60903-2003",)


def test_a_set_without_limits_for_dc_says_so_when_it_is_chosen(desk: Desk) -> None:
    saved = set_rule(desk, "P9", {"rule_sets": ["jp-351", "gb-17622"]})
    assert [(one.key, one.values["set"]) for one in saved.told] == [
        ("set.no-dc-limits", "Japan, article 351"), ("set.no-dc-limits", "China, GB/T 17622-2008"),
    ]  # fmt: skip
    assert set_rule(desk, "P9", {"warning_days": 20}).told == ()
    assert set_rule(desk, "P9", {"rule_sets": OSHA}).told == ()
    told = load_depot(desk, "P9", {"site": {"rule_sets": ["jp-351"]}}).told
    assert [one.key for one in told] == ["set.no-dc-limits"]


def _approved(key: str) -> list[dict[str, str]]:
    return [{"key": key, "approved_by": "P9", "reason": "29 CFR 1910.137, own copy"}]


@pytest.mark.parametrize(
    ("site", "key", "thing"),
    [
        ({EXEMPTION: BY_E5}, "site.looser-not-offered", EXEMPTION),
        ({**READING, "rule_sets": NFPA, "approvals": _approved(*READING)}, "site.looser-not-offered", *READING),
        ({"tip_profile": "iec"}, "site.looser-without-approver", "tip_profile"),
        ({"margin_percent": 5}, "site.looser-without-approver", "margin_percent"),
        ({"confirmed_in_print": "all"}, "site.confirmed-all", "confirmed_in_print"),
        ({"confirmed_in_print": ["us-osha-137/current/1/360"]}, "site.confirmed-by-nobody", "confirmed_in_print"),
        ({"confirmed_in_print": ["us-osha-137/current/1"], "approvals": _approved("confirmed_in_print")},
         "rules.unknown-figure", "us-osha-137/current/1"),
    ],
)  # fmt: skip
def test_a_depot_file_that_loosens_what_nobody_offers_is_refused_whole(
    site: dict[str, Any], key: str, thing: str, desk: Desk, refused: Refused
) -> None:
    told = refused(lambda: load_depot(desk, "P9", {"people": [{"code": "P5"}], "site": site}, "depot.toml"))
    assert (told.key, told.file, told.place, told.thing) == (key, "depot.toml", "site", thing)


def test_a_depot_file_confirms_figures_by_the_name_and_document_of_its_approval(desk: Desk, refused: Refused) -> None:
    listed = {"confirmed_in_print": ["us-osha-137/current/1/360"], "approvals": _approved("confirmed_in_print")}
    load_depot(desk, "P0", {"site": listed})
    assert desk.ask(depot_rules).site.confirmed_in_print == frozenset({"us-osha-137/current/1/360"})
    by_nobody = {**listed, "approvals": [{**_approved("confirmed_in_print")[0], "approved_by": "P99"}]}
    assert refused(lambda: load_depot(desk, "P0", {"site": by_nobody}, "depot.toml")).key == "store.unknown-person"
    assert load_depot(desk, "P0", {"site": {"confirmed_in_print": []}}).entries == ()
