"""The self-test is done today and passed: detectors and proving units, each use.

Void on return, change of custody and an incident. Source: makers' manuals (facts 2, self-test): any failed step, do
not use.
"""

from __future__ import annotations

from collections.abc import Iterable

from app.domain.facts import Facts
from app.domain.finding import Basis, Finding, Renewal
from app.domain.limits import RuleSet
from app.domain.piece import Piece
from app.domain.record import SelfTest
from app.domain.rule import PieceRule


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece."""
    del rule_set
    demand = RULE.demand(piece.code, Basis("IEC 61243-3 practice, each use; house policy", "S", "house"))
    test = facts.history(piece).deciding(SelfTest, lambda one: one.result != "passed")
    if test is None:
        return [demand.not_met("self-test-done.not-today")]
    if test.result != "passed":
        return [demand.not_met("self-test-done.failed")]
    return [demand.met("self-test-done.done")]


RULE = PieceRule("self-test-done", Renewal.EACH_DAY, "makers' manuals; house policy", check)
