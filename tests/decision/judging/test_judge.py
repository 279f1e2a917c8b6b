"""The decision as a whole: every set must allow, looser site rules are shown, and what nobody judges never goes out."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Finding
from app.decision.domain.limits import RuleSet
from app.decision.judging.catalogues import catalogues
from app.decision.judging.judge import ask, judge
from app.decision.judging.looser import looser_rules
from tests import build
from tests.build import Table

SET = catalogues().rule_sets["us-osha-137"]
STRICT = replace(
    SET, key="stricter", title="Stricter", limits={**SET.limits, "use/dc/0": replace(SET.limits["use/dc/0"], value=900_000)}
)  # fmt: skip
EMPTY = replace(SET, key="empty", title="Empty", covers={})


def under(*sets: RuleSet, case: Table | None = None) -> Facts:
    return replace(build.facts(case or build.world()), rule_sets=sets, _memo={}, _chains={})


def approved(key: str) -> Table:
    return {"key": key, "approved_by": "P9", "reason": "agreed with the insurer"}


def site_cautions(**site: Any) -> list[tuple[str, str]]:
    verdict = build.verdict(build.world(site={"altitude_m": 140, **site}))
    return [(one.subject, one.key) for one in verdict.cautions if one.rule == "site-rules"]


def test_each_set_judges_and_all_must_allow() -> None:
    assert judge(under(SET)).may_be_issued
    for sets in ((SET, STRICT), (STRICT, SET)):
        verdict = judge(under(*sets))
        assert [(one.rule, one.basis.rule_set) for one in verdict.stops] == [
            ("insulation-class-stands-voltage", "stricter")
        ]


def test_a_set_that_does_not_cover_a_classed_kind_says_so() -> None:
    verdict = judge(under(SET, EMPTY))
    assert [(one.key, one.subject, one.basis.rule_set) for one in verdict.stops] == [
        ("class-known.kind-not-covered", "G1", "empty")
    ]


def test_a_kind_no_line_of_house_policy_covers_is_never_issued() -> None:
    facts = build.facts(build.world())
    covers = {kind: rules for kind, rules in facts.house.covers.items() if kind != "barrier-set"}
    verdict = judge(replace(facts, house=replace(facts.house, covers=covers)))
    assert verdict.stops == ()
    assert not verdict.may_be_issued


def test_nothing_scanned_is_never_issued() -> None:
    assert not judge(build.facts(build.world(pieces=[]))).may_be_issued


@pytest.mark.parametrize(
    ("site", "keys"),
    [
        ({}, []),
        ({"tip_profile": "gs38", "figures_required": True, "second_person_measure": True}, []),
        ({"second_person_isolate": True}, []),
        ({"tip_profile": "iec"}, ["tip_profile"]),
        ({"clearance_table": "astm-f496"}, ["clearance_table"]),
        ({"figures_required": False}, ["figures_required"]),
        ({"without_protectors_reading": "us-osha-137"}, ["without_protectors_reading"]),
        ({"second_person_measure": False}, ["second_person_measure"]),
        ({"margin_percent": 10}, []),
        ({"margin_percent": 50}, []),
        ({"margin_percent": 9.99}, ["margin_percent"]),
        ({"margin_percent": 0, "tip_profile": "iec"}, ["tip_profile", "margin_percent"]),
    ],
)
def test_looser_site_rules_are_shown_with_their_approver(site: Table, keys: list[str]) -> None:
    facts = build.facts(build.world(site=site))
    assert list(looser_rules(facts.site, facts.house)) == keys
    assert site_cautions(**site) == [(key, "site-rule.not-applied") for key in keys]
    approvals = [approved(key) for key in keys]
    assert site_cautions(**site, approvals=approvals) == [(key, "site-rule.applied") for key in keys]


def test_the_approver_and_the_reason_are_named() -> None:
    verdict = build.verdict(build.world(site={"tip_profile": "iec", "approvals": [approved("tip_profile")]}))
    (found,) = (one for one in verdict.cautions if one.rule == "site-rules")
    assert found.values == {"approved_by": "P9", "reason": "agreed with the insurer"}


@pytest.mark.parametrize(
    ("site", "need"),
    [
        ({}, 914.76),
        ({"margin_percent": 20}, 997.92),
        ({"margin_percent": 5}, 914.76),  # lower without an approver is not applied
        ({"margin_percent": 5, "approvals": [approved("margin_percent")]}, 873.18),
        ({"margin_percent": 0, "approvals": [approved("margin_percent")]}, 831.6),
    ],
)
def test_margins_of_the_site(site: Table, need: float) -> None:
    facts = build.facts(build.world(site=site))
    needed = facts.required(facts.job.circuits[0])
    assert needed is not None
    assert needed.volts == need


def test_a_raised_margin_bears_on_stated_maxima_too() -> None:
    job = {"task": "isolate-and-prove-dead", "circuits": [{"key": "t", "supply": "isolated-dc", "maker_max_v": 400}]}
    for site, need in (({}, 400), ({"margin_percent": 20}, 480), ({"margin_percent": 5}, 420)):
        facts = build.facts(build.world(job=job, site=site))
        needed = facts.required(facts.job.circuits[0])
        assert needed is not None
        assert needed.volts == need


def figures(verdict_findings: tuple[Finding, ...]) -> list[Finding]:
    return [one for one in verdict_findings if one.rule == "figures"]


def test_figures_not_seen_in_primary_text_are_folded_into_one_caution() -> None:
    verdict = build.verdict(build.world())
    (found,) = figures(verdict.cautions)
    clauses = {one.basis.clause for one in verdict.met if one.basis.confidence in ("S", "T")}
    assert found.values["count"] == len({clause.replace("; house policy", "") for clause in clauses})
    assert str(found.values["clauses"]).count(" | ") == len(clauses) - 1


def test_where_all_is_primary_or_house_policy_there_is_no_such_caution() -> None:
    verdict = build.verdict(build.world(pieces=[], job={"task": "isolate-and-prove-dead", "circuits": []}))
    primary = [one for one in verdict.findings if one.basis.confidence not in ("S", "T")]
    assert (figures(verdict.cautions) == []) == (len(primary) == len(verdict.findings))


def test_named_rules_alone_are_asked_in_any_order() -> None:
    facts = build.facts(build.world())
    names = ["place-dry", "circuit-in-scope", "inspected"]
    found = ask(facts, names)
    assert {one.rule for one in found} == set(names)
    assert found == ask(facts, names[::-1])
    assert ask(facts, []) == ()


def test_a_rule_of_no_sort_is_not_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    from app.decision.domain.finding import Renewal
    from app.decision.domain.rule import Rule

    bare = Rule("bare", Renewal.EACH_ISSUE, "nowhere")
    known = catalogues()
    monkeypatch.setattr(
        "app.decision.judging.judge.catalogues", lambda: replace(known, rules={**known.rules, "bare": bare})
    )  # fmt: skip
    assert ask(build.facts(build.world()), ["bare"]) == ()
