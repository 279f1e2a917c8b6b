"""Every figure of arcs, altitude, inverters and insulation moved by one unit: some worked case must fail."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from msgspec.structs import replace

from app.decision.domain import altitude, arc, inverter, isolation
from app.decision.judging.worked_cases import run_case
from tests.decision.rulesets.test_cases import cases_of

CASES = cases_of(Path(__file__).parent / "cases" / "calculations.toml")
Moved = tuple[str, ModuleType, str, Any]
# Constants and the unit of their last printed place.
CONSTANTS: tuple[tuple[ModuleType, str, float], ...] = (
    (arc, "LARGEST_POWER_SHARE", 0.1), (arc, "LARGEST_POWER_CONSTANT", 0.01), (arc, "ELECTRODES_V", 1),
    (arc, "GAP_V_PER_MM", 0.001), (arc, "CURRENT_POWER", 0.01), (arc, "JOULES_PER_CALORIE", 0.001),
    (isolation, "DC_OHM_PER_VOLT", 1), (isolation, "AC_OHM_PER_VOLT", 1), (isolation, "BOND_BELOW_MILLIOHM", 1),
    (isolation, "BOND_LEAST_MILLIAMPS", 1),
)  # fmt: skip


def moved() -> Iterator[Moved]:
    for step in (-1, 1):
        yield f"time{step:+d}", arc, "ASSUMED_CLEARING_S", arc.ASSUMED_CLEARING_S + step
        for module, name, unit in CONSTANTS:
            yield f"{name}{step:+d}", module, name, getattr(module, name) + step * unit
        for table, module, name in (
            (arc.RATINGS_MCAL, arc, "RATINGS_MCAL"), (altitude.CLEARANCES_UM, altitude, "CLEARANCES_UM"),
        ):  # fmt: skip
            for key, value in table.items():
                yield f"{name}/{key}{step:+d}", module, name, {**table, key: value + step}
        for row, (height, hundredths) in enumerate(altitude.FACTORS):
            for pair in ((height + step, hundredths), (height, hundredths + step)):
                factors = (*altitude.FACTORS[:row], pair, *altitude.FACTORS[row + 1 :])
                yield f"factor/{height}/{pair}", altitude, "FACTORS", factors
        for kind, box in arc.BOXES.items():
            yield f"{kind}/k{step:+d}", arc, "BOXES", {**arc.BOXES, kind: replace(box, k=box.k + step / 1000)}
            deeper = replace(box, depth_mm=box.depth_mm + step)
            yield f"{kind}/depth{step:+d}", arc, "BOXES", {**arc.BOXES, kind: deeper}
        for name in ("FUNDAMENTAL", "TOTAL"):
            factors_of = getattr(inverter, name)
            for modulation, share in factors_of.items():
                yield f"{name}/{modulation}{step:+d}", inverter, name, {**factors_of, modulation: share + step / 10_000}


def fails() -> bool:
    return any(run_case(case).state != "passed" for case in CASES)


def test_all_hold_as_shipped() -> None:
    assert not fails()


FIGURES = list(moved())


@pytest.mark.parametrize(("name", "module", "attribute", "value"), FIGURES, ids=[one[0] for one in FIGURES])
def test_a_figure_moved_by_one_unit_is_noticed(
    name: str, module: ModuleType, attribute: str, value: object, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, attribute, value)
    assert fails(), name
