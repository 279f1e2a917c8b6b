"""Every figure of house policy, and of the voltages and tests, moved by one unit: some worked case must fail."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from app.decision.domain import electrical_test, voltage
from app.decision.domain.limits import HousePolicy
from app.decision.judging.catalogues import catalogues
from tests.decision.rulesets.noticed import about, house_cases, put, some_fails

HOUSE = catalogues().house
# Figures that no outcome can show, and in which direction, each with the reason.
NOT_SHOWN = {
    "house/tip/gs38-preferred": ((-1,), "a caution that must not be there; tests/decision/rules holds it"),
    "house/arc/no-live-work-above": ((-1,), "a caution that must not be there; tests/decision/rules holds it"),
}
DEMANDS = [(kind, rule) for kind, rules in HOUSE.covers.items() for rule in rules]
DEMANDS_NOT_SHOWN: dict[tuple[str, str], str] = {}
FIGURES = [
    (key, step)
    for key, limit in HOUSE.limits.items()
    for step in (-1, 1)
    if step not in NOT_SHOWN.get(limit.key, ((), ""))[0]
]


def some_case_fails(house: HousePolicy, monkeypatch: pytest.MonkeyPatch, *parts: str) -> bool:
    with monkeypatch.context() as patch:
        put(replace(catalogues(), house=house), patch)
        return some_fails(house_cases(), about(*parts))


@pytest.mark.parametrize(("key", "step"), FIGURES, ids=[f"{key}{step:+d}" for key, step in FIGURES])
def test_a_figure_moved_by_one_unit_is_noticed(key: str, step: int, monkeypatch: pytest.MonkeyPatch) -> None:
    limit = HOUSE.limits[key]
    limits = {**HOUSE.limits, key: replace(limit, value=limit.value + step)}
    assert some_case_fails(replace(HOUSE, limits=limits), monkeypatch, *key.split("/"))


@pytest.mark.parametrize("key", sorted(NOT_SHOWN))
def test_what_is_left_out_exists(key: str) -> None:
    steps, reason = NOT_SHOWN[key]
    assert key in {limit.key for limit in HOUSE.limits.values()}
    assert reason
    assert set(steps) <= {-1, 1}


def test_demands_left_out_exist() -> None:
    assert set(DEMANDS_NOT_SHOWN) <= set(DEMANDS)
    assert all(DEMANDS_NOT_SHOWN.values())


@pytest.mark.parametrize("origin", sorted(HOUSE.margin_bp))
@pytest.mark.parametrize("step", [-1, 1])
def test_a_margin_moved_is_noticed(origin: str, step: int, monkeypatch: pytest.MonkeyPatch) -> None:
    margins = {**HOUSE.margin_bp, origin: HOUSE.margin_bp[origin] + step}
    assert some_case_fails(replace(HOUSE, margin_bp=margins), monkeypatch, "what:required-voltage")


@pytest.mark.parametrize("chemistry", sorted(voltage.CELL_MAX_MV))
@pytest.mark.parametrize("step", [-1, 1])
def test_a_cell_voltage_moved_is_noticed(chemistry: str, step: int, monkeypatch: pytest.MonkeyPatch) -> None:
    moved = {**voltage.CELL_MAX_MV, chemistry: voltage.CELL_MAX_MV[chemistry] + step}
    with monkeypatch.context() as patch:
        patch.setattr(voltage, "CELL_MAX_MV", moved)
        assert some_fails(house_cases(), {"what:working-voltage", "rule:working-voltage-known"})


@pytest.mark.parametrize("name", ["CLASS_A_DC_MV", "CLASS_A_AC_MV", "SCOPE_DC_MV", "SCOPE_AC_MV", "INVERTER_RMS_BP"])
@pytest.mark.parametrize("step", [-1, 1])
def test_a_line_moved_is_noticed(name: str, step: int, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(voltage, name, getattr(voltage, name) + step)
        assert some_fails(house_cases(), {"what:voltage-class", "what:inverter-rms", "rule:circuit-in-scope"})


# A length is written down in whole millimetres, a frequency in whole hertz.
UNITS = {
    "LENGTH_TOLERANCE_UM": 1000, "COMPOSITE_TOLERANCE_UM": 1000, "SOAK_ALLOWANCE_UA": 1, "TABLE_MHZ": 1000,
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(UNITS))
@pytest.mark.parametrize("step", [-1, 1])
def test_a_figure_of_the_electrical_test_moved_is_noticed(
    name: str, step: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(electrical_test, name, getattr(electrical_test, name) + step * UNITS[name])
        assert some_fails(house_cases(), {"level:entry"})


@pytest.mark.parametrize(("kind", "rule"), [one for one in DEMANDS if one not in DEMANDS_NOT_SHOWN])
def test_a_demand_of_house_policy_switched_off_is_noticed(
    kind: str, rule: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    fewer = {**HOUSE.covers, kind: tuple(one for one in HOUSE.covers[kind] if one != rule)}
    assert some_case_fails(replace(HOUSE, covers=fewer), monkeypatch, kind, f"rule:{rule}")
