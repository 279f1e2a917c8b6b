"""Which site rules are looser than shipped, and who offers them."""

from __future__ import annotations

from typing import Any

import pytest

from app.decision.domain.errors import BadInput
from app.decision.domain.limits import Approval, SiteRules
from app.decision.judging.catalogues import catalogues
from app.decision.judging.looser import hold_to_offers, looser_rules, unoffered_rules

KNOWN = catalogues()
EXEMPT = Approval("dielectric_exempt_00_0", "P9", "annex E.5")


def unoffered(sets: tuple[str, ...], **rules: Any) -> tuple[str, ...]:
    return unoffered_rules(SiteRules(**rules), KNOWN.house, [KNOWN.rule_sets[one] for one in sets])


@pytest.mark.parametrize(
    ("rules", "key"),
    [
        ({"tip_profile": "iec"}, "tip_profile"), ({"clearance_table": "astm-f496"}, "clearance_table"),
        ({"figures_required": False}, "figures_required"), ({"second_person_measure": False}, "second_person_measure"),
        ({"without_protectors_reading": "us-osha-137"}, "without_protectors_reading"),
        ({"dielectric_exempt_00_0": EXEMPT}, "dielectric_exempt_00_0"), ({"margin_bp": 0}, "margin_percent"),
    ],
)  # fmt: skip
def test_a_looser_rule_is_known_as_one(rules: dict[str, Any], key: str) -> None:
    assert looser_rules(SiteRules(**rules), KNOWN.house) == (key,)


def test_what_is_tighter_or_as_shipped_is_not() -> None:
    assert looser_rules(SiteRules(margin_bp=1000, second_person_isolate=True, warning_days=90), KNOWN.house) == ()


@pytest.mark.parametrize(
    ("rules", "offering", "other"),
    [
        ({"figures_required": False}, "us-nfpa-70e", "iec-60903-2014"),
        ({"without_protectors_reading": "us-osha-137"}, "us-osha-137", "us-nfpa-70e"),
        ({"dielectric_exempt_00_0": EXEMPT}, "en-60903-2003", "us-osha-137"),
    ],
)
def test_a_looser_rule_stands_only_where_a_chosen_set_offers_it(
    rules: dict[str, Any], offering: str, other: str
) -> None:
    assert unoffered((offering,), **rules) == ()
    assert unoffered((other, offering), **rules) == ()
    assert unoffered((other,), **rules) == tuple(rules)


def test_house_policy_offers_its_own_under_every_set() -> None:
    rules: dict[str, Any] = {"tip_profile": "iec", "clearance_table": "astm-f496", "second_person_measure": False}
    assert unoffered(("jp-351",), **rules, margin_bp=0) == ()


@pytest.mark.parametrize(("file", "begin", "place"), [("", "rules", ""), ("depot.toml", "site", "site")])
def test_what_is_not_offered_or_has_no_approver_is_named_with_its_file(file: str, begin: str, place: str) -> None:
    sets = [KNOWN.rule_sets["iec-60903-2014"]]
    with pytest.raises(BadInput) as told:
        hold_to_offers(SiteRules(figures_required=False), KNOWN.house, sets, file)
    assert (told.value.key, told.value.thing, told.value.file, told.value.place) == (
        f"{begin}.looser-not-offered", "figures_required", file, place,
    )  # fmt: skip
    assert told.value.values["sets"] == (sets[0].title,)
    with pytest.raises(BadInput) as told:
        hold_to_offers(SiteRules(tip_profile="iec"), KNOWN.house, sets, file)
    assert (told.value.key, told.value.thing, told.value.file, told.value.place) == (
        f"{begin}.looser-without-approver", "tip_profile", file, place,
    )  # fmt: skip


def test_what_is_offered_and_approved_stands_and_the_exemption_brings_its_approver() -> None:
    approved = Approval("tip_profile", "P9", "agreed at the depot")
    hold_to_offers(SiteRules(tip_profile="iec", approvals=(approved,)), KNOWN.house, [KNOWN.rule_sets["jp-351"]])
    hold_to_offers(SiteRules(dielectric_exempt_00_0=EXEMPT), KNOWN.house, [KNOWN.rule_sets["en-60903-2003"]])
