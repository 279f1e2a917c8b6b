"""Demands on gloves and protectors: class, volts, protectors, cuff clearance, repair, size."""

from __future__ import annotations

from typing import Any

from . import figures
from .electrical import Answer
from .goods import limits_of
from .results import class_of, number_of_class
from .sets import GLOVES
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

ONE_SIZE = 1.0


def _bare_volts(world: World, piece: Piece, glove_class: str) -> tuple[int | None, int | None]:
    """(AC, DC) mV of a glove worn without protectors: the stricter of the two readings unless one was chosen."""
    system = world.rule_set.system
    if system == "iec" and glove_class == "00":
        return figures.CLASS_AC_MV["00"] // 2, figures.CLASS_DC_MV["00"] // 2
    chosen = world.site.get("without_protectors_reading") == "us-osha-137" and world.rule_set.name == "us-osha-137"
    if glove_class == "0" and chosen and world.approved("without_protectors_reading"):
        return figures.CLASS_AC_MV["0"], figures.CLASS_DC_MV["0"]
    below = figures.CLASSES[figures.CLASSES.index(glove_class) - 1]
    if system == "gb" and below not in figures.GB_AC_MV:
        return None, None
    return limits_of(piece, system, below)


def _bare_telecom(world: World, glove_class: str) -> str:
    """Telecom: class 0 below 250 V; no figure is printed for another class."""
    if glove_class != "0":
        return CANNOT_TELL
    asked = [c.required for c in world.circuits]
    if any(a is not None and a >= figures.BARE_TELECOM_MV * 10_000 for a in asked):
        return NOT_MET
    return CANNOT_TELL if None in asked else MET


def _without_protectors(world: World, piece: Piece) -> str:
    glove_class = class_of(world, piece)
    if not world.job.get("dexterity_stated_by"):
        return NOT_MET
    if glove_class is None:
        return CANNOT_TELL
    if glove_class not in {"00", "0"} and not world.job.get("low_damage_risk_stated_by"):
        return NOT_MET
    outcomes = [stands(world, c, *_bare_volts(world, piece, glove_class)) for c in world.circuits]
    if world.rule_set.name == "us-telecom-268":
        outcomes.append(_bare_telecom(world, glove_class))
    return worst(outcomes)


def protectors_worn(world: World, piece: Piece) -> Answer | None:
    """Gloves: a pair of protectors for each pair, or the bare use is stated by name and the volts allow it."""
    covered = world.under_protectors
    if piece not in covered:
        return MET, None
    if world.job.get("without_protectors") is True:
        return _without_protectors(world, piece), None
    if len(world.kind("leather-protectors")) >= len(covered):
        return MET, None
    unconfirmed = piece.kind == "composite-gloves" and world.rule_set.composite_own_protection
    return CANNOT_TELL if unconfirmed else NOT_MET, None


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
    classes = [number_of_class(world, g) for g in world.under_protectors]
    fits = MET if not classes or cut in classes else CANNOT_TELL if None in classes else NOT_MET
    return worst((fits, _leather_fits(piece, str(cut))))


def protector_fits_class(world: World) -> list[Finding]:
    """Protectors: cut for a class of glove in the kit; and no class of glove is short of its own."""
    rule = "protector-fits-class"
    protectors = world.kind("leather-protectors")
    found = [Finding(rule, p.code, _protector_outcome(world, p)) for p in protectors]
    gloves = [(g, number_of_class(world, g)) for g in world.under_protectors]
    if not protectors or world.job.get("without_protectors") is True:
        return found
    cuts = [p.d.get("cut_for_class") for p in protectors]
    unknown = sum(1 for cut in cuts if cut not in figures.CLASSES)
    for glove, glove_class in gloves:
        short = sum(1 for _, c in gloves if c == glove_class) - cuts.count(glove_class)
        if glove_class is not None and short > 0:
            # A protector that does not say what it is cut for may be the one that is short.
            found.append(Finding(rule, glove.code, NOT_MET if short > unknown else CANNOT_TELL))
    return found


def _clearance_mm(world: World, piece: Piece) -> float | None:
    """Smallest clearance measured today, else glove length less the longest protector less the slack."""
    measured = [
        r.d["clearance_mm"]
        for r in piece.of("inspection")
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
    if world.job.get("without_protectors") is True or piece not in world.under_protectors:
        return None
    glove_class, clearance = number_of_class(world, piece), _clearance_mm(world, piece)
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


def _fit(world: World, piece: Piece, person: dict[str, Any] | None) -> str:
    """Whether the pair is within one size of a size of the person's list."""
    if person is None:
        return world.unknown
    custody = piece.d.get("custody")
    others = [p.get("code") for p in (world.person, world.second) if p and p is not person]
    if custody is not None and custody != person.get("code") and custody in others:
        return NOT_MET
    size, sizes = number(piece.d.get("size")), [number(s) for s in person.get("glove_sizes") or []]
    known = [s for s in sizes if s is not None]
    if size is None or not known:
        return world.unknown
    return MET if min(abs(size - s) for s in known) <= ONE_SIZE else NOT_MET


def glove_fits_wearer(world: World, piece: Piece) -> Answer | None:
    """Gloves: within one size of the wearer's; where two wear, however two of the pairs are taken."""
    if world.task != "work-in-open-live-pack" or world.second is None:
        return _fit(world, piece, world.person), None
    first, second = _fit(world, piece, world.person), _fit(world, piece, world.second)
    # A pair listed twice is one pair, which two people cannot both take.
    others = [g for g in world.kind(*GLOVES) if g is not piece and (not g.code or g.code != piece.code)]
    if not others:
        return best((first, second)), None
    ways = []
    for other in others:
        one_way = worst((first, _fit(world, other, world.second)))
        other_way = worst((second, _fit(world, other, world.person)))
        ways.append(best((one_way, other_way)))
    return worst(ways), None
