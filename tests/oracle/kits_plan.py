"""What a generated job is before its kit is laid out: task, days, site, circuits and the volts they ask for.

A plan is always issuable. Ways (see kits_ways.py) may fix parts of it before the rest is filled in.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from random import Random
from typing import Any, Final

from tests.oracle.kits_laws import FROM_TEST, GB, JP, US, draw_sets
from tests.oracle.kits_tables import CELL_MAX_MV, MAX_AC_V, MAX_DC_V, MAX_GB_AC_V, add_months

Table = dict[str, Any]
Volts = int | float

TASKS: Final = {"I": "isolate-and-prove-dead", "L": "work-in-open-live-pack", "M": "measure-only"}
#: Steps of voltage found on printed marks; the generator picks the first that is roomy enough.
LEVELS: Final = (300, 600, 690, 1000, 1500, 2000)
#: Six-step factor of rules.md section 6: full link to AC r.m.s.
INVERTER: Final = 0.8165


class Unfit(Exception):
    """The drawn way cannot be laid on this plan (no such day, no such piece); the draw starts anew."""


@dataclass(slots=True)
class Need:
    """Volts asked with margin: against DC and AC limits, and by category (up to III, and IV)."""

    dc: float = 0.0
    ac: float = 0.0
    low: float = 0.0
    iv: float = 0.0
    must_state_input: bool = False
    three_phase: bool = False


@dataclass(slots=True)
class Plan:
    """One job; `wants` are fixings the drawn ways agreed on, `pins` marks they set on single pieces."""

    task: str
    on: date
    until: date
    wants: dict[str, str]
    site: Table = field(default_factory=dict)
    job: Table = field(default_factory=dict)
    circuits: list[Table] = field(default_factory=list)
    pins: Table = field(default_factory=dict)
    glove_class: str = ""
    instrument: str = ""
    need: Need = field(default_factory=Need)
    sets: tuple[str, ...] = ()

    @property
    def system(self) -> str:
        """Class system of the marks that these sets read."""
        return {GB: "gb", JP: "jp"}.get(self.sets[0], "iec") if len(self.sets) == 1 else "iec"

    @property
    def us_only(self) -> bool:
        """Whether every set has the US tables, and its site may let a stated pass count."""
        return set(self.sets) <= set(US)

    @property
    def from_test(self) -> bool:
        """Whether a set counts six months from the test of gloves, whatever became of them since."""
        return not set(self.sets).isdisjoint(FROM_TEST)

    def approve(self, key: str) -> None:
        """A looser site value carries a named approver with a reason."""
        self.site.setdefault("approvals", []).append({"key": key, "approved_by": "P9", "reason": "agreed at the depot"})


def volts(millivolts: int) -> Volts:
    """Millivolts as a case writes them: a whole number where it is one, else three decimals at most."""
    return millivolts // 1000 if millivolts % 1000 == 0 else millivolts / 1000


def level(need: float) -> int:
    """First printed step that is roomy for `need` volts, so that no edge is hit by accident."""
    for step in LEVELS:
        if step >= need + 0.5:
            return step
    raise Unfit


def single(plan: Plan, supply: str, **known: Any) -> None:
    """Give the plan exactly one circuit, category III unless said otherwise."""
    plan.circuits = [{"key": "traction", "supply": supply, "category": "III"} | known]


def draw_plan(rng: Random, task: str, wants: dict[str, str]) -> Plan:
    """Days, and site values that never refuse; circuits come later."""
    first = date(2024, 1, 1) + timedelta(days=rng.randrange(1460))
    if rng.random() < 0.35:
        # Month ends are where month arithmetic goes wrong, so they are drawn more often than their share.
        first = add_months(first.replace(day=1), 1) + timedelta(days=rng.randrange(-3, 2))
    span = 0 if rng.random() < 0.6 else rng.randrange(1, 6) if rng.random() < 0.8 else rng.randrange(6, 29)
    plan = Plan(task, first, first + timedelta(days=span), wants)
    if wants.get("print") != "open":
        plan.site["confirmed_in_print"] = "all"
    if rng.random() < 0.5:
        plan.site["altitude_m"] = rng.randrange(0, 2000)
    if rng.random() < 0.1:
        plan.site["warning_days"] = rng.choice((14, 45, 60))
    if wants.get("profile") == "iec" or ("profile" not in wants and rng.random() < 0.06):
        plan.site["tip_profile"] = "iec"
        plan.approve("tip_profile")
    elif rng.random() < 0.2:
        plan.site["tip_profile"] = "gs38"
    if rng.random() < 0.3:
        plan.job["place"] = "dry"
    return plan


def settle(plan: Plan, rng: Random) -> None:
    """Fill in whatever the drawn ways left open: circuits, rule sets, class of gloves, instrument."""
    wanted_class = plan.glove_class or plan.wants.get("glove_class", "")
    if not plan.circuits:
        plan.circuits = _circuits(rng, wanted_class, plan.wants)
    plan.need = needs(plan.circuits, plan.site)
    # A class that a way asked for is one of table T1.
    plan.sets = draw_sets(rng, plan.wants.get("law"), gb_fits=plan.need.dc == 0 and not wanted_class)
    plan.glove_class = wanted_class or _glove_class(plan, rng)
    share = 0.6 if plan.task == "M" else 0.25
    wanted = plan.wants.get("instrument")
    plan.instrument = wanted or ("multimeter" if rng.random() < share else "detector")
    if plan.instrument == "multimeter" and (plan.task != "M" or rng.random() < 0.1):
        for circuit in plan.circuits:
            circuit.setdefault("maker_names_multimeter", True)


def needs(circuits: list[Table], site: Table) -> Need:
    """Roomiest reading of what the circuits ask; only ever used to choose kit that is well above it."""
    need = Need(must_state_input=len(circuits) > 1)
    for circuit in circuits:
        asked, supply = _asked(circuit, site), circuit["supply"]
        if supply.startswith("ac-"):
            need.ac = max(need.ac, asked)
            need.three_phase = need.three_phase or supply == "ac-three-phase"
        else:
            need.dc = max(need.dc, asked)
        if supply == "inverter-output":
            need.ac = max(need.ac, asked * INVERTER)
        if supply not in ("isolated-dc", "ac-single-phase"):
            need.must_state_input = True
        if circuit["category"] == "IV":
            need.iv = max(need.iv, asked)
        else:
            need.low = max(need.low, asked)
    return need


def _asked(circuit: Table, site: Table) -> float:
    """Largest figure of the circuit with its margin; 600 V where none is known (the kit is laid out for that)."""
    overall = site.get("margin_percent")
    cells_margin = 1 + (10 if overall is None else overall) / 100
    stated_margin = 1 + (overall or 0) / 100
    asked = [circuit[key] * stated_margin for key in ("plate_max_v", "maker_max_v") if key in circuit]
    if "boosted_v" in circuit:
        asked.append(circuit["boosted_v"] * cells_margin)
    cells = circuit.get("cells", {})
    series = cells.get("series", cells.get("modules", 0) * cells.get("series_each", 0))
    if series:
        asked.append(series * cells.get("max_v", CELL_MAX_MV[cells["chemistry"]] / 1000) * cells_margin)
    return max(asked, default=600.0)


def _glove_class(plan: Plan, rng: Random) -> str:
    need = plan.need
    if plan.system == "gb":
        return plan.pins.get("gb_class") or next(c for c in MAX_GB_AC_V if MAX_GB_AC_V[c] >= need.ac + 0.5)
    fit = [c for c in MAX_DC_V if MAX_DC_V[c] >= need.dc + 0.5 and MAX_AC_V[c] >= need.ac + 0.5]
    return fit[1 if rng.random() < 0.2 else 0]


def _circuits(rng: Random, wanted_class: str, wants: dict[str, str]) -> list[Table]:
    alternating = wants.get("supply", "").startswith("ac-")
    if (wanted_class == "00" and not alternating) or wants.get("supply") == "plain-dc":
        return [{"key": "traction", "supply": "isolated-dc", "category": "III", "maker_max_v": rng.randrange(100, 590)}]
    dice = rng.random()
    supply = wants.get("supply") or (
        "isolated-dc" if dice < 0.74 else
        "inverter-output" if dice < 0.83 else
        "ac-single-phase" if dice < 0.89 else
        "ac-three-phase" if dice < 0.95 else "earthed-dc"
    )  # fmt: skip
    circuits = [_circuit(rng, supply, "traction")]
    if "supply" not in wants and rng.random() < 0.15:
        other = rng.choice(("isolated-dc", "inverter-output", "ac-single-phase", "ac-three-phase"))
        circuits.append(_circuit(rng, other, "second"))
    return circuits


def _circuit(rng: Random, supply: str, key: str) -> Table:
    circuit: Table = {"key": key, "supply": supply, "category": "III"}
    if supply.startswith("ac-"):
        steps = (110, 120, 230, 240, 253, 277) if supply == "ac-single-phase" else (208, 400, 415, 440, 480)
        circuit["plate_max_v" if rng.random() < 0.5 else "maker_max_v"] = rng.choice(steps)
        circuit["category"] = rng.choice(("II", "III", "III", "IV") if supply == "ac-single-phase" else ("III", "IV"))
    elif supply == "earthed-dc":
        circuit["maker_max_v"] = rng.randrange(100, 900)
    elif supply == "inverter-output" and rng.random() < 0.5:
        circuit["maker_max_v"] = rng.randrange(200, 900)
    else:
        circuit.update(_battery(rng))
    return circuit


def _battery(rng: Random) -> Table:
    """One way of knowing a traction battery's highest voltage, with what a card often says beside it."""
    known: Table = {}
    style = rng.randrange(8)
    if style < 4:
        known["cells"], top_mv = _cells(rng, stated=style < 2)
    elif style == 4:
        top_mv = rng.randrange(1500, 2160) * 100
        known["cells"], known["boosted_v"] = {"series": 100, "chemistry": "nimh"}, volts(rng.randrange(300, 651) * 1000)
    elif style == 5:
        known["plate_max_v"] = volts(top_mv := rng.randrange(1500, 9000) * 100)
    else:
        known["maker_max_v"] = volts(top_mv := rng.randrange(100_000, 950_000))
    if rng.random() < 0.25:
        known["nominal_v"] = volts(top_mv * 88 // 100)
    if style != 4 and rng.random() < 0.25:
        known["reading_v"] = volts(top_mv * rng.randrange(860, 1000) // 1000)
    return known


def _cells(rng: Random, stated: bool) -> tuple[Table, int]:
    chemistry = rng.choice(("nmc", "nmc", "nca", "lco", "lmo", "lfp", "lto", "nimh", "unknown-lithium"))
    series = rng.randrange(80, 200)
    cells: Table = {"series": series, "chemistry": chemistry}
    top = CELL_MAX_MV[chemistry]
    if stated:
        top += rng.choice((0, 0, 10, 50)) if chemistry != "unknown-lithium" else 0
        cells["max_v"] = top / 1000
    elif series % 12 == 0:
        cells = {"modules": series // 12, "series_each": 12, "chemistry": chemistry}
    return cells, series * top
