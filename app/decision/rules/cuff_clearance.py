"""The cuff stands out past the protector: at least the clearance of its class.

Measured at today's inspection, else glove length less the longest protector less 15 mm. Cannot tell when neither is
known, or when the looser table is chosen and its figure not confirmed in print. Source: US military handbook, Table 3.

>>> asked(RULE, gloves(length_mm=360), protectors(length_mm=320))
met reaches: 25 mm, required 25 mm
>>> asked(RULE, gloves(length_mm=360), protectors(length_mm=321))
not-met short: 24 mm, required 25 mm
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.calendar import Day
from app.decision.domain.facts import Facts
from app.decision.domain.finding import Demand, Finding, Renewal
from app.decision.domain.limits import Limit, RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.record import Inspection
from app.decision.domain.rule import PieceRule


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per pair of gloves; no demand where it is worn without protectors."""
    del rule_set
    demand = RULE.demand(piece.code)
    if facts.job.without_protectors or not facts.wants_protectors(piece):
        return [demand.met("cuff-clearance.no-protectors")]
    limit = _limit(facts, piece)
    if limit is None:
        return [demand.cannot_tell("cuff-clearance.class-unknown")]
    demand = demand.on(limit.basis("house"))
    measured, how = _clearance(facts, piece)
    if measured is None:
        return [demand.cannot_tell("cuff-clearance.not-measured", required=limit.value / 1000, unit="mm")]
    return [_judge(facts, limit, measured, how, demand)]


def _judge(facts: Facts, limit: Limit, measured: int, how: str, demand: Demand) -> Finding:
    values: dict[str, object] = {
        "how": how, "measured": measured / 1000, "required": limit.value / 1000, "unit": "mm",
    }  # fmt: skip
    if measured < 0:
        return demand.not_met("cuff-clearance.covered", past=-measured / 1000, **values)
    if measured < limit.value:
        return demand.not_met("cuff-clearance.short", **values)
    if not facts.site.counts_as_seen(limit):
        return demand.not_in_print(limit.key, **values)
    return demand.met("cuff-clearance.reaches", **values)


def _limit(facts: Facts, piece: Piece) -> Limit | None:
    table = facts.site.clearance_table
    if table != "cautious" and not facts.site.takes_looser("clearance_table"):
        table = "cautious"
    return facts.house.limits.get(f"clearance/{table}/{facts.class_in_force(piece)}")


def _clearance(facts: Facts, piece: Piece) -> tuple[int | None, str]:
    """Clearance in um and how it was found: the smallest measured today, else from the lengths."""
    looks = [look for look in facts.history(piece).all(Inspection) if look.on == Day.of(facts.on)]
    measured = [look.clearance_um for look in looks if look.clearance_um is not None]
    if measured:
        return min(measured), "measured"
    lengths = [protector.length_um for protector in facts.of_role("protectors")]
    known = [length for length in lengths if length is not None]
    if piece.length_um is None or not known or len(known) < len(lengths):
        return None, "unknown"
    return piece.length_um - max(known) - facts.house.value("derived-clearance-allowance"), "derived"


RULE = PieceRule("cuff-clearance", Renewal.EACH_ISSUE, "US military handbook, Table 3; house policy", check)
