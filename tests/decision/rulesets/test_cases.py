"""The worked cases of the project, and those laid beside the checkout where there are any, by the runner of `judge`."""

from __future__ import annotations

from collections import Counter, defaultdict
from functools import cache
from pathlib import Path

import pytest
from msgspec.structs import replace

from app.decision.case.case import Case, read_cases
from app.decision.judging.catalogues import catalogues
from app.decision.judging.worked_cases import run_case
from docs.generator.sources_page import behind

OURS = sorted((Path(__file__).parent / "cases").glob("*.toml"))
BESIDE = sorted((Path(__file__).parents[4] / "shared" / "cases").glob("*.toml"))


@cache
def cases_of(path: Path) -> tuple[Case, ...]:
    return read_cases(path.read_text(encoding="utf-8"), path.name)


@pytest.mark.parametrize("path", OURS, ids=lambda path: path.stem)
def test_our_cases_come_out_as_written(path: Path) -> None:
    results = [run_case(case) for case in cases_of(path)]
    assert len(results) >= 15
    assert [(one.id, one.why) for one in results if one.state != "passed"] == []


def test_every_rule_has_a_case_on_either_side() -> None:
    sides: dict[str, set[str]] = defaultdict(set)
    for path in OURS:
        for case in cases_of(path):
            for expected in case.expected:
                sides[expected.rule].add(expected.outcome)
    lacking = {rule: sides[rule] for rule in catalogues().rules if not ({"met"} < sides[rule])}
    assert lacking == {}


UNSEEN = sorted((Path(__file__).parents[2] / "outside" / "unseen").glob("*.toml"))


@pytest.mark.parametrize("path", [*OURS, *UNSEEN], ids=lambda path: path.stem)
def test_every_case_names_what_it_rests_on(path: Path) -> None:
    """A document of docs/sources.md, or, where the letter says so, house policy or what follows by arithmetic."""
    assert [case.source for case in cases_of(path) if case.confidence not in ("H", "D") and not is_listed(case)] == []


def is_listed(case: Case) -> bool:
    try:
        return bool(behind(case.source))
    except LookupError:
        return False


def test_a_source_that_is_nowhere_listed_is_found() -> None:
    (case,) = [case for case in cases_of(OURS[0]) if case.confidence == "S"][:1]
    assert is_listed(case)
    assert not is_listed(replace(case, source="facts T1"))


def test_ids_stand_once() -> None:
    ids = Counter(case.id for path in OURS for case in cases_of(path))
    assert [name for name, times in ids.items() if times > 1] == []


@pytest.mark.skipif(not BESIDE, reason="no cases lie beside this checkout")
def test_the_cases_beside_pass_or_wait_for_something_named() -> None:
    results = [run_case(case) for path in BESIDE for case in cases_of(path)]
    assert [(one.id, one.why) for one in results if one.state == "failed"] == []
    assert sum(one.state == "passed" for one in results) >= 170
    assert all(one.why for one in results if one.state == "waiting")
