"""Every figure of the rule set and of house policy moved by one unit: some worked case must fail."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from types import ModuleType
from typing import Any

import pytest
from msgspec.structs import replace

from app.domain import electrical_test, voltage
from app.domain.limits import Limit, TestInterval
from app.judging import catalogues as catalogues_module
from app.judging import cure as cure_module
from app.judging import judge as judge_module
from app.judging import worked_cases
from app.judging.catalogues import Catalogues, catalogues
from app.judging.worked_cases import run_case
from tests.rulesets.test_cases import OURS, cases_of

MODULES: tuple[ModuleType, ...] = (catalogues_module, judge_module, worked_cases, cure_module)
SET = catalogues().rule_sets["us-osha-137"]
HOUSE = catalogues().house
CASES = [case for path in OURS for case in cases_of(path)]
# Figures that no outcome can show, and in which direction, each with the reason.
NOT_SHOWN = {
    "us-osha-137/phase-to-earth": ((-1, 1), "a footnote to be confirmed, not a figure"),
    "us-osha-137/repair-place": ((-1, 1), "a place to be confirmed, not a figure"),
    "us-osha-137/bare/ac/00": ((1,), "half the use voltage stands beside it, and the lower of the two decides"),
    "us-osha-137/bare/dc/00": ((1,), "half the use voltage stands beside it, and the lower of the two decides"),
    "house/tip/gs38-preferred": ((-1,), "a caution that must not be there; tests/rules holds it"),
    "house/arc/no-live-work-above": ((-1, 1), "advice of a later version, no demand asks it"),
}


def some_case_fails(known: Catalogues, monkeypatch: pytest.MonkeyPatch) -> bool:
    with monkeypatch.context() as patch:
        for module in MODULES:
            patch.setattr(module, "catalogues", lambda: known)
        return any(run_case(case).state == "failed" for case in CASES)


def with_set_limit(key: str, limit: Limit) -> Catalogues:
    known = catalogues()
    changed = replace(SET, limits={**SET.limits, key: limit})
    return replace(known, rule_sets={**known.rule_sets, SET.key: changed})


def with_house_limit(key: str, limit: Limit) -> Catalogues:
    known = catalogues()
    return replace(known, house=replace(HOUSE, limits={**HOUSE.limits, key: limit}))


def figures() -> Iterator[tuple[str, Callable[[Limit], Catalogues], Limit]]:
    for key, limit in SET.limits.items():
        yield limit.key, partial(with_set_limit, key), limit
    for key, limit in HOUSE.limits.items():
        yield limit.key, partial(with_house_limit, key), limit


FIGURES = [
    (key, put, limit, step)
    for key, put, limit in figures()
    for step in (-1, 1)
    if step not in NOT_SHOWN.get(key, ((), ""))[0]
]


@pytest.mark.parametrize(
    ("key", "put", "limit", "step"), FIGURES, ids=[f"{key}{step:+d}" for key, _, _, step in FIGURES]
)
def test_a_figure_moved_by_one_unit_is_noticed(
    key: str, put: Callable[[Limit], Catalogues], limit: Limit, step: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The voltage of a test is written down in whole volts, so a volt is its unit.
    unit = 1000 if "/retest/" in key or "/withstand/" in key else 1
    assert some_case_fails(put(replace(limit, value=limit.value + step * unit)), monkeypatch)


@pytest.mark.parametrize("key", sorted(NOT_SHOWN))
def test_what_is_left_out_exists(key: str) -> None:
    steps, reason = NOT_SHOWN[key]
    assert key in {one[0] for one in figures()}
    assert reason
    assert set(steps) <= {-1, 1}


@pytest.mark.parametrize("field", ["never", "reused"])
@pytest.mark.parametrize("step", [-1, 1])
def test_an_interval_moved_by_a_month_is_noticed(field: str, step: int, monkeypatch: pytest.MonkeyPatch) -> None:
    interval = SET.intervals["rubber-gloves"]
    assert isinstance(interval, TestInterval)
    moved: dict[str, Any] = {field: getattr(interval, field) + step}
    changed = replace(SET, intervals={"rubber-gloves": replace(interval, **moved)})
    known = catalogues()
    assert some_case_fails(replace(known, rule_sets={SET.key: changed}), monkeypatch)


@pytest.mark.parametrize("origin", sorted(HOUSE.margin_bp))
@pytest.mark.parametrize("step", [-1, 1])
def test_a_margin_moved_is_noticed(origin: str, step: int, monkeypatch: pytest.MonkeyPatch) -> None:
    margins = {**HOUSE.margin_bp, origin: HOUSE.margin_bp[origin] + step}
    known = catalogues()
    assert some_case_fails(replace(known, house=replace(HOUSE, margin_bp=margins)), monkeypatch)


@pytest.mark.parametrize("chemistry", sorted(voltage.CELL_MAX_MV))
@pytest.mark.parametrize("step", [-1, 1])
def test_a_cell_voltage_moved_is_noticed(chemistry: str, step: int, monkeypatch: pytest.MonkeyPatch) -> None:
    moved = {**voltage.CELL_MAX_MV, chemistry: voltage.CELL_MAX_MV[chemistry] + step}
    with monkeypatch.context() as patch:
        patch.setattr(voltage, "CELL_MAX_MV", moved)
        assert any(run_case(case).state == "failed" for case in CASES)


@pytest.mark.parametrize("name", ["CLASS_A_DC_MV", "CLASS_A_AC_MV", "SCOPE_DC_MV", "SCOPE_AC_MV", "INVERTER_RMS_BP"])
@pytest.mark.parametrize("step", [-1, 1])
def test_a_line_moved_is_noticed(name: str, step: int, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(voltage, name, getattr(voltage, name) + step)
        assert any(run_case(case).state == "failed" for case in CASES)


@pytest.mark.parametrize("name", ["LENGTH_TOLERANCE_UM", "SOAK_ALLOWANCE_UA", "TABLE_MHZ"])
@pytest.mark.parametrize("step", [-1, 1])
def test_a_figure_of_the_electrical_test_moved_is_noticed(
    name: str, step: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    # A length is written down in whole millimetres, a frequency in whole hertz.
    unit = 1 if name == "SOAK_ALLOWANCE_UA" else 1000
    with monkeypatch.context() as patch:
        patch.setattr(electrical_test, name, getattr(electrical_test, name) + step * unit)
        assert any(run_case(case).state == "failed" for case in CASES)
