"""The electrical test is in date: the day comes before the due day worked out from test and first issue.

Met when the last passing test has not run out, by the set's clock or the maker's interval where that is shorter; good
until the day before the due day. A piece never issued is judged as first issued on the first day of the job. Not met
with no counting test, or when the last result is a failure, also where no test is asked on a schedule. Cannot tell when
the clock hangs on a material nobody knows, or rests on an interval not seen in print. Exempted by the site where the
set offers it (classes 00 and 0): an air test within the months of annex E.5 stands for it.
Source: 1910.137 Table I-5 and footnote; letters of 2019-01-25 and 2020-08-19; each set's own clocks.

>>> used = gloves(first_issue="2025-06-01", records=[electrical_test(on="2026-01-15")])
>>> asked(RULE, used, on="2026-03-02")
met in-date: 2026-03-02, required 2026-07-14, last good day 2026-07-14
>>> asked(RULE, used, on="2026-07-15")
not-met overdue: 2026-07-15, required 2026-07-14
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from app.decision.domain.calendar import Day, add_months, last_good_day
from app.decision.domain.clock import Asked, asked_of, due
from app.decision.domain.electrical_test import Tested, exempted_by
from app.decision.domain.facts import Facts
from app.decision.domain.finding import Basis, Cause, Demand, Finding, Outcome, Remedy, Renewal
from app.decision.domain.history import last_sound_air_test
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.rule import PieceRule


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece and set, and a caution in the warning days."""
    asked = asked_of(rule_set, piece, facts.site)
    interval = asked.interval
    basis = rule_set.basis(RULE.key, piece.kind)
    if interval is not None:
        basis = Basis(interval.clause, interval.confidence, rule_set.key)
    demand = RULE.demand(piece.code, basis)
    tested = facts.tested(piece, rule_set)
    if tested.failed is not None:
        return [
            demand.not_met(
                "electrical-test-in-date.failed",
                cause=Cause.FAILED,
                remedy=Remedy.RETEST,
                day=str(tested.failed.on or ""),
            )
        ]
    if asked.lacks_material:
        return [demand.cannot_tell("electrical-test-in-date.no-material")]
    if interval is None:
        return [demand.met("electrical-test.not-asked")]
    by_test = _by_test(facts, piece, tested, asked, demand)
    if not exempted_by(facts.site, rule_set, piece):
        return by_test
    exempted = _exempted(facts, piece, rule_set)
    # Of a pair nobody tests it is the exemption that has run out, and not a test that is wanting.
    return exempted if tested.tested_on is None and tested.waiting is None else _later(by_test, exempted)


def _later(by_test: list[Finding], exempted: list[Finding]) -> list[Finding]:
    """Test or exemption, whichever lasts longer; where neither holds, what is to be said of the test."""
    lasting = [findings for findings in (by_test, exempted) if findings[0].outcome is Outcome.MET]
    return max(lasting, key=lambda findings: findings[0].good_until or date.min, default=by_test)


def _by_test(facts: Facts, piece: Piece, tested: Tested, asked: Asked, demand: Demand) -> list[Finding]:
    if tested.tested_on is not None:
        return _dated(facts, piece, tested.tested_on, asked, demand)
    if tested.waiting is not None:
        return [demand.not_in_print(tested.waiting.unconfirmed[0].key)]
    key = "electrical-test-in-date.none-counts" if tested.judged else "electrical-test-in-date.none"
    return [demand.not_met(key, cause=Cause.NO_RECORD, remedy=Remedy.RETEST)]


def _exempted(facts: Facts, piece: Piece, rule_set: RuleSet) -> list[Finding]:
    """Annex E.5: an air test of both hands without a defect, which is an inspection too, within its months."""
    months = rule_set.limits["dielectric-exempt/months"]
    demand = RULE.demand(piece.code, months.basis(rule_set.key))
    done_on = last_sound_air_test(facts.history(piece))
    if done_on is None:
        return [
            demand.not_met(
                "electrical-test-in-date.exempt-unchecked",
                cause=Cause.NO_RECORD,
                remedy=Remedy.AIR_TEST,
                required=months.value,
            )
        ]
    due_on = add_months(done_on, months.value)
    good_until = last_good_day(due_on)
    values: dict[str, object] = {"done_on": done_on, "due_on": due_on, "use_until": good_until}
    if facts.on >= due_on:
        return [
            demand.not_met(
                "electrical-test-in-date.exempt-overdue", cause=Cause.RUN_OUT, remedy=Remedy.AIR_TEST, **values
            )
        ]
    return [demand.met_until("electrical-test-in-date.exempt", good_until, **values)]


def _dated(facts: Facts, piece: Piece, tested: date, asked: Asked, demand: Demand) -> list[Finding]:
    assert asked.interval is not None
    first = facts.history(piece).first_issue()
    judged_as = Day.of(facts.on) if first == "never" else first
    due_on, why = due(tested, judged_as, asked.interval, piece.maker_interval_months)
    good_until = last_good_day(due_on)
    values: dict[str, object] = {"tested_on": tested, "due_on": due_on, "why": why, "use_until": good_until}
    if facts.on < due_on and not facts.site.counts_as_seen(asked.interval):
        return [demand.not_in_print(asked.interval.key, **values)]
    if facts.on >= due_on:
        if asked.longer and facts.on < due(tested, judged_as, asked.longer, piece.maker_interval_months)[0]:
            return [demand.not_in_print(asked.unseen, **values)]
        return [
            demand.not_met(
                "electrical-test-in-date.overdue",
                cause=Cause.RUN_OUT,
                remedy=Remedy.RETEST,
                measured=facts.on,
                required=good_until,
                **values,
            )
        ]
    findings = [
        demand.met_until(
            "electrical-test-in-date.in-date", good_until, measured=facts.on, required=good_until, **values
        )
    ]
    if (good_until - facts.on).days <= facts.site.warning_days:
        findings.append(demand.caution("electrical-test-in-date.due-soon", **values))
    return findings


RULE = PieceRule("electrical-test-in-date", Renewal.BY_DATE, "1910.137 Table I-5 and footnote", check)
