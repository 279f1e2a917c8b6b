"""Faults planted in the program, one per rule: each must be found by the comparison."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from msgspec.structs import replace

from app.decision.domain.rule import Rule
from app.decision.judging import catalogues as catalogues_module
from app.decision.judging import judge as judge_module
from app.decision.judging import worked_cases as worked_cases_module
from app.decision.judging.catalogues import catalogues
from tests.oracle.agreement import compare, program, second
from tests.oracle.kits import SPOILERS, described

DRAWN = 8_000
SAMPLE = 40
# Rules whose planted fault always leaves another rule standing in the way, so that no wrong issue can come of it, with
# the reason. They must still be found: the second judge names the rule and the program does not.
COVERED = {
    "class-known": "without a class or with another system's, insulation-class-stands-voltage has no limit to compare",
    "working-voltage-known": "without a working voltage, whatever has to stand it cannot be told",
    "electrical-test-counts": "where no test counts, electrical-test-in-date has no test to count from",
    "inspection-in-date": "a look-over of this very day, which looked-over asks, renews the yearly one",
}
# The second judge's format has no key for a single glove, so no drawn kit can break this: see the last test.
NOT_DRAWN = {"hands-belong-together"}


@pytest.fixture(scope="module")
def spoiled() -> dict[str, list[dict[str, Any]]]:
    """By rule, kits that one fault of that rule was put into."""
    found: dict[str, list[dict[str, Any]]] = {}
    for number in range(DRAWN):
        kit, spoilers = described(7, number)
        if len(spoilers) == 1:
            found.setdefault(SPOILERS[spoilers[0]], []).append(kit)
    return {rule: kits[:SAMPLE] for rule, kits in found.items()}


@pytest.fixture
def plant(monkeypatch: pytest.MonkeyPatch) -> Callable[[str], None]:
    """Make one rule answer met whatever it is asked."""

    def act(name: str) -> None:
        known = catalogues()
        changed = replace(known, rules={**known.rules, name: _always_met(known.rules[name])})
        for module in (catalogues_module, judge_module, worked_cases_module):
            monkeypatch.setattr(module, "catalogues", lambda: changed)

    return act


def _always_met(rule: Rule) -> Any:
    return replace(rule, check=lambda *_: [rule.demand("planted").met("no-demand")])


def _wrong_issues(kits: list[dict[str, Any]]) -> int:
    return sum(program(kit).issued and not second(kit).issued for kit in kits)


def _unseen(rule: str, kits: list[dict[str, Any]]) -> int:
    return sum(rule in second(kit).stops - program(kit).stops for kit in kits)


def test_the_sample_reaches_every_rule(spoiled: dict[str, list[dict[str, Any]]]) -> None:
    assert set(spoiled) == set(catalogues().rules) - NOT_DRAWN
    assert min(len(kits) for kits in spoiled.values()) >= 5


def test_nothing_is_found_where_nothing_is_planted(spoiled: dict[str, list[dict[str, Any]]]) -> None:
    for kits in spoiled.values():
        assert _wrong_issues(kits[:5]) == 0


@pytest.mark.parametrize("rule", sorted(set(catalogues().rules) - NOT_DRAWN - set(COVERED)))
def test_a_planted_fault_issues_kit_that_the_second_judge_refuses(
    rule: str, spoiled: dict[str, list[dict[str, Any]]], plant: Callable[[str], None]
) -> None:
    plant(rule)
    assert _wrong_issues(spoiled[rule]) > 0


@pytest.mark.parametrize("rule", sorted(COVERED))
def test_a_covered_fault_issues_nothing_and_is_found_by_its_rule(
    rule: str, spoiled: dict[str, list[dict[str, Any]]], plant: Callable[[str], None]
) -> None:
    plant(rule)
    assert _wrong_issues(spoiled[rule]) == 0, f"no longer covered: {COVERED[rule]}"
    assert _unseen(rule, spoiled[rule]) > 0


def test_the_comparison_itself_counts_a_planted_fault_as_wrong(plant: Callable[[str], None]) -> None:
    plant("chain-stands-voltage")
    tally = compare(7, range(200))
    assert tally.wrong
    assert "a kit was issued that the second judge refuses" in tally.broken()


def test_a_single_glove_is_refused_and_its_planted_fault_issues_it(plant: Callable[[str], None]) -> None:
    kit = next(kit for kit, spoilers in (described(7, number) for number in range(50)) if not spoilers)
    gloves = next(piece for piece in kit["pieces"] if piece["kind"] == "rubber-gloves")
    gloves["hand"] = "left"
    assert program(kit).stops == {"hands-belong-together"}
    plant("hands-belong-together")
    assert program(kit).issued
