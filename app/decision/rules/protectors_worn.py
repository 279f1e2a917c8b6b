"""Protectors are worn over the gloves; without them only for stated dexterity, on a lower voltage, held afterwards.

With protectors: met when the kit has a pair for every pair of gloves. Without: dexterity stated by name (classes 1 to 4
also low damage risk); the stricter of two readings - class 00 half its voltage, the others the class below, and what
the set prints where that is less - unless an officer chose the US text alone, where the set offers it. Under
telecommunications rules only class 0. Cannot tell when class or voltage is unknown, or the set has no figure. Composite
gloves go without where every set lets them, which is from memory and waits for a confirmation in print.
Source: 1910.137(c)(2)(vii); NFPA 70E 130.7(C)(7); WAC 296-32-22550.

>>> asked(RULE, gloves("G1"), protectors("L1"))
met in-kit: 1, required 1
>>> asked(RULE, gloves("G1"), gloves("G2"), protectors("L1"))
not-met missing: 1, required 2
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Cause, Demand, Finding, Remedy, Renewal
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.rule import PieceRule
from app.decision.domain.voltage import Circuit, Stress

_CLASSES = ("00", "0", "1", "2", "3", "4")


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per pair of gloves; without protectors one more per circuit and kind of current."""
    demand = RULE.demand(piece.code, rule_set.basis(RULE.key, piece.kind))
    if facts.job.without_protectors:
        return _without(facts, piece, rule_set, demand)
    own = facts.own_protection(piece, rule_set)
    if own is not None and not facts.wants_protectors(piece):
        return [demand.on(own.basis(rule_set.key)).met("protectors-worn.own-protection")]
    gloves = len(facts.pairs_under_protectors())
    protectors = len(facts.of_role("protectors"))
    if own is not None and protectors < gloves and not facts.site.counts_as_seen(own):
        return [demand.not_in_print(own.key)]
    if protectors < gloves:
        return [
            demand.not_met(
                "protectors-worn.missing",
                cause=Cause.MISSING,
                remedy=Remedy.ADD_PIECE,
                measured=protectors,
                required=gloves,
            )
        ]
    return [demand.met("protectors-worn.in-kit", measured=protectors, required=gloves)]


def _without(facts: Facts, piece: Piece, rule_set: RuleSet, demand: Demand) -> Iterable[Finding]:
    if facts.job.dexterity_stated_by is None:
        return [demand.not_met("protectors-worn.dexterity-not-stated", remedy=Remedy.JOB)]
    if piece.insulation_class not in _CLASSES or piece.class_system != rule_set.class_system:
        return [demand.cannot_tell("protectors-worn.class-unknown")]
    if piece.insulation_class not in ("00", "0") and facts.job.low_damage_risk_stated_by is None:
        return [demand.not_met("protectors-worn.damage-risk-not-stated", remedy=Remedy.JOB)]
    us_text_alone = _us_text_alone(facts, rule_set)

    def under(circuit: Circuit, stress: Stress) -> Finding:
        allowed = allowed_mv(piece, stress.current, rule_set, us_text_alone=us_text_alone)
        values: dict[str, object] = {"circuit": circuit.key, "required": stress.volts, "unit": "V"}
        if allowed is None:
            return demand.cannot_tell("protectors-worn.no-limit", **values)
        values["measured"] = allowed / 1000
        if not stress.is_stood_by(allowed):
            return demand.not_met("protectors-worn.bare-short", **values)
        return demand.met("protectors-worn.bare-reaches", **values)

    return [*facts.by_stress(demand, under), demand.caution("protectors-worn.held-afterwards")]


def _us_text_alone(facts: Facts, rule_set: RuleSet) -> bool:
    chosen = facts.site.without_protectors_reading
    offered = rule_set.allows("without_protectors_reading", chosen)
    return offered and facts.site.takes_looser("without_protectors_reading")


def allowed_mv(piece: Piece, current: str, rule_set: RuleSet, *, us_text_alone: bool) -> int | None:
    """Use voltage (mV) without protectors: the stricter reading, or the US text alone; None where none is known.

    Class 00: half its use voltage. Class 0: the class below (US text alone: its own). Classes 1 to 4: the class below.
    A set that speaks of some classes only is silent about the rest.
    """
    own_class = piece.insulation_class or ""
    if rule_set.bare_only and own_class not in rule_set.bare_only:
        return None
    printed = rule_set.limit("bare", current, own_class)
    lowered = _lowered(piece, own_class, current, rule_set, us_text_alone=us_text_alone)
    if lowered is None or printed is None:
        return lowered
    return min(lowered, printed.value)


def _lowered(piece: Piece, own_class: str, current: str, rule_set: RuleSet, *, us_text_alone: bool) -> int | None:
    if own_class == "00" or (own_class == "0" and us_text_alone):
        own = rule_set.class_limit(piece.kind, own_class, "use", current)
        return None if own is None else own.value // (2 if own_class == "00" else 1)
    below = _CLASSES[_CLASSES.index(own_class) - 1]
    limit = rule_set.class_limit(piece.kind, below, "use", current)
    return None if limit is None else limit.value


RULE = PieceRule("protectors-worn", Renewal.EACH_ISSUE, "1910.137(c)(2)(vii); NFPA 70E 130.7(C)(7)", check)
