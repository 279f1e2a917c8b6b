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
_IN_ORDER = "at level finding this judge takes what is not written to be in order, the program judges what is written"
_OTHER_KEYS = "the format names no key for it, and this judge chose another name"
# Cases of the project's own that this judge reads otherwise, each with the reason; see READINGS.md.
READ_OTHERWISE = {
    "figure-confirmed-in-print": _OTHER_KEYS,
    "hands-single": _OTHER_KEYS,
    "second-not-asked": _OTHER_KEYS,
    "second-isolate-on": _OTHER_KEYS,
    "size-unknown": _IN_ORDER,
    "sizes-of-nobody": _IN_ORDER,
    "fuse-dc-unknown": _IN_ORDER,
    "person-nobody": _IN_ORDER,
    "repair-place-unknown": _IN_ORDER,
    "chain-no-leads": "leads not stated: cannot tell here, not met there; both refuse",
}


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
    """The project's own cases, and those laid beside the checkout where there are any."""
    cases: list[dict[str, Any]] = []
    for file in (*sorted(_OWN.glob("*.toml")), *sorted(_BESIDE.glob("*.toml"))):
        cases += tomllib.loads(file.read_text(encoding="utf-8")).get("case", [])
    return [case for case in cases if _in_scope(case) and case["id"] not in READ_OTHERWISE]


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


def test_what_is_read_otherwise_is_still_there() -> None:
    own = [tomllib.loads(file.read_text(encoding="utf-8"))["case"] for file in _OWN.glob("*.toml")]
    assert set(READ_OTHERWISE) <= {case["id"] for cases in own for case in cases}


def test_enough_published_cases_ran() -> None:
    assert len(CASES) >= LEAST_CASES
