"""Working voltage, its origin, and what kit must stand.

Voltages are integers in mV. A required voltage keeps the margin unrounded, so it is an integer in 1/10,000 mV
(`x10k`): working mV times (10,000 + margin in basis points).

>>> circuit = Circuit(key="t", supply="isolated-dc", cells=Cells(198, "nmc", 4200))
>>> working(circuit).mv
831600
>>> required(circuit, {"cells": 1000, "maker": 0, "plate": 0, "boosted": 1000}).x10k / 10_000_000
914.76
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from msgspec import Struct

SUPPLIES = ("isolated-dc", "earthed-dc", "ac-single-phase", "ac-three-phase", "inverter-output")
X10K = 10_000
CLASS_A_DC_MV = 60_000
CLASS_A_AC_MV = 30_000
SCOPE_DC_MV = 1_500_000
SCOPE_AC_MV = 1_000_000
# A phase-to-phase r.m.s. of a six-step inverter, total: 0.8165 of the DC link.
INVERTER_RMS_BP = 8165
# Maximum cell voltage in mV by chemistry; source: battery-education summary table, confidence S; an unknown lithium
# chemistry is taken at the highest high-voltage type and flagged; lead-acid: on charge, trade practice, T.
CELL_MAX_MV: Mapping[str, int] = {
    "nmc": 4200, "nca": 4200, "lco": 4200, "lmo": 4200, "lfp": 3650, "lto": 2850, "nimh": 1600,
    "lead-acid": 2400, "unknown-lithium": 4450,
}  # fmt: skip
# Of lead-acid no minimum was found.
CELL_MIN_MV: Mapping[str, int] = {
    "nmc": 2500, "nca": 2500, "lco": 2500, "lmo": 2500, "lfp": 2000, "lto": 1500, "nimh": 900,
    "unknown-lithium": 1500,
}  # fmt: skip
Origin = Literal["cells", "plate", "maker", "boosted"]
Current = Literal["dc", "ac"]


class Cells(Struct, frozen=True):
    """Cells in series; `max_mv` None means taken from the chemistry table (an assumed cell voltage)."""

    series: int | None
    chemistry: str
    max_mv: int | None = None


class Circuit(Struct, frozen=True, kw_only=True):
    """One galvanic circuit of a system; voltages in mV, None is unknown.

    `plate_mv`: printed on the plate as neither nominal nor maximum; like a nominal voltage it decides nothing.
    """

    key: str
    supply: str
    category: str | None = None
    cells: Cells | None = None
    plate_max_mv: int | None = None
    plate_mv: int | None = None
    maker_max_mv: int | None = None
    boosted_mv: int | None = None
    nominal_mv: int | None = None
    reading_mv: int | None = None
    phase_to_earth_mv: int | None = None
    phase_to_earth_confirmed_by: str | None = None
    maker_names_multimeter: bool = False
    category_source: str | None = None
    max_v_source: str | None = None
    sources: tuple[str, ...] = ()
    disconnects: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    wait_s: int | None = None
    wait_source: str | None = None

    @property
    def measuring_category(self) -> str | None:
        """Measurement category; isolated DC and inverter outputs are CAT III by house policy, others must state it."""
        if self.category is None and self.supply in ("isolated-dc", "inverter-output"):
            return "III"
        return self.category


class Working(Struct, frozen=True):
    """A working voltage with its origin. `is_assumed`: the cell voltage came from the chemistry table."""

    mv: int
    origin: Origin
    is_assumed: bool = False


class Required(Struct, frozen=True):
    """What kit must stand: `x10k` in 1/10,000 mV, the working voltage behind it, and the margin in basis points."""

    x10k: int
    mv: int
    origin: Origin
    margin_bp: int

    @property
    def volts(self) -> float:
        """In volts, for showing."""
        return self.x10k / (1000 * X10K)


class Stress(Struct, frozen=True):
    """One thing a piece has to stand: kind of current and level in 1/10,000 mV."""

    current: Current
    x10k: int

    @property
    def volts(self) -> float:
        """In volts, for showing."""
        return self.x10k / (1000 * X10K)

    def is_stood_by(self, offered_mv: int) -> bool:
        """Whether so many millivolts reach the demanded voltage, both compared unrounded."""
        return offered_mv * X10K >= self.x10k


def origins(circuit: Circuit) -> tuple[Working, ...]:
    """Every known working voltage of the circuit; nominal and readings are never among them."""
    workings: list[Working] = []
    cells = circuit.cells
    if cells is not None and cells.series is not None:
        assumed = cells.max_mv is None
        workings.append(Working(cells.series * (cells.max_mv or CELL_MAX_MV[cells.chemistry]), "cells", assumed))
    stated: tuple[tuple[Origin, int | None], ...] = (
        ("plate", circuit.plate_max_mv),
        ("maker", circuit.maker_max_mv),
        ("boosted", circuit.boosted_mv),
    )
    workings.extend(Working(mv, origin) for origin, mv in stated if mv is not None)
    return tuple(workings)


def working(circuit: Circuit) -> Working | None:
    """The largest known; None where nothing but a nominal voltage or a reading is known."""
    return max(origins(circuit), key=lambda known: known.mv, default=None)


def required(circuit: Circuit, margin_bp: Mapping[str, int]) -> Required | None:
    """What kit must stand: the largest of every known origin with its own margin.

    Taking only the largest origin's margin would let a higher stated maximum lower the demand (margin 0 on stated
    maxima), which section 10 of the rules forbids; see docs/decisions.
    """
    best = working(circuit)
    if best is None:
        return None
    asked = max(origins(circuit), key=lambda known: (known.mv * (X10K + margin_bp[known.origin]), known.mv))
    margin = margin_bp[asked.origin]
    return Required(asked.mv * (X10K + margin), best.mv, asked.origin, margin)


def currents(supply: str) -> tuple[str, ...]:
    """The kinds of current of a supply, "dc" and "ac", whatever its volts."""
    if supply in ("isolated-dc", "earthed-dc"):
        return ("dc",)
    return ("dc", "ac") if supply == "inverter-output" else ("ac",)


def stresses(circuit: Circuit, needed: Required) -> tuple[Stress, ...]:
    """DC limits for DC, AC for AC, never converted; an inverter output is both: full link, and 0.8165 of it as AC."""
    kinds = currents(circuit.supply)
    if "dc" not in kinds:
        return (Stress("ac", _phase_stress(circuit, needed)),)
    link = Stress("dc", needed.x10k)
    return (link, Stress("ac", -(-needed.x10k * INVERTER_RMS_BP // X10K))) if "ac" in kinds else (link,)


def _phase_stress(circuit: Circuit, needed: Required) -> int:
    """Phase to phase, unless a named person confirmed the phase-to-earth conditions and stated the voltage."""
    if circuit.phase_to_earth_mv is None or circuit.phase_to_earth_confirmed_by is None:
        return needed.x10k
    return circuit.phase_to_earth_mv * (X10K + needed.margin_bp)


def voltage_class(supply: str, mv: int) -> str:
    """Class "A", "B" or "out-of-scope", on the working voltage; one value over a line counts for the whole circuit."""
    parts: list[tuple[int, int, int]] = []
    if supply in ("isolated-dc", "earthed-dc", "inverter-output"):
        parts.append((mv, CLASS_A_DC_MV, SCOPE_DC_MV))
    if supply == "inverter-output":
        parts.append((-(-mv * INVERTER_RMS_BP // X10K), CLASS_A_AC_MV, SCOPE_AC_MV))
    if supply.startswith("ac-"):
        parts.append((mv, CLASS_A_AC_MV, SCOPE_AC_MV))
    if any(value > scope for value, _, scope in parts):
        return "out-of-scope"
    return "A" if all(value <= limit for value, limit, _ in parts) else "B"


def cell_max_mv(cells: Cells) -> int:
    """The most one cell can reach: as stated, else by chemistry."""
    return cells.max_mv or CELL_MAX_MV[cells.chemistry]


def series_range(cells: Cells, reading_mv: int) -> tuple[int, int]:
    """Smallest and largest count of cells in series that a reading allows; a chemistry without a minimum has none."""
    highest = cell_max_mv(cells)
    lowest = CELL_MIN_MV[cells.chemistry]
    return -(-reading_mv // highest), reading_mv // lowest
