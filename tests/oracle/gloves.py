"""Demands on gloves and protectors: class, volts, protectors, cuff clearance, repair, size."""

from __future__ import annotations

from typing import Any

from . import figures
from .electrical import Answer
from .world import (
    CANNOT_TELL,
    MET,
    NOT_MET,
    Finding,
    Piece,
    World,
    best,
    number,
    stands,
    worst,
)

REPAIR_PLACES_ALLOWED = frozenset({"cuff", "gauntlet", "between-wrist-and-cuff"})
REPAIR_PLACES_REFUSED = frozenset({"finger", "fingers", "fork", "thumb", "palm", "hand", "back", "wrist"})
REPAIRS_REFUSED = frozenset({"trimmed", "shortened"})
ONE_SIZE = 1.0


def class_of(piece: Piece) -> str | None:
    """The class of a glove where it is in the table and of the class system this rule set judges."""
    glove_class = piece.d.get("class")
    known = glove_class in figures.CLASSES and piece.d.get("class_system") == "iec"
    return str(glove_class) if known else None


def class_known(world: World, piece: Piece) -> Answer | None:
    """Gloves: the class and its system are marked and are the set's own."""
    del world
    if piece.kind != "rubber-gloves":
        return None
    return MET if class_of(piece) else CANNOT_TELL, None


def _class_stands(world: World, glove_class: str | None) -> str:
    if glove_class is None:
        return CANNOT_TELL if world.circuits else MET
    ac_mv, dc_mv = figures.CLASS_AC_MV[glove_class], figures.CLASS_DC_MV[glove_class]
    return worst(stands(world, c, ac_mv, dc_mv) for c in world.circuits)


def insulation_class_stands_voltage(world: World, piece: Piece) -> Answer | None:
    """Gloves: the class's maximum use volts stand every circuit."""
    if piece.kind != "rubber-gloves":
        return None
    return _class_stands(world, class_of(piece)), None


def _bare_volts(world: World, glove_class: str) -> tuple[int, int]:
    """(AC, DC) mV of a glove worn without protectors: the stricter of the two readings unless one was chosen."""
    if glove_class == "00":
        return figures.CLASS_AC_MV["00"] // 2, figures.CLASS_DC_MV["00"] // 2
    chosen = world.site.get("without_protectors_reading")
    if glove_class == "0" and chosen == "us-osha-137" and world.approved("without_protectors_reading"):
        return figures.CLASS_AC_MV["0"], figures.CLASS_DC_MV["0"]
    below = figures.CLASSES[figures.CLASSES.index(glove_class) - 1]
    return figures.CLASS_AC_MV[below], figures.CLASS_DC_MV[below]


def _without_protectors(world: World, piece: Piece) -> str:
    glove_class = class_of(piece)
    if not world.job.get("dexterity_stated_by"):
        return NOT_MET
    if glove_class is None:
        return CANNOT_TELL
    if glove_class not in {"00", "0"} and not world.job.get("low_damage_risk_stated_by"):
        return NOT_MET
    return worst(stands(world, c, *_bare_volts(world, glove_class)) for c in world.circuits)


def protectors_worn(world: World, piece: Piece) -> Answer | None:
    """Gloves: a pair of protectors for each pair, or the bare use is stated by name and the volts allow it."""
    if piece.kind != "rubber-gloves":
        return None
    if world.job.get("without_protectors") is True:
        return _without_protectors(world, piece), None
    enough = len(world.kind("leather-protectors")) >= len(world.kind("rubber-gloves"))
    return MET if enough else NOT_MET, None


def _leather_fits(piece: Piece, cut: str) -> str:
    outcomes = [MET]
    leather, millimetres = piece.d.get("leather"), number(piece.d.get("leather_mm"))
    if millimetres is not None:
        low, high = figures.LEATHER_MM.get(cut, figures.LEATHER_GENERAL_MM)
        outcomes.append(MET if low <= millimetres <= high else NOT_MET)
    if leather in figures.LEATHERS_LOW_CLASSES:
        outcomes.append(MET if cut in {"00", "0"} else NOT_MET)
    elif leather is not None and leather not in figures.LEATHERS:
        outcomes.append(CANNOT_TELL)
    return worst(outcomes)


def _protector_outcome(world: World, piece: Piece) -> str:
    cut = piece.d.get("cut_for_class")
    if cut not in figures.CLASSES:
        return CANNOT_TELL
    classes = [class_of(g) for g in world.kind("rubber-gloves")]
    fits = MET if not classes or cut in classes else CANNOT_TELL if None in classes else NOT_MET
    return worst((fits, _leather_fits(piece, str(cut))))


def protector_fits_class(world: World) -> list[Finding]:
    """Protectors: cut for a class of glove in the kit; and no class of glove is short of its own."""
    rule = "protector-fits-class"
    protectors = world.kind("leather-protectors")
    found = [Finding(rule, p.code, _protector_outcome(world, p)) for p in protectors]
    gloves = [(g, class_of(g)) for g in world.kind("rubber-gloves")]
    if len(protectors) < len(gloves):
        return found
    for glove, glove_class in gloves:
        pairs = sum(1 for _, c in gloves if c == glove_class)
        cut = sum(1 for p in protectors if p.d.get("cut_for_class") == glove_class)
        if glove_class is not None and cut < pairs:
            found.append(Finding(rule, glove.code, NOT_MET))
    return found


def _clearance_mm(world: World, piece: Piece) -> float | None:
    """Smallest clearance measured today, else glove length less the longest protector less the slack."""
    measured = [
        r.d["clearance_mm"]
        for r in piece.of("look-over")
        if r.first == world.on and isinstance(r.d.get("clearance_mm"), (int, float))
    ]
    if measured:
        return float(min(measured))
    lengths = [number(p.d.get("length_mm")) for p in world.kind("leather-protectors")]
    glove = number(piece.d.get("length_mm"))
    known = [x for x in lengths if x is not None]
    if glove is None or not known or len(known) < len(lengths):
        return None
    return glove - max(known) - figures.CUFF_SLACK_MM


def cuff_clearance(world: World, piece: Piece) -> Answer | None:
    """Gloves under protectors: the rubber cuff shows by at least the class's figure."""
    if piece.kind != "rubber-gloves" or world.job.get("without_protectors") is True:
        return None
    glove_class, clearance = class_of(piece), _clearance_mm(world, piece)
    if glove_class is None or clearance is None:
        return CANNOT_TELL, None
    table = world.site.get("clearance_table")
    if table == "astm-f496" and world.approved("clearance_table"):
        if clearance < figures.CLEARANCE_ASTM_MM[glove_class]:
            return NOT_MET, None
        if world.confirmed(figures.astm_clearance_key(glove_class)):
            return MET, None
        return (MET if clearance >= figures.CLEARANCE_MM[glove_class] else CANNOT_TELL), None
    return MET if clearance >= figures.CLEARANCE_MM[glove_class] else NOT_MET, None


def repair_allowed(world: World, piece: Piece) -> Answer | None:
    """Gloves: repaired only between the wrist and the reinforced edge of the cuff."""
    if piece.kind != "rubber-gloves":
        return None
    outcomes = []
    for event in piece.of("event"):
        if event.d.get("kind") not in {"repaired", "patched"}:
            continue
        place, repair = event.d.get("place"), event.d.get("repair")
        if event.d["kind"] == "repaired" and repair is None:
            outcomes.append(world.unknown)
        if place in REPAIR_PLACES_REFUSED or repair in REPAIRS_REFUSED:
            outcomes.append(NOT_MET)
        elif place in REPAIR_PLACES_ALLOWED:
            outcomes.append(MET if world.confirmed(figures.GLOVE_REPAIR_PLACE) else CANNOT_TELL)
        else:
            outcomes.append(world.unknown if place is None else CANNOT_TELL)
    return worst(outcomes), None


def _fit(world: World, piece: Piece, person: dict[str, Any] | None) -> str:
    """Whether the pair is within one size of a size of the person's list."""
    if person is None:
        return world.unknown
    custody = piece.d.get("custody")
    others = [p.get("code") for p in (world.person, world.second) if p and p is not person]
    if custody is not None and custody in others:
        return NOT_MET
    size, sizes = number(piece.d.get("size")), [number(s) for s in person.get("glove_sizes") or []]
    known = [s for s in sizes if s is not None]
    if size is None or not known:
        return world.unknown
    return MET if min(abs(size - s) for s in known) <= ONE_SIZE else NOT_MET


def glove_fits_wearer(world: World, piece: Piece) -> Answer | None:
    """Gloves: within one size of the wearer's; where two wear, however two of the pairs are taken."""
    if piece.kind != "rubber-gloves":
        return None
    if world.task != "work-in-open-live-pack" or world.second is None:
        return _fit(world, piece, world.person), None
    first, second = _fit(world, piece, world.person), _fit(world, piece, world.second)
    others = [g for g in world.kind("rubber-gloves") if g is not piece]
    if not others:
        return best((first, second)), None
    ways = []
    for other in others:
        one_way = worst((first, _fit(world, other, world.second)))
        other_way = worst((second, _fit(world, other, world.person)))
        ways.append(best((one_way, other_way)))
    return worst(ways), None
