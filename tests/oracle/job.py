"""Demands on the job: circuits, people, roles of the task, the place, the face shield."""

from __future__ import annotations

from collections import Counter
from datetime import date
from typing import Any

from . import figures
from .days import span
from .sets import GLOVES, PROVING_INSTRUMENTS
from .world import CANNOT_TELL, MET, NOT_MET, Circuit, Finding, Piece, World, asked_mv, number, worst

_BASE = (GLOVES, ("leather-protectors",), PROVING_INSTRUMENTS, ("proving-unit",))
_BAY = (("barrier-set",), ("lock-off-set",))
ROLES: dict[str, tuple[tuple[str, ...], ...]] = {
    "isolate-and-prove-dead": (*_BASE, *_BAY),
    "work-in-open-live-pack": (*_BASE, *_BAY, ("insulated-tool",), ("arc-face-shield",), ("rescue-hook",)),
    "measure-only": _BASE,
}
SCOPES = {"isolate-and-prove-dead": "isolate", "work-in-open-live-pack": "live", "measure-only": "live"}
SECOND_SHIPPED = {"isolate-and-prove-dead": False, "work-in-open-live-pack": True, "measure-only": True}


def working_voltage_known(world: World) -> list[Finding]:
    """Circuits: cells, data plate, maker's maximum or boosted bus say the working voltage; nothing else does."""
    rule = "working-voltage-known"
    if not world.circuits:
        return [Finding(rule, "", world.unknown)]
    return [Finding(rule, c.key, MET if c.working_mv is not None else CANNOT_TELL) for c in world.circuits]


def _scope_outcome(circuit: Circuit) -> str:
    if circuit.working_mv is None or circuit.current is None:
        return CANNOT_TELL
    # Scaled by 10,000 so that the inverter's r.m.s. stays a whole number.
    dc = circuit.working_mv * 10_000 if circuit.current != "ac" else 0
    ac = {"dc": 0, "ac": circuit.working_mv * 10_000}.get(
        circuit.current, circuit.working_mv * figures.INVERTER_PER_10000
    )
    if dc > figures.SCOPE_DC_MV * 10_000 or ac > figures.SCOPE_AC_MV * 10_000:
        return NOT_MET
    class_a = dc <= figures.CLASS_A_DC_MV * 10_000 and ac <= figures.CLASS_A_AC_MV * 10_000
    return CANNOT_TELL if class_a and circuit.working_assumed else MET


def circuit_in_scope(world: World) -> list[Finding]:
    """Circuits: within 1500 V DC and 1000 V AC; class A only where the cell voltage was stated."""
    return [Finding("circuit-in-scope", c.key, _scope_outcome(c)) for c in world.circuits]


def data_agrees_with_reading(world: World) -> list[Finding]:
    """Circuits: no reading lies above the working voltage."""
    found = []
    for c in world.circuits:
        reading = asked_mv(c.d.get("reading_v"))
        contradicts = reading is not None and c.working_mv is not None and reading > c.working_mv
        found.append(Finding("data-agrees-with-reading", c.key, CANNOT_TELL if contradicts else MET))
    return found


def _roles(world: World) -> str:
    if world.task is None:
        return world.unknown
    if world.task not in ROLES:
        return CANNOT_TELL
    # Composite gloves that nothing is worn over leave the role of protectors empty where no other pair is there.
    bare = world.job.get("without_protectors") is True or (world.kind(*GLOVES) and not world.under_protectors)
    roles = [r for r in ROLES[world.task] if not (bare and r == ("leather-protectors",))]
    return MET if all(world.kind(*role) for role in roles) else NOT_MET


def task_roles_filled(world: World) -> list[Finding]:
    """Kit: a piece for each role of the task."""
    return [Finding("task-roles-filled", "kit", _roles(world))]


def no_piece_twice(world: World) -> list[Finding]:
    """Kit: every code once; a piece without a code cannot be told from another."""
    codes = Counter(p.code for p in world.pieces)
    twice = any(n > 1 for code, n in codes.items() if code)
    outcome = NOT_MET if twice else world.unknown if codes[""] else MET
    return [Finding("no-piece-twice", "kit", outcome)]


def place_dry(world: World) -> list[Finding]:
    """Job: the place is not stated to be other than dry."""
    return [Finding("place-dry", "kit", MET if world.job.get("place", "dry") == "dry" else NOT_MET)]


def second_asked(world: World) -> bool:
    """Whether the task asks a second person; a site rule may add one, and drop one only with an approver."""
    shipped = SECOND_SHIPPED.get(world.task or "", False)
    rules = world.site.get("second_person")
    chosen = rules.get(world.task, shipped) if isinstance(rules, dict) else shipped
    if world.task == "work-in-open-live-pack" or (shipped and not chosen and not world.approved("second_person")):
        return True
    return bool(chosen)


def second_person_present(world: World) -> list[Finding]:
    """Where asked: another person is named; at a live pack with own gloves and protectors."""
    if not second_asked(world):
        return [Finding("second-person-present", "second", MET)]
    first, second = world.person or {}, world.second
    if not second:
        return [Finding("second-person-present", "second", NOT_MET)]
    outcomes = []
    if second.get("code") is None or first.get("code") is None:
        outcomes.append(world.unknown)
    elif second["code"] == first["code"]:
        outcomes.append(NOT_MET)
    if world.task == "work-in-open-live-pack":
        bare = world.job.get("without_protectors") is True
        covers = min(1 if bare else 2, len(world.under_protectors))
        wanted = ((GLOVES, 2), (("leather-protectors",), covers))
        outcomes += [MET if len(world.kind(*kinds)) >= pairs else NOT_MET for kinds, pairs in wanted]
    return [Finding("second-person-present", "second", worst(outcomes))]


def _authorised(world: World, person: dict[str, Any] | None) -> tuple[str, date | None]:
    if not person:
        return world.unknown, None
    scope, scopes, outcomes = SCOPES.get(world.task or ""), person.get("scopes"), []
    if scope is None or scopes is None:
        outcomes.append(world.unknown)
    elif scope not in scopes:
        outcomes.append(NOT_MET)
    days = span(person.get("valid_until"))
    if days is None:
        outcomes.append(world.unknown)
    elif days[0] < world.on:
        outcomes.append(NOT_MET)
    outcome = worst(outcomes)
    return outcome, days[0] if days and outcome == MET else None


def person_authorised(world: World) -> list[Finding]:
    """The person, and the second where one is asked: the task's scope, the end day included."""
    people = [world.person]
    if second_asked(world) and world.second:
        people.append(world.second)
    return [Finding("person-authorised", str((p or {}).get("code", "person")), *_authorised(world, p)) for p in people]


def _shield_rating(shield: Piece) -> float | None:
    """Rating of the assembly: the weakest stated figure, None where fabric or window alone is stated."""
    whole = number(shield.d.get("arc_rating_cal"))
    parts = [number(shield.d.get("fabric_rating_cal")), number(shield.d.get("window_rating_cal"))]
    stated = [r for r in (whole, *parts) if r is not None]
    return min(stated) if whole is not None or None not in parts else None


def _cover(world: World, shield: Piece, energy: float) -> str:
    """1.2 to 12 cal/cm2: balaclava or hood; above 12: hood."""
    hood, balaclava = shield.d.get("hood"), shield.d.get("balaclava")
    if energy < figures.ARC_FACE_CAL or hood is True:
        return MET
    if energy <= figures.ARC_HOOD_CAL:
        if balaclava is True:
            return MET
        return NOT_MET if balaclava is False and hood is False else world.unknown
    return NOT_MET if hood is False else world.unknown


def _shield_outcome(world: World, shield: Piece, energy: float) -> str:
    rating = _shield_rating(shield)
    rated = CANNOT_TELL if rating is None else MET if rating >= energy else NOT_MET
    return worst((rated, _cover(world, shield, energy)))


def arc_rating(world: World) -> list[Finding]:
    """Where the job states incident energy: shields rated for it and covered as it asks, and one is there."""
    rule, energy = "arc-rating", number(world.job.get("incident_energy_cal"))
    shields = world.kind("arc-face-shield")
    if energy is None:
        return [Finding(rule, s.code, MET) for s in shields]
    if not shields and energy >= figures.ARC_FACE_CAL:
        return [Finding(rule, "kit", NOT_MET)]
    return [Finding(rule, s.code, _shield_outcome(world, s, energy)) for s in shields]
