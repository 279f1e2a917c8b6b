"""Working and required voltage, stresses, classes, and what a reading tells about cells in series."""

from __future__ import annotations

from typing import Any

import pytest

from app.decision.domain.voltage import (
    CELL_MAX_MV,
    CELL_MIN_MV,
    Cells,
    Circuit,
    Stress,
    origins,
    required,
    series_range,
    stresses,
    voltage_class,
    working,
)

SHIPPED = {"cells": 1000, "boosted": 1000, "plate": 0, "maker": 0}


def circuit(supply: str = "isolated-dc", **keys: Any) -> Circuit:
    return Circuit(key="t", supply=supply, **keys)


@pytest.mark.parametrize(
    ("keys", "mv", "origin"),
    [
        ({"cells": Cells(198, "nmc", 4200)}, 831_600, "cells"),
        ({"cells": Cells(100, "lfp")}, 365_000, "cells"),
        ({"cells": Cells(100, "lfp"), "plate_max_mv": 400_000}, 400_000, "plate"),
        ({"maker_max_mv": 400_000, "boosted_mv": 400_001}, 400_001, "boosted"),
        ({"maker_max_mv": 400_000, "nominal_mv": 900_000, "reading_mv": 900_000}, 400_000, "maker"),
    ],
)
def test_the_largest_known_is_the_working_voltage(keys: dict[str, Any], mv: int, origin: str) -> None:
    found = working(circuit(**keys))
    assert found is not None
    assert (found.mv, found.origin) == (mv, origin)


@pytest.mark.parametrize(
    "keys", [{}, {"nominal_mv": 400_000}, {"reading_mv": 400_000}, {"cells": Cells(None, "nmc", 4200)}]
)
def test_nominal_or_a_reading_alone_is_no_working_voltage(keys: dict[str, Any]) -> None:
    assert working(circuit(**keys)) is None
    assert required(circuit(**keys), SHIPPED) is None


def test_a_cell_voltage_from_the_table_is_marked_as_assumed() -> None:
    assert [one.is_assumed for one in origins(circuit(cells=Cells(10, "nmc"), plate_max_mv=1))] == [True, False]
    assert [one.is_assumed for one in origins(circuit(cells=Cells(10, "nmc", 4200)))] == [False]


@pytest.mark.parametrize(
    ("keys", "x10k", "asked_by"),
    [
        ({"maker_max_mv": 400_000}, 4_000_000_000, "maker"),
        ({"cells": Cells(100, "nmc", 4000)}, 4_400_000_000, "cells"),
        # The plate is the larger working voltage, the cells with their margin ask for more.
        ({"cells": Cells(100, "nmc", 4000), "plate_max_mv": 439_000}, 4_400_000_000, "cells"),
        ({"cells": Cells(100, "nmc", 4000), "plate_max_mv": 441_000}, 4_410_000_000, "plate"),
    ],
)
def test_what_kit_must_stand_is_the_largest_with_its_own_margin(keys: dict[str, Any], x10k: int, asked_by: str) -> None:
    needed = required(circuit(**keys), SHIPPED)
    assert needed is not None
    assert (needed.x10k, needed.origin, needed.margin_bp) == (x10k, asked_by, SHIPPED[asked_by])
    assert needed.volts == x10k / 10_000_000
    best = working(circuit(**keys))
    assert best is not None
    assert needed.mv == best.mv


def test_the_margin_is_never_rounded() -> None:
    needed = required(circuit(cells=Cells(1, "nmc", 3333)), {**SHIPPED, "cells": 1})
    assert needed is not None
    assert needed.x10k == 3333 * 10_001
    assert not Stress("dc", needed.x10k).is_stood_by(3333)
    assert Stress("dc", 33_330_000).is_stood_by(3333)
    assert Stress("dc", 33_330_000).volts == 3.333


def stressed(supply: str, **keys: Any) -> list[tuple[str, float]]:
    one = circuit(supply, maker_max_mv=1_000_000, **keys)
    needed = required(one, SHIPPED)
    assert needed is not None
    return [(stress.current, stress.volts) for stress in stresses(one, needed)]


@pytest.mark.parametrize(
    ("supply", "answer"),
    [
        ("isolated-dc", [("dc", 1000.0)]),
        ("earthed-dc", [("dc", 1000.0)]),
        ("ac-single-phase", [("ac", 1000.0)]),
        ("ac-three-phase", [("ac", 1000.0)]),
        ("inverter-output", [("dc", 1000.0), ("ac", 816.5)]),
    ],
)
def test_each_supply_stresses_by_its_own_kind_of_current(supply: str, answer: list[tuple[str, float]]) -> None:
    assert stressed(supply) == answer


def test_the_ac_side_of_an_inverter_is_rounded_up() -> None:
    one = circuit("inverter-output", maker_max_mv=3)
    needed = required(one, SHIPPED)
    assert needed is not None
    assert stresses(one, needed)[1].x10k == 24_495


@pytest.mark.parametrize(
    ("keys", "volts"),
    [
        ({"phase_to_earth_mv": 577_000}, 1000.0),
        ({"phase_to_earth_confirmed_by": "P9"}, 1000.0),
        ({"phase_to_earth_mv": 577_000, "phase_to_earth_confirmed_by": "P9"}, 577.0),
    ],
)
def test_phase_to_phase_unless_a_named_person_confirmed(keys: dict[str, Any], volts: float) -> None:
    assert stressed("ac-three-phase", **keys) == [("ac", volts)]


@pytest.mark.parametrize(
    ("supply", "volts", "name"),
    [
        ("isolated-dc", 60_000, "A"), ("isolated-dc", 60_001, "B"),
        ("isolated-dc", 1_500_000, "B"), ("isolated-dc", 1_500_001, "out-of-scope"),
        ("earthed-dc", 60_001, "B"),
        ("ac-single-phase", 30_000, "A"), ("ac-single-phase", 30_001, "B"),
        ("ac-three-phase", 1_000_000, "B"), ("ac-three-phase", 1_000_001, "out-of-scope"),
        # 36.742 V of link give 30.000 V r.m.s.; one millivolt more is over the AC line though under 60 V DC.
        ("inverter-output", 36_742, "A"), ("inverter-output", 36_743, "B"),
        # 1,224.739 V of link give 1,000 V r.m.s.
        ("inverter-output", 1_224_739, "B"), ("inverter-output", 1_224_740, "out-of-scope"),
    ],
)  # fmt: skip
def test_voltage_class(supply: str, volts: int, name: str) -> None:
    assert voltage_class(supply, volts) == name


@pytest.mark.parametrize(
    ("cells", "reading", "answer"),
    [
        (Cells(None, "nmc", 4200), 420_000, (100, 168)),
        (Cells(None, "nmc", 4200), 420_001, (101, 168)),
        (Cells(None, "nmc"), 420_000, (100, 168)),
        (Cells(None, "lfp"), 365_000, (100, 182)),
        (Cells(None, "nmc", 4200), 2_499, (1, 0)),
    ],
)
def test_a_reading_bounds_the_cells_in_series(cells: Cells, reading: int, answer: tuple[int, int]) -> None:
    assert series_range(cells, reading) == answer


def test_every_chemistry_has_both_ends() -> None:
    assert set(CELL_MAX_MV) - set(CELL_MIN_MV) == {"lead-acid"}
    assert all(least < CELL_MAX_MV[name] for name, least in CELL_MIN_MV.items())
    assert CELL_MAX_MV["unknown-lithium"] == max(CELL_MAX_MV.values())


@pytest.mark.parametrize(
    ("supply", "stated", "category"),
    [
        ("isolated-dc", None, "III"), ("inverter-output", None, "III"), ("isolated-dc", "IV", "IV"),
        ("earthed-dc", None, None), ("ac-single-phase", None, None), ("ac-three-phase", "III", "III"),
    ],
)  # fmt: skip
def test_only_isolated_circuits_have_a_category_unsaid(supply: str, stated: str | None, category: str | None) -> None:
    assert circuit(supply, category=stated).measuring_category == category
