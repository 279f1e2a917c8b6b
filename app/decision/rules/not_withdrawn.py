"""Not withdrawn: the piece is in the register's service, not withdrawn, destroyed by a breakdown test, or lost.

Source: house policy; kit that has had a breakdown test is never used again (1910.137(a)(2)(iii)).

>>> asked(RULE, gloves())
met in-service
>>> asked(RULE, gloves(records=[electrical_test(on="2025-06-01", breakdown=True)]))
not-met breakdown
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Cause, Finding, Renewal
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.record import ElectricalTest, Withdrawal
from app.decision.domain.rule import PieceRule


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece."""
    del rule_set
    demand = RULE.demand(piece.code)
    history = facts.history(piece)
    gone = history.all(Withdrawal)
    if gone:
        return [demand.not_met("not-withdrawn.withdrawn", cause=Cause.WITHDRAWN, since=str(gone[0].on))]
    if any(test.breakdown for test in history.all(ElectricalTest)):
        return [demand.not_met("not-withdrawn.breakdown", cause=Cause.WITHDRAWN)]
    if piece.is_lost:
        return [demand.not_met("not-withdrawn.lost", cause=Cause.LOST)]
    return [demand.met("not-withdrawn.in-service")]


RULE = PieceRule("not-withdrawn", Renewal.EACH_ISSUE, "house policy; 1910.137(a)(2)(iii)", check)
