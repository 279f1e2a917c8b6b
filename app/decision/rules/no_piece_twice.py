"""No piece stands twice in the kit. Source: house policy.

>>> asked(RULE, detector("D1"), detector("D2"))
met once
>>> asked(RULE, detector("D1"), detector("D1"))
not-met twice
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Finding, Renewal
from app.decision.domain.rule import KitRule


def check(facts: Facts) -> Iterable[Finding]:
    """One finding for the kit; a code that stands twice is named."""
    demand = RULE.demand("kit")
    twice = [code for code, times in Counter(piece.code for piece in facts.pieces).items() if times > 1]
    if twice:
        return [demand.not_met("no-piece-twice.twice", piece=twice[0])]
    return [demand.met("no-piece-twice.once")]


RULE = KitRule("no-piece-twice", Renewal.EACH_ISSUE, "house policy", check)
