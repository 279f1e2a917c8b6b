"""Every repair of a glove is one the text allows: a patch or a mended blemish between wrist and cuff edge.

A trimmed or shortened glove is not allowed; a repair of unknown sort or place cannot be told. The place limit is from
memory: met only after it is confirmed in print. Source: 1910.137(c)(2)(x) (S, place M).
"""

from __future__ import annotations

from collections.abc import Iterable

from app.domain.facts import Facts
from app.domain.finding import Basis, Demand, Finding, Renewal
from app.domain.limits import RuleSet
from app.domain.piece import Piece
from app.domain.record import Event
from app.domain.rule import PieceRule

_CLAUSE = "1910.137(c)(2)(x)"
MENDED = ("patched", "liquid-compound")
_NOT_MENDED = ("trimmed", "cut-shorter")
CUFF = ("cuff", "gauntlet", "between-wrist-and-cuff")
_HAND = ("finger", "fingers", "fork", "thumb", "palm", "hand", "back", "wrist")


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per repair, or one saying there was none."""
    demand = RULE.demand(piece.code, Basis(_CLAUSE, "S", rule_set.key))
    repairs = [event for event in facts.history(piece).all(Event) if event.kind in ("repaired", "patched")]
    return [_one(facts, rule_set, event, demand) for event in repairs] or [demand.met("repair-allowed.none")]


def _one(facts: Facts, rule_set: RuleSet, event: Event, demand: Demand) -> Finding:
    repair = event.repair or ("patched" if event.kind == "patched" else None)
    values: dict[str, object] = {"repair": repair or "", "place": event.place or "", "day": str(event.on)}
    if repair in _NOT_MENDED:
        return demand.not_met("repair-allowed.not-this-way", **values)
    if event.place in _HAND:
        return demand.not_met("repair-allowed.not-there", **values)
    if repair not in MENDED or event.place not in CUFF:
        return demand.cannot_tell("repair-allowed.unknown", **values)
    place = rule_set.limit("repair-place")
    if place is None:
        return demand.cannot_tell("repair-allowed.unknown", **values)
    if not facts.site.counts_as_seen(place):
        return demand.cannot_tell("limit-not-seen-in-print", limit=place.key, **values)
    return demand.met("repair-allowed.allowed", **values)


RULE = PieceRule("repair-allowed", Renewal.EACH_ISSUE, "1910.137(c)(2)(x)", check)
