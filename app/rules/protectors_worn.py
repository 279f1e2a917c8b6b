"""Protectors are worn over the gloves; without them only for stated dexterity, on a lower voltage, held afterwards.

With protectors: met when the kit has a pair for every pair of gloves. Without: dexterity stated by name (classes 1 to 4
also low damage risk); the stricter of two readings - class 00 half its voltage, the others the class below - unless an
officer chose the US text alone. Cannot tell when class or voltage is unknown.
Source: 1910.137(c)(2)(vii); NFPA 70E 130.7(C)(7) (facts T8).
"""

from __future__ import annotations

from collections.abc import Iterable

from app.domain.facts import Facts
from app.domain.finding import Basis, Demand, Finding, Renewal
from app.domain.limits import RuleSet
from app.domain.piece import Piece
from app.domain.rule import PieceRule
from app.domain.voltage import Circuit, Stress

_CLASSES = ("00", "0", "1", "2", "3", "4")
_CLAUSE = "1910.137(c)(2)(vii)"


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per pair of gloves; without protectors one more per circuit and kind of current."""
    demand = RULE.demand(piece.code, Basis(_CLAUSE, "S", rule_set.key))
    if facts.job.without_protectors:
        return _without(facts, piece, rule_set, demand)
    gloves = len(facts.of_role("gloves"))
    protectors = len(facts.of_role("protectors"))
    if protectors < gloves:
        return [demand.not_met("protectors-worn.missing", measured=protectors, required=gloves)]
    return [demand.met("protectors-worn.in-kit", measured=protectors, required=gloves)]


def _without(facts: Facts, piece: Piece, rule_set: RuleSet, demand: Demand) -> Iterable[Finding]:
    if facts.job.dexterity_stated_by is None:
        return [demand.not_met("protectors-worn.dexterity-not-stated")]
    if piece.insulation_class not in _CLASSES or piece.class_system != rule_set.class_system:
        return [demand.cannot_tell("protectors-worn.class-unknown")]
    if piece.insulation_class not in ("00", "0") and facts.job.low_damage_risk_stated_by is None:
        return [demand.not_met("protectors-worn.damage-risk-not-stated")]
    found: list[Finding] = []
    for circuit in facts.job.circuits:
        stresses = facts.stresses(circuit)
        if not stresses:
            found.append(demand.cannot_tell("stands.voltage-unknown", circuit=circuit.key))
        found += [_one(facts, piece, rule_set, circuit, stress) for stress in stresses]
    found.append(demand.caution("protectors-worn.held-afterwards"))
    return found


def _one(facts: Facts, piece: Piece, rule_set: RuleSet, circuit: Circuit, stress: Stress) -> Finding:
    demand = RULE.demand(piece.code, Basis(_CLAUSE, "S", rule_set.key))
    allowed = allowed_mv(piece.insulation_class or "", stress.current, rule_set, us_text_alone=_us_text_alone(facts))
    values: dict[str, object] = {"circuit": circuit.key, "required": stress.volts, "unit": "V"}
    if allowed is None:
        return demand.cannot_tell("protectors-worn.no-limit", **values)
    values["measured"] = allowed / 1000
    if not stress.is_stood_by(allowed):
        return demand.not_met("protectors-worn.bare-short", **values)
    return demand.met("protectors-worn.bare-reaches", **values)


def _us_text_alone(facts: Facts) -> bool:
    chosen = facts.site.without_protectors_reading == "us-osha-137"
    return chosen and facts.site.takes_looser("without_protectors_reading")


def allowed_mv(insulation_class: str, current: str, rule_set: RuleSet, *, us_text_alone: bool) -> int | None:
    """Use voltage (mV) without protectors: the stricter reading, or the US text alone.

    Class 00: half its use voltage. Class 0: the class below (US text alone: its own). Classes 1 to 4: the class below.
    """
    if insulation_class == "00":
        own = rule_set.limit("use", current, "00")
        printed = rule_set.limit("bare", current, "00")
        halves = [own.value // 2] if own is not None else []
        return min([*halves, *([printed.value] if printed is not None else [])], default=None)
    if insulation_class == "0" and us_text_alone:
        own = rule_set.limit("use", current, "0")
        return None if own is None else own.value
    below = _CLASSES[_CLASSES.index(insulation_class) - 1]
    limit = rule_set.limit("use", current, below)
    return None if limit is None else limit.value


RULE = PieceRule("protectors-worn", Renewal.EACH_ISSUE, "1910.137(c)(2)(vii); NFPA 70E 130.7(C)(7)", check)
