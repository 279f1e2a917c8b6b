"""The case laid out for judging: day, site, circuits with their volts, people, pieces with their records."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import date
from functools import cached_property
from typing import Any, NamedTuple

from . import figures
from .days import Rec, records_of
from .sets import GLOVES, SETS, RuleSet

MET, NOT_MET, CANNOT_TELL = "met", "not-met", "cannot-tell"
VOIDING = ("return", "hand-over", "event")
SUPPLIES = {
    "isolated-dc": "dc",
    "earthed-dc": "dc",
    "ac-single-phase": "ac",
    "ac-three-phase": "ac",
    "inverter-output": "inverter",
}


class OutOfScope(ValueError):
    """The case asks for a rule set, kind, rule or level this judge was not written for."""


class Finding(NamedTuple):
    """One answered demand; `good_until` is the last good day, None where the demand is not by date."""

    rule: str
    subject: str
    outcome: str
    good_until: date | None = None


def worst(outcomes: Iterable[str]) -> str:
    """A known shortfall before a doubt before met; nothing asked is met."""
    found = MET
    for outcome in outcomes:
        if outcome == NOT_MET:
            return NOT_MET
        if outcome == CANNOT_TELL:
            found = CANNOT_TELL
    return found


def best(outcomes: Iterable[str]) -> str:
    """Met before a doubt before a known shortfall; no way at all is not met."""
    found = set(outcomes)
    return MET if MET in found else CANNOT_TELL if CANNOT_TELL in found else NOT_MET


def number(value: object) -> float | None:
    """A usable number above zero, else None."""
    if type(value) is int:
        return value if value > 0 else None
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return None
    return value if math.isfinite(value) and value > 0 else None


def asked_mv(value: object) -> int | None:
    """Volts that are asked, in millivolts, a part of a millivolt counting as a whole one."""
    volts = number(value)
    if volts is None:
        return None
    near = round(volts * 1000)
    return near if abs(volts * 1000 - near) < 1e-6 else math.ceil(volts * 1000)


def offered_mv(value: object) -> int | None:
    """Volts that are offered, in millivolts, a part of a millivolt dropped."""
    if type(value) is int:
        return value * 1000 if value > 0 else None
    volts = number(value)
    if volts is None:
        return None
    near = round(volts * 1000)
    return near if abs(volts * 1000 - near) < 1e-6 else math.floor(volts * 1000)


class Piece:
    """One piece of the kit with the records that exist on the day.

    `voids` are the records that void a check made before them; `tests` and `standing` keep what one rule set makes of
    the electrical tests, so a piece belongs to the world of one set alone.
    """

    __slots__ = ("_by_what", "code", "d", "kind", "status", "tests", "voids")

    def __init__(self, d: dict[str, Any], today: date) -> None:
        self.d = d
        self.kind = str(d.get("kind", ""))
        self.code = str(d.get("code", ""))
        self.tests: list[tuple[Rec, str]] | None = None
        self.status: dict[tuple[str, ...], list[Rec]] = {}
        self._by_what = records_of(d.get("records", []), today)
        self.voids = [r for what in VOIDING for r in self._by_what.get(what, ())]

    def of(self, what: str) -> Sequence[Rec]:
        """The records of one sort."""
        return self._by_what.get(what, ())


class Circuit(NamedTuple):
    """One circuit: working volts in mV, required volts in mV x 10,000 (unrounded), None where not known."""

    key: str
    supply: str
    current: str | None
    working_mv: int | None
    working_assumed: bool
    required: int | None
    required_to_earth: int | None
    category: str | None
    d: dict[str, Any]


class World:
    """Everything one case says, plus what its level grants, as one rule set sees it."""

    def __init__(self, case: dict[str, Any], rule_set: RuleSet) -> None:
        self.rule_set = rule_set
        # Some facts hang on every chosen set, whichever of them is judging.
        self.chosen = [SETS[name] for name in case.get("rule_sets") or [rule_set.name]]
        self.as_finding = case.get("level") == "finding"
        self.on: date = case["on"]
        self.until: date = max(case.get("until") or self.on, self.on)
        self.site: dict[str, Any] = case.get("site") or {}
        self.job: dict[str, Any] = case.get("job") or {}
        self.person: dict[str, Any] | None = case.get("person")
        self.second: dict[str, Any] | None = case.get("second")
        system = case.get("system") or self.job.get("system")
        self.system: dict[str, Any] = system if isinstance(system, dict) else {}
        self.pieces = [Piece(d, self.on) for d in case.get("pieces", [])]
        self.chains: Any = None
        self._of_kinds: dict[tuple[str, ...], list[Piece]] = {}
        self.task: str | None = self.job.get("task")
        self.circuits = [_circuit(self, c) for c in self.job.get("circuits", [])]

    @property
    def unknown(self) -> str:
        """What a fact that is not written means: in order at level finding, cannot tell at level decision."""
        return MET if self.as_finding else CANNOT_TELL

    @property
    def tip_profile(self) -> str:
        """The instrument profile in force; iec is the looser one and needs its approver."""
        profile = str(self.site.get("tip_profile", "gs38"))
        return "gs38" if profile == "iec" and not self.approved("tip_profile") else profile

    def kind(self, *kinds: str) -> list[Piece]:
        """The pieces of the kinds, in the order of the kit."""
        found = self._of_kinds.get(kinds)
        if found is None:
            found = self._of_kinds[kinds] = [p for p in self.pieces if p.kind in kinds]
        return found

    @cached_property
    def under_protectors(self) -> list[Piece]:
        """The pairs of gloves that protectors are worn over.

        Composite gloves are none where every chosen set's word that nothing is worn over them is confirmed, unless more
        protectors lie in the kit than the other pairs take up.
        """
        gloves = self.kind(*GLOVES)
        words = [figures.own_protection_key(s.name) if s.composite_own_protection else None for s in self.chosen]
        if not all(word and self.confirmed(word) for word in words):
            return gloves
        others = [g for g in gloves if g.kind != "composite-gloves"]
        return gloves if len(self.kind("leather-protectors")) > len(others) else others

    def confirmed(self, key: str | None) -> bool:
        """Whether a figure may speak for a piece: not of confidence M, or confirmed in print."""
        if key is None or self.as_finding:
            return True
        seen = self.site.get("confirmed_in_print", [])
        return seen == "all" or (isinstance(seen, list) and key in seen)

    def approved(self, key: str) -> bool:
        """Whether a looser site value stands: named approver and reason, taken as given at level finding."""
        if self.as_finding:
            return True
        return any(
            a.get("key") == key and a.get("approved_by") and a.get("reason") for a in self.site.get("approvals", [])
        )


def _margin_bp(world: World, origin: str) -> int:
    shipped = 1000 if origin in {"cells", "boosted_v"} else 0
    site = world.site.get("margin_percent")
    if site is None:
        return shipped
    basis_points: int = round(site * 100)
    if basis_points < 0 or (basis_points < shipped and not world.approved("margin_percent")):
        return shipped
    return basis_points


def _cells_mv(cells: dict[str, Any]) -> tuple[int, bool] | None:
    """Millivolts of a string of cells and whether the cell voltage was taken from the table of chemistries."""
    series = number(cells.get("series"))
    if series is None:
        modules, each = number(cells.get("modules")), number(cells.get("series_each"))
        series = modules * each if modules and each else None
    stated = asked_mv(cells.get("max_v"))
    cell = stated or figures.CELL_MAX_MV.get(str(cells.get("chemistry")))
    if series is None or cell is None:
        return None
    return math.ceil(series * cell), stated is None


def _origins(d: dict[str, Any]) -> list[tuple[str, int, bool]]:
    """(origin, millivolts, assumed) of every figure that can be a working voltage; nominal and reading never are."""
    found = []
    if isinstance(d.get("cells"), dict) and (cells := _cells_mv(d["cells"])):
        found.append(("cells", *cells))
    stated = ((origin, asked_mv(d.get(origin))) for origin in ("plate_max_v", "maker_max_v", "boosted_v"))
    found.extend((origin, mv, False) for origin, mv in stated if mv is not None)
    return found


def _category(world: World, d: dict[str, Any], current: str | None) -> str | None:
    stated = d.get("category")
    if stated is None:
        return "III" if world.as_finding or current in {"dc", "inverter"} else None
    return stated if stated in {"II", "III", "IV"} else None


def _circuit(world: World, d: dict[str, Any]) -> Circuit:
    supply = str(d.get("supply", ""))
    current = SUPPLIES.get(supply)
    origins = _origins(d)
    working = max((mv for _, mv, _ in origins), default=None)
    assumed = bool(origins) and all(a for _, mv, a in origins if mv == working)
    # Each origin carries its own margin; a raised data plate must never lower what is asked.
    required = max((mv * (10_000 + _margin_bp(world, o)) for o, mv, _ in origins), default=None)
    to_earth = None
    earth_mv = asked_mv(d.get("phase_to_earth_v"))
    if supply == "ac-three-phase" and origins and earth_mv and d.get("phase_to_earth_confirmed_by"):
        to_earth = earth_mv * (10_000 + max(_margin_bp(world, o) for o, _, _ in origins))
    category = _category(world, d, current)
    return Circuit(str(d.get("key", "")), supply, current, working, assumed, required, to_earth, category, d)


def holds(limit_mv: int | None, required: int) -> str:
    """Whether a limit in mV stands a required voltage in mV x 10,000."""
    if limit_mv is None:
        return CANNOT_TELL
    return MET if limit_mv * 10_000 >= required else NOT_MET


def stands_between(circuit: Circuit, ac_mv: int | None, dc_mv: int | None) -> str:
    """The circuit's full voltage against AC limits for AC, DC limits for DC, both behind an inverter."""
    if circuit.required is None or circuit.current is None:
        return CANNOT_TELL
    if circuit.current == "dc":
        return holds(dc_mv, circuit.required)
    if circuit.current == "ac":
        return holds(ac_mv, circuit.required)
    as_ac = None if ac_mv is None else ac_mv * 10_000
    return worst((holds(dc_mv, circuit.required), holds(as_ac, circuit.required * figures.INVERTER_PER_10000)))


def stands(world: World, circuit: Circuit, ac_mv: int | None, dc_mv: int | None) -> str:
    """As `stands_between`, and phase to earth where the set has that footnote and a named person confirmed it."""
    between = stands_between(circuit, ac_mv, dc_mv)
    if between != NOT_MET or circuit.required_to_earth is None:
        return between
    if world.rule_set.tables != "us" or holds(ac_mv, circuit.required_to_earth) == NOT_MET:
        return NOT_MET
    return MET if world.confirmed(figures.phase_to_earth_key(world.rule_set.name)) else CANNOT_TELL
