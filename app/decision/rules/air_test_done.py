"""The air test is done: today, both hands, no defect, not blown up beyond what the type allows.

Good for the working day; void on return, on change of custody and on an incident. An unknown type is held to the
stricter of the two limits, and between the two nobody can tell.
Source: 1910.137(c)(2)(ii); inflation 1.5 and 1.25 are house policy (current practice, not seen in print).

>>> asked(RULE, gloves(type="I", records=[air_test(inflation=1.5)]))
met done: 1.5 x, required 1.5 x
>>> asked(RULE, gloves(type="I", records=[air_test(inflation=1.51)]))
not-met over-inflated: 1.51 x, required 1.5 x
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Cause, Demand, Finding, Outcome, Remedy, Renewal
from app.decision.domain.history import has_defect
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.record import AirTest
from app.decision.domain.rule import PieceRule


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece."""
    demand = RULE.demand(piece.code, rule_set.basis(RULE.key, piece.kind))

    def is_bad(test: AirTest) -> bool:
        return _judge(facts, piece, test, demand).outcome is not Outcome.MET

    test = facts.history(piece).deciding(AirTest, is_bad)
    if test is None:
        return [demand.not_met("air-test-done.not-today", cause=Cause.NOT_DONE, remedy=Remedy.AIR_TEST)]
    return [_judge(facts, piece, test, demand)]


def _judge(facts: Facts, piece: Piece, test: AirTest, demand: Demand) -> Finding:
    if has_defect(test):
        return demand.not_met("air-test-done.defect", cause=Cause.DEFECT, defects=test.defects or ("one-hand-failed",))
    if test.left != "passed" or test.right != "passed":
        return demand.not_met("air-test-done.one-hand", cause=Cause.NOT_DONE, remedy=Remedy.AIR_TEST)
    return _inflation(facts, piece, test, demand)


def _inflation(facts: Facts, piece: Piece, test: AirTest, demand: Demand) -> Finding:
    if test.inflation_c is None:
        if facts.rest_in_order:
            return demand.met("air-test-done.done")
        return demand.cannot_tell("air-test-done.inflation-unknown", remedy=Remedy.AIR_TEST)
    limits = {key: facts.house.value(f"inflation/{key}") for key in ("I", "II")}
    allowed = limits.get(piece.type or "", min(limits.values()))
    values: dict[str, object] = {"measured": test.inflation_c / 100, "required": allowed / 100, "unit": "x"}
    if test.inflation_c <= allowed:
        return demand.met("air-test-done.done", **values)
    if piece.type is None and test.inflation_c <= max(limits.values()):
        return demand.cannot_tell("air-test-done.type-unknown", **values)
    return demand.not_met("air-test-done.over-inflated", **values)


RULE = PieceRule("air-test-done", Renewal.EACH_DAY, "1910.137(c)(2)(ii)", check)
