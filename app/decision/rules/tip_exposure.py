"""The tip is not exposed too far: 4 mm under GS38; under the IEC profile 4 mm for CAT III and IV, else 19 mm.

Cannot tell when it is not stated. Over 2 mm under GS38 is a caution. Every lead, tip and clip is judged, instruments
only where their leads are fixed. Source: GS38 paragraph 9; IEC 61010-031.

>>> asked(RULE, detector(tip_mm=2))
met short: 2 mm, required 4 mm
>>> asked(RULE, detector(tip_mm=4.5))
not-met long: 4.5 mm, required 4 mm
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Finding, Renewal
from app.decision.domain.limits import Limit, RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.rule import PieceRule


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per member of a chain that has a tip."""
    del rule_set
    limit = _limit(facts)
    demand = RULE.demand(piece.code, limit.basis("house"))
    if not _ends_in_tip(facts, piece):
        return [demand.met("tip-exposure.no-tip")]
    if piece.tip_um is None:
        return [demand.cannot_tell("tip-exposure.not-stated", required=limit.value / 1000, unit="mm")]
    values: dict[str, object] = {"measured": piece.tip_um / 1000, "required": limit.value / 1000, "unit": "mm"}
    if piece.tip_um > limit.value:
        return [demand.not_met("tip-exposure.long", **values)]
    findings = [demand.met("tip-exposure.short", **values)]
    if facts.tip_profile() == "gs38" and piece.tip_um > facts.house.value("tip/gs38-preferred"):
        findings.append(demand.caution("tip-exposure.over-preferred", measured=piece.tip_um / 1000, unit="mm"))
    return findings


def _limit(facts: Facts) -> Limit:
    if facts.tip_profile() == "gs38":
        return facts.house.limits["tip/gs38"]
    low = facts.job.circuits and all(circuit.measuring_category == "II" for circuit in facts.job.circuits)
    return facts.house.limits["tip/iec-other" if low else "tip/iec-III-IV"]


def _ends_in_tip(facts: Facts, piece: Piece) -> bool:
    kind = facts.kind(piece)
    if kind.is_instrument:
        return piece.fixed_leads is True
    return kind.is_chain_part


RULE = PieceRule("tip-exposure", Renewal.EACH_ISSUE, "GS38 paragraph 9; IEC 61010-031", check)
