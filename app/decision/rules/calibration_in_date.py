"""The calibration is in date: 12 months after the last passed one, or the maker's interval where shorter.

House policy asks it of no kind that is self-tested and proved at each use, as detectors and proving units are. A failed
calibration on or after the last passed one is not met. Source: house policy; common practice.

>>> asked(RULE, plain("M1", "multimeter", records=[calibration(on="2025-06-01")]), on="2026-03-02")
met in-date, last good day 2026-05-31
>>> asked(RULE, plain("M1", "multimeter", records=[calibration(on="2025-03-02")]), on="2026-03-02")
not-met overdue: 2026-03-02, required 2026-03-01
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.calendar import add_months, last_good_day
from app.decision.domain.clock import shorter_months
from app.decision.domain.facts import Facts
from app.decision.domain.finding import Cause, Finding, Remedy, Renewal
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.record import Calibration
from app.decision.domain.rule import PieceRule


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece, and a caution in the warning days."""
    del rule_set
    demand = RULE.demand(piece.code)
    records = facts.history(piece).all(Calibration)
    passed = max((record.on.first for record in records if record.on and record.result == "passed"), default=None)
    if passed is None:
        has_failed = any(record.result == "failed" for record in records)
        key = "calibration-in-date.failed" if has_failed else "calibration-in-date.none"
        cause = Cause.FAILED if has_failed else Cause.NO_RECORD
        return [demand.not_met(key, cause=cause, remedy=Remedy.CALIBRATION)]
    if any(record.result != "passed" and record.latest(facts.on) >= passed for record in records):
        return [demand.not_met("calibration-in-date.failed", cause=Cause.FAILED, remedy=Remedy.CALIBRATION)]
    months = shorter_months(facts.house.value("calibration-months"), piece.maker_interval_months)
    due_on = add_months(passed, months)
    good_until = last_good_day(due_on)
    values: dict[str, object] = {"done_on": passed, "due_on": due_on, "use_until": good_until}
    if facts.on >= due_on:
        return [
            demand.not_met(
                "calibration-in-date.overdue",
                cause=Cause.RUN_OUT,
                remedy=Remedy.CALIBRATION,
                measured=facts.on,
                required=good_until,
                **values,
            )
        ]
    findings = [demand.met_until("calibration-in-date.in-date", good_until, **values)]
    if (good_until - facts.on).days <= facts.site.warning_days:
        findings.append(demand.caution("calibration-in-date.due-soon", **values))
    return findings


RULE = PieceRule("calibration-in-date", Renewal.BY_DATE, "house policy; common practice", check)
