"""The yearly inspection is in date: within 12 months. Hooks, mats and boots refuse without it, tools are cautioned.

Source: house policy; ASTM F1505 appendix X4 (yearly look by a trained person, not law).

>>> asked(RULE, plain("H1", "rescue-hook", records=[look(on="2025-06-01")]), on="2026-03-02")
met in-date, last good day 2026-05-31
>>> asked(RULE, plain("H1", "rescue-hook", records=[look(on="2025-03-02")]), on="2026-03-02")
not-met overdue: 2026-03-02, required 2026-03-01
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.calendar import add_months, last_good_day
from app.decision.domain.clock import shorter_months
from app.decision.domain.facts import Facts
from app.decision.domain.finding import Cause, Finding, Remedy, Renewal
from app.decision.domain.history import has_defect
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.record import Inspection
from app.decision.domain.rule import PieceRule

_CAUTION_ONLY = ("insulated-tool", "torque-tool")


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece, and a caution in the warning days; for tools always met, and a caution when it is over."""
    del rule_set
    demand = RULE.demand(piece.code)
    sound = [look for look in facts.history(piece).all(Inspection) if not has_defect(look)]
    done = max((look.on.first for look in sound if look.on is not None), default=None)
    refuses = piece.kind not in _CAUTION_ONLY
    if done is None:
        if refuses:
            return [demand.not_met("inspection-in-date.none", cause=Cause.NO_RECORD, remedy=Remedy.INSPECTION)]
        return [demand.met("inspection-in-date.not-refused"), demand.caution("inspection-in-date.none")]
    months = shorter_months(facts.house.value("inspection-months"), piece.maker_interval_months)
    due_on = add_months(done, months)
    good_until = last_good_day(due_on)
    values: dict[str, object] = {"done_on": done, "due_on": due_on, "use_until": good_until}
    if facts.on >= due_on:
        if refuses:
            return [
                demand.not_met(
                    "inspection-in-date.overdue",
                    cause=Cause.RUN_OUT,
                    remedy=Remedy.INSPECTION,
                    measured=facts.on,
                    required=good_until,
                    **values,
                )
            ]
        return [demand.met("inspection-in-date.not-refused"), demand.caution("inspection-in-date.overdue", **values)]
    is_soon = (good_until - facts.on).days <= facts.site.warning_days
    cautions = [demand.caution("inspection-in-date.due-soon", **values)] if is_soon else []
    if not refuses:
        return [demand.met("inspection-in-date.in-date", **values), *cautions]
    return [demand.met_until("inspection-in-date.in-date", good_until, **values), *cautions]


RULE = PieceRule("inspection-in-date", Renewal.BY_DATE, "house policy; ASTM F1505 appendix X4", check)
