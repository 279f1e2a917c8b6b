"""The second judge against the worked cases of published tables and common practice that it was written for."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from . import KINDS_IN_SCOPE, RULE_SET, RULES_IN_SCOPE, judge

_BESIDE = Path(__file__).parents[3] / "shared" / "cases"
_OWN = Path(__file__).parents[1] / "rulesets" / "cases"
LEAST_CASES = 60


def _in_scope(case: dict[str, Any]) -> bool:
    """Level, rule set, every kind and every expected rule are the judge's own."""
    rules = {e["rule"] for e in case.get("expect", {}).get("findings", [])}
    kinds = {p.get("kind") for p in case.get("pieces", [])}
    return (
        case.get("level") in {"decision", "finding"}
        and list(case.get("rule_sets") or [RULE_SET]) == [RULE_SET]
        and kinds <= KINDS_IN_SCOPE
        and rules <= RULES_IN_SCOPE
    )


def _published() -> list[dict[str, Any]]:
    folder = _BESIDE if _BESIDE.is_dir() else _OWN
    cases: list[dict[str, Any]] = []
    for file in sorted(folder.glob("*.toml")):
        cases += tomllib.loads(file.read_text(encoding="utf-8")).get("case", [])
    return [case for case in cases if _in_scope(case)]


CASES = _published()


def _answers(expected: dict[str, Any], found: dict[str, Any]) -> bool:
    """A finding answers an expectation in all that the expectation names; cautions are not this judge's."""
    return all(found[key] == value for key, value in expected.items() if key != "caution")


@pytest.mark.parametrize("case", CASES, ids=[str(case["id"]) for case in CASES])
def test_agrees_with_the_published_case(case: dict[str, Any]) -> None:
    judged = judge(case)
    expect = case["expect"]
    assert "findings" in expect or "decision" in expect
    if "decision" in expect:
        assert judged["decision"] == expect["decision"], judged["findings"]
    for expected in expect.get("findings", []):
        of_rule = [f for f in judged["findings"] if f["rule"] == expected["rule"]]
        assert any(_answers(expected, f) for f in of_rule), of_rule


def test_enough_published_cases_ran() -> None:
    assert len(CASES) >= LEAST_CASES
