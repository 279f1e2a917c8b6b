"""Every repair is one the set's text allows for this kind: patched, mended, trimmed or shortened as it says.

Gloves only between wrist and cuff edge (from memory: met only after it is confirmed in print); a trimmed blanket keeps
560 x 560 mm; line hose may be cut shorter. A repair of unknown sort or place, or one the set says nothing about, nobody
can tell. Telecommunications rules refuse patched goods. Source: 1910.137(c)(2)(x) (S, place M); WAC 296-32-22550 (5).

>>> asked(RULE, gloves())
met none
>>> asked(RULE, gloves(records=[event("patched", on="2026-01-10", place="palm")]))
not-met not-there
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Demand, Finding, Renewal
from app.decision.domain.limits import Limit, Repairs, RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.record import Event
from app.decision.domain.rule import PieceRule

WAYS = ("patched", "liquid-compound", "trimmed", "cut-shorter")
CUFF = ("cuff", "gauntlet", "between-wrist-and-cuff")
_HAND = ("finger", "fingers", "fork", "thumb", "palm", "hand", "back", "wrist")


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per repair, or one saying there was none."""
    demand = RULE.demand(piece.code, rule_set.basis(RULE.key, piece.kind))
    repairs = [event for event in facts.history(piece).all(Event) if event.kind in ("repaired", "patched")]
    return [_one(facts, piece, rule_set, event, demand) for event in repairs] or [demand.met("repair-allowed.none")]


def _one(facts: Facts, piece: Piece, rule_set: RuleSet, event: Event, demand: Demand) -> Finding:
    text = rule_set.repairs.get(piece.kind)
    repair = event.repair or ("patched" if event.kind == "patched" else None)
    values: dict[str, object] = {"repair": repair or "", "place": event.place or "", "day": str(event.on)}
    if text is None:
        return demand.cannot_tell("repair-allowed.no-clause", set=rule_set.title, **values)
    if repair in text.refused or (event.kind == "patched" and "patched" in text.refused):
        return demand.not_met("repair-allowed.not-this-way", **values)
    if repair not in text.allowed and not (text.place and event.place in _HAND):
        return demand.cannot_tell("repair-allowed.unknown", **values)
    if repair == "trimmed":
        return _trimmed(rule_set, text, event, demand, values)
    if text.place:
        return _placed(facts, event, rule_set.limits[text.place], demand, values)
    return demand.met("repair-allowed.allowed", **values)


def _placed(facts: Facts, event: Event, place: Limit, demand: Demand, values: dict[str, object]) -> Finding:
    """On the cuff and nowhere else; from memory, so it waits for a confirmation in print."""
    if event.place in _HAND:
        return demand.not_met("repair-allowed.not-there", **values)
    if event.place not in CUFF:
        return demand.cannot_tell("repair-allowed.unknown", **values)
    if not facts.site.counts_as_seen(place):
        return demand.not_in_print(place.key, **values)
    return demand.met("repair-allowed.allowed", **values)


def _trimmed(rule_set: RuleSet, text: Repairs, event: Event, demand: Demand, values: dict[str, object]) -> Finding:
    """A sound piece of the least size remains: both sides are asked."""
    least = rule_set.limits[text.least]
    demand = demand.on(least.basis(rule_set.key))
    short = [side for side in event.remaining_mm if side < least.value]
    asked: dict[str, object] = {"required": least.value, "unit": "mm", **values}
    if short:
        return demand.not_met("repair-allowed.too-small", measured=min(short), **asked)
    if len(event.remaining_mm) < 2:
        return demand.cannot_tell("repair-allowed.size-unknown", **asked)
    return demand.met("repair-allowed.allowed", measured=min(event.remaining_mm), **asked)


RULE = PieceRule("repair-allowed", Renewal.EACH_ISSUE, "1910.137(c)(2)(x); WAC 296-32-22550 (5)", check)
