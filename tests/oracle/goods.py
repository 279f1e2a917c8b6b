"""Demands on insulating goods of every kind that carries a class: the class, its volts, its repairs."""

from __future__ import annotations

from . import figures
from .days import Rec
from .electrical import Answer
from .results import class_of
from .sets import GLOVES
from .world import CANNOT_TELL, MET, NOT_MET, Circuit, Piece, World, stands, worst

REPAIR_PLACES_ALLOWED = frozenset({"cuff", "gauntlet", "between-wrist-and-cuff"})
REPAIR_PLACES_REFUSED = frozenset({"finger", "fingers", "fork", "thumb", "palm", "hand", "back", "wrist"})
# Ways the list names for the kind, gloves aside, which are judged by the place.
REPAIRS_LISTED = {
    "rubber-sleeves": frozenset({"patched"}),
    "insulating-blanket": frozenset({"patched"}),
    "line-hose": frozenset({"cut-shorter"}),
}
# Ways the list names, but for other kinds; a way it does not name at all cannot be told.
REPAIRS_REFUSED = {
    **dict.fromkeys((*GLOVES, "rubber-sleeves"), frozenset({"trimmed", "cut-shorter"})),
    "insulating-blanket": frozenset({"cut-shorter"}),
    "line-hose": frozenset({"trimmed"}),
}


def class_known(world: World, piece: Piece) -> Answer | None:
    """The class and its system are marked, are the set's own, and the set prints that class for the kind."""
    return MET if class_of(world, piece) else CANNOT_TELL, None


def limits_of(piece: Piece, system: str, goods_class: str) -> tuple[int | None, int | None]:
    """(AC, DC) mV of the class; None where the set prints none for the kind."""
    if system == "gb":
        return (figures.GB_AC_MV[goods_class] if piece.kind in GLOVES else None), None
    if system != "iec":
        return None, None
    dc = figures.FOOTWEAR_DC_MV if piece.kind == "dielectric-footwear" else figures.CLASS_DC_MV
    return figures.CLASS_AC_MV[goods_class], dc.get(goods_class)


def _class_stands(world: World, piece: Piece, goods_class: str, circuit: Circuit) -> str:
    name, tables = world.rule_set.name, world.rule_set.tables
    outcome = stands(world, circuit, *limits_of(piece, world.rule_set.system, goods_class))
    keys = [figures.goods_key(name, tables, piece.kind)]
    if piece.kind == "insulating-matting" and circuit.current != "ac":
        keys.append(figures.matting_dc_key(name))
    if outcome == MET and not all(world.confirmed(k) for k in keys):
        return CANNOT_TELL
    return outcome


def _dc_tested(world: World, piece: Piece, circuit: Circuit) -> str:
    """Boots on DC: only those that say that they were tested with DC."""
    if piece.kind != "dielectric-footwear" or circuit.current not in {"dc", "inverter"}:
        return MET
    return MET if piece.d.get("dc_tested") is True else NOT_MET


def insulation_class_stands_voltage(world: World, piece: Piece) -> Answer | None:
    """The class's maximum use volts stand every circuit; boots on DC were tested with DC."""
    goods_class = class_of(world, piece)
    outcomes = [_dc_tested(world, piece, c) for c in world.circuits]
    if goods_class is None:
        return worst([*outcomes, CANNOT_TELL] if world.circuits else []), None
    outcomes += [_class_stands(world, piece, goods_class, c) for c in world.circuits]
    return worst(outcomes), None


def _glove_repair(world: World, event: Rec) -> str:
    """Only between the wrist and the reinforced edge of the cuff."""
    place, repair = event.d.get("place"), event.d.get("repair")
    outcomes = []
    if event.d["kind"] == "repaired" and repair is None:
        outcomes.append(world.unknown)
    if place in REPAIR_PLACES_REFUSED or repair in REPAIRS_REFUSED["rubber-gloves"]:
        outcomes.append(NOT_MET)
    elif place in REPAIR_PLACES_ALLOWED:
        key = figures.glove_repair_key(world.rule_set.name)
        outcomes.append(MET if world.confirmed(key) else CANNOT_TELL)
    else:
        outcomes.append(world.unknown if place is None else CANNOT_TELL)
    return worst(outcomes)


def _trim(world: World, piece: Piece, event: Rec) -> str:
    """A trimmed blanket: the sound piece is at least 560 mm both ways."""
    sides = event.d.get("remaining_mm")
    if not isinstance(sides, list) or len(sides) != 2:
        return world.unknown if sides is None else CANNOT_TELL
    if any(s < figures.TRIMMED_BLANKET_MM for s in sides):
        return NOT_MET
    return MET if class_of(world, piece) else CANNOT_TELL


def _listed_repair(world: World, piece: Piece, event: Rec) -> str:
    """The list of 1910.137(c)(2)(x); what it names for another kind is refused."""
    if piece.kind in GLOVES:
        return _glove_repair(world, event)
    repair = "patched" if event.d["kind"] == "patched" else event.d.get("repair")
    if piece.kind == "insulating-blanket" and repair == "trimmed":
        return _trim(world, piece, event)
    if repair in REPAIRS_REFUSED.get(piece.kind, ()):
        return NOT_MET
    listed = REPAIRS_LISTED.get(piece.kind, frozenset())
    if repair in listed:
        return MET
    return world.unknown if repair is None and listed else CANNOT_TELL


def _repair(world: World, piece: Piece, event: Rec) -> str:
    patched = "patched" in {event.d["kind"], event.d.get("repair")}
    repairs = world.rule_set.repairs
    if repairs == "no-patches" and patched:
        return NOT_MET
    return _listed_repair(world, piece, event) if repairs == "listed" else CANNOT_TELL


def repair_allowed(world: World, piece: Piece) -> Answer | None:
    """Each repair is one that the set lists for the kind; a set silent on repairs allows none."""
    repairs = [e for e in piece.of("event") if e.d.get("kind") in {"repaired", "patched"}]
    return worst(_repair(world, piece, e) for e in repairs), None
