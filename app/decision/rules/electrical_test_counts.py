"""An electrical test counts: at least one test of the piece has been judged as passed under this set.

Not met when there is none, or none that counts (each reason named). Cannot tell when a test passes only on a figure
nobody has confirmed in print. A later test that does not count is a caution: the older one stays. Of a kind or class
the set asks no test on a schedule, and of one the site exempted as the set offers, no test is asked.
Source: 1910.137(c)(2)(viii), (xii); EN 60903:2003 annex E.5 for the exemption.

>>> figures = {"evidence": "figures", "test_v": 20000, "kind_of_current": "dc"}
>>> asked(RULE, gloves(records=[electrical_test(on="2026-01-15", dwell_s=60, **figures)]))
met counts: 2026-01-15
>>> asked(RULE, gloves(records=[electrical_test(on="2026-01-15", dwell_s=59, **figures)]))
not-met dwell-short
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.clock import asked_of
from app.decision.domain.electrical_test import Tested, exempted_by
from app.decision.domain.facts import Facts
from app.decision.domain.finding import Cause, Demand, Finding, Remedy, Renewal
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.rule import PieceRule


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece and set, cautions beside it."""
    asked = asked_of(rule_set, piece, facts.site)
    demand = RULE.demand(piece.code, rule_set.basis(RULE.key, piece.kind))
    if asked.interval is None and not asked.lacks_material:
        return [demand.met("electrical-test.not-asked")]
    tested = facts.tested(piece, rule_set)
    if tested.last is None and tested.failed is None and exempted_by(facts.site, rule_set, piece):
        return [demand.met("electrical-test.exempted")]
    if tested.last is not None:
        return [demand.met("electrical-test-counts.counts", measured=tested.tested_on), *_cautions(tested, demand)]
    if tested.waiting is not None:
        limit = tested.waiting.unconfirmed[0]
        return [demand.not_in_print(limit.key)]
    others = [judgement for judgement in tested.judged if judgement.reasons]
    if not others:
        return [demand.not_met("electrical-test-counts.none", cause=Cause.NO_RECORD, remedy=Remedy.RETEST)]
    last = others[-1]
    reason = last.reasons[0]
    remedy = Remedy.CERTIFICATE if reason.cause is Cause.PAPER_NOT_SEEN else Remedy.RETEST
    cause = Cause.SHORT if reason.cause is Cause.NONE else reason.cause
    return [demand.not_met(reason.key, cause=cause, remedy=remedy, day=str(last.test.on or ""), **reason.values)]


def _cautions(tested: Tested, demand: Demand) -> list[Finding]:
    findings: list[Finding] = []
    for judgement in tested.judged:
        if judgement.test is tested.last:
            findings += [demand.caution(note.key, **note.values) for note in judgement.cautions]
        elif (
            judgement.result == "does-not-count"
            and tested.tested_on
            and _is_later(judgement.test.on and judgement.test.on.first, tested)
        ):
            reason = judgement.reasons[0]
            findings.append(demand.caution(reason.key, day=str(judgement.test.on or ""), **reason.values))
    return findings


def _is_later(day: object, tested: Tested) -> bool:
    return day is None or str(day) > str(tested.tested_on)


RULE = PieceRule("electrical-test-counts", Renewal.EACH_ISSUE, "1910.137(c)(2)(viii), (xii)", check)
