"""Every figure of every rule set moved by one unit, and every letter M taken for seen: some worked case must fail."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from app.decision.domain.limits import Limit, RuleSet
from app.decision.judging.catalogues import catalogues
from tests.decision.rulesets.noticed import about, notice

SETS = catalogues().rule_sets
_HALF = "half the use voltage stands beside it, and the lower of the two decides"
# Figures that no outcome can show, and in which direction, each with the reason.
NOT_SHOWN = {
    "us-osha-137/bare/ac/00": ((1,), _HALF),
    "us-osha-137/bare/dc/00": ((1,), _HALF),
    "us-wa-electrical/bare/ac/00": ((1,), _HALF),
    "us-wa-electrical/bare/dc/00": ((1,), _HALF),
    "us-nfpa-70e/bare/ac/00": ((1,), _HALF),
}
_CAUTION = "a caution only, and a caution needs no confirmation"
# Of letters: figures from memory whose confirmation changes no outcome. Begins of keys.
LETTER_NOT_SHOWN = {
    "us-osha-137/test-dwell/most": _CAUTION,
    "us-nfpa-70e/test-dwell/most": _CAUTION,
    "us-telecom-268/test-dwell/most": _CAUTION,
    "us-wa-electrical/test-dwell/most": _CAUTION,
    "gb-17622/current/": "the set prints no retest voltage, so no test by figures counts, confirmed or not",
}
MOVED = [
    (rule_set.key, key, step)
    for rule_set in SETS.values()
    for key, limit in rule_set.limits.items()
    for step in (-1, 1)
    if limit.unit != "statement" and step not in NOT_SHOWN.get(limit.key, ((), ""))[0]
]
FROM_MEMORY = [
    (rule_set.key, key)
    for rule_set in SETS.values()
    for key, limit in rule_set.limits.items()
    if limit.confidence == "M" and not limit.key.startswith(tuple(LETTER_NOT_SHOWN))
]
INTERVALS_FROM_MEMORY = [
    (rule_set.key, kind)
    for rule_set in SETS.values()
    for kind, intervals in rule_set.intervals.items()
    if any(one.confidence == "M" for one in intervals)
]


def with_limit(rule_set: RuleSet, key: str, limit: Limit) -> RuleSet:
    return replace(rule_set, limits={**rule_set.limits, key: limit})


@pytest.mark.parametrize(("name", "key", "step"), MOVED, ids=[f"{name}/{key}{step:+d}" for name, key, step in MOVED])
def test_a_figure_moved_by_one_unit_is_noticed(name: str, key: str, step: int, monkeypatch: pytest.MonkeyPatch) -> None:
    limit = SETS[name].limits[key]
    # The voltage of a test is written down in whole volts, so a volt is its unit.
    unit = 1000 if "retest" in key or "withstand" in key else 1
    moved = replace(limit, value=limit.value + step * unit)
    assert notice(with_limit(SETS[name], key, moved), about(*key.split("/")), monkeypatch)


@pytest.mark.parametrize(("name", "key"), FROM_MEMORY, ids=[f"{name}/{key}" for name, key in FROM_MEMORY])
def test_a_figure_from_memory_taken_for_seen_is_noticed(name: str, key: str, monkeypatch: pytest.MonkeyPatch) -> None:
    # The only way a statement can be wrong: it has no value, but without its confirmation it must refuse.
    seen = replace(SETS[name].limits[key], confidence="S")
    words = {"level:decision", *about(*key.split("/"))}
    assert notice(with_limit(SETS[name], key, seen), words, monkeypatch)


@pytest.mark.parametrize(("name", "kind"), INTERVALS_FROM_MEMORY, ids=[f"{a}/{b}" for a, b in INTERVALS_FROM_MEMORY])
def test_an_interval_from_memory_taken_for_seen_is_noticed(
    name: str, kind: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    intervals = SETS[name].intervals
    seen = {**intervals, kind: tuple(replace(one, confidence="S") for one in intervals[kind])}
    words = {"level:decision", *about(kind, "interval")}
    assert notice(replace(SETS[name], intervals=seen), words, monkeypatch)


def test_what_is_left_out_exists() -> None:
    limits = {limit.key: limit for rule_set in SETS.values() for limit in rule_set.limits.values()}
    assert set(NOT_SHOWN) <= set(limits)
    assert all(reason and set(steps) < {-1, 1} for steps, reason in NOT_SHOWN.values())
    for begins in LETTER_NOT_SHOWN:
        assert any(key.startswith(begins) and limit.confidence == "M" for key, limit in limits.items())
    assert all(limit.value == 0 and limit.confidence == "M" for limit in limits.values() if limit.unit == "statement")
