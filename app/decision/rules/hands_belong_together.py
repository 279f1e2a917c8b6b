"""The two hands belong together: a pair is one piece; a single glove goes out with nobody.

Two sound singles alike in everything may be paired anew; until then a single is not a pair.
Source: EN 60903:2003 annex E.2 (if either glove is doubtful the pair is not used); house policy.

>>> asked(RULE, gloves())
met pair
>>> asked(RULE, gloves(hand="left"))
not-met single
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Finding, Renewal
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.rule import PieceRule


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per pair."""
    del facts, rule_set
    demand = RULE.demand(piece.code)
    if piece.hand in ("left", "right"):
        return [demand.not_met("hands-belong-together.single", hand=piece.hand)]
    return [demand.met("hands-belong-together.pair")]


RULE = PieceRule("hands-belong-together", Renewal.EACH_ISSUE, "EN 60903:2003 annex E.2; house policy", check)
