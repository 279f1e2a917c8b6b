"""At hand: in the crib, or in the keeping of somebody doing this work, and not out on another job.

Custody is not issue: a pair in the doing person's custody counts as at hand, in another's not. Source: house policy.

>>> asked(RULE, gloves(custody="P1"), person={"code": "P1"})
met here
>>> asked(RULE, gloves(custody="P2"), person={"code": "P1"})
not-met elsewhere
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Cause, Finding, Remedy, Renewal
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.rule import PieceRule


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece."""
    del rule_set
    demand = RULE.demand(piece.code)
    history = facts.history(piece)
    issue = history.open_issue()
    if issue is not None:
        return [demand.not_met("at-hand.out", cause=Cause.OUT, remedy=Remedy.TAKE_BACK, since=str(issue.on))]
    elsewhere = sorted(history.places() - {"crib", *(person.code for person in facts.wearers)})
    if elsewhere:
        return [
            demand.not_met("at-hand.elsewhere", cause=Cause.ELSEWHERE, remedy=Remedy.TAKE_BACK, holder=elsewhere[0])
        ]
    return [demand.met("at-hand.here")]


RULE = PieceRule("at-hand", Renewal.EACH_ISSUE, "house policy", check)
