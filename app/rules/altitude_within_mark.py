"""The place is not above the altitude the instrument or lead is made for; 2,000 m where its maker says nothing.

A site that does not state its altitude counts as up to 2,000 m, with a caution. Stepping the rating down is advice and
never changes this. Source: IEC 61243-3 scope (P); makers' sheets for meters (S).
"""

from __future__ import annotations

from collections.abc import Iterable

from app.domain.facts import Facts
from app.domain.finding import Finding, Renewal
from app.domain.limits import RuleSet
from app.domain.piece import Piece
from app.domain.rule import PieceRule


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece."""
    del rule_set
    silent = facts.house.limits["altitude-if-silent"]
    demand = RULE.demand(piece.code, silent.basis("house"))
    limit = silent.value if piece.max_altitude_m is None else piece.max_altitude_m
    site = facts.site.altitude_m
    height = silent.value if site is None else site
    if height > limit:
        return [demand.not_met("altitude-within-mark.above", measured=height, required=limit, unit="m")]
    found = [demand.met("altitude-within-mark.within", measured=height, required=limit, unit="m")]
    if site is None:
        found.append(demand.caution("altitude-within-mark.site-not-stated", required=limit, unit="m"))
    return found


RULE = PieceRule("altitude-within-mark", Renewal.EACH_ISSUE, "IEC 61243-3 scope; makers' sheets", check)
