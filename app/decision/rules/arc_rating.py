"""The face shield stands the incident energy the job states: its rating reaches it, with balaclava or hood as asked.

The rating is the weaker of fabric and window. From 1.2 to 12 cal/cm2 a shield with balaclava or a hood, above 12 a
hood. Not stated, or above the highest category (40): a caution. Energy stated and no shield in the kit: not met.
Source: NFPA 70E Table 130.5(G) (S); ASTM F2178, 1.2.2 (P).

>>> asked(RULE, plain("S1", "arc-face-shield", arc_rating_cal=10, hood=True), job={"incident_energy_cal": 8.5})
met reaches: 10 cal/cm2, required 8.5 cal/cm2
>>> asked(RULE, plain("S1", "arc-face-shield", arc_rating_cal=8, hood=True), job={"incident_energy_cal": 8.5})
not-met short: 8 cal/cm2, required 8.5 cal/cm2
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Basis, Cause, Demand, Finding, Remedy, Renewal
from app.decision.domain.piece import Piece
from app.decision.domain.rule import KitRule

_TABLE = Basis("NFPA 70E, Table 130.5(G)", "S", "house")


def check(facts: Facts) -> Iterable[Finding]:
    """One finding per face shield, or one for the kit where a shield is asked and there is none."""
    energy = facts.job.incident_energy_mcal
    shields = facts.of_role("face-shield")
    if energy is None:
        return [finding for shield in shields for finding in _not_stated(RULE.demand(shield.code, _TABLE))]
    if not shields and energy >= facts.house.value("arc/least"):
        return [
            RULE.demand("kit", _TABLE).not_met(
                "arc-rating.no-shield",
                cause=Cause.MISSING,
                remedy=Remedy.ADD_PIECE,
                measured=energy / 1000,
                unit="cal/cm2",
            )
        ]
    return [_one(facts, shield, energy) for shield in shields] + _beyond(facts, energy)


def _beyond(facts: Facts, energy: int) -> list[Finding]:
    """Beyond the highest category no shield is made: said beside whatever the shield's rating comes to."""
    most = facts.house.limits["arc/no-live-work-above"]
    if energy <= most.value:
        return []
    demand = RULE.demand("kit", most.basis("house"))
    values: dict[str, object] = {"measured": energy / 1000, "required": most.value / 1000, "unit": "cal/cm2"}
    return [demand.caution("arc-rating.beyond", **values)]


def _not_stated(demand: Demand) -> list[Finding]:
    return [demand.met("arc-rating.not-asked"), demand.caution("arc-rating.energy-not-stated")]


def _one(facts: Facts, shield: Piece, energy: int) -> Finding:
    demand = RULE.demand(shield.code, _TABLE)
    rating = _rating(shield)
    values: dict[str, object] = {"required": energy / 1000, "unit": "cal/cm2"}
    if rating is None:
        return demand.cannot_tell("arc-rating.unknown", **values)
    values["measured"] = rating / 1000
    if rating < energy:
        return demand.not_met("arc-rating.short", **values)
    if energy < facts.house.value("arc/least") or shield.hood:
        return demand.met("arc-rating.reaches", **values)
    if energy > facts.house.value("arc/hood-above"):
        return (demand.cannot_tell if shield.hood is None else demand.not_met)("arc-rating.hood", **values)
    if shield.balaclava:
        return demand.met("arc-rating.reaches", **values)
    is_known = shield.hood is False and shield.balaclava is False
    return (demand.not_met if is_known else demand.cannot_tell)("arc-rating.balaclava", **values)


def _rating(shield: Piece) -> int | None:
    """The weakest rating in mcal/cm2; one of fabric and window alone tells nothing about the other."""
    parts = (shield.fabric_rating_mcal, shield.window_rating_mcal)
    if (parts[0] is None) != (parts[1] is None) and shield.arc_rating_mcal is None:
        return None
    known = [rating for rating in (shield.arc_rating_mcal, *parts) if rating is not None]
    return min(known, default=None)


RULE = KitRule("arc-rating", Renewal.EACH_ISSUE, "NFPA 70E Table 130.5(G); ASTM F2178", check)
