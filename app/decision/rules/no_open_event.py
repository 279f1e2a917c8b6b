"""No open event: nothing happened to the piece on or after its last passing test that no test answers.

Events: suspect, dropped, wet, repaired, patched, used without protectors. A later passing test closes what came before
it; on the same day only a test that names the event does. Kit that no set asks an electrical test of is cleared by a
release. Source: 1910.137 Table I-5, (c)(2)(ii), (iv), (xi).

>>> asked(RULE, gloves(records=[event("dropped", on="2026-01-14"), electrical_test(on="2026-01-15")]))
met none
>>> asked(RULE, gloves(records=[electrical_test(on="2026-01-15"), event("dropped", on="2026-01-16")]))
not-met open
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import HOUSE_BASIS, Cause, Finding, Remedy, Renewal
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.record import Event, Release
from app.decision.domain.rule import PieceRule


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece and set; the first open event is named."""
    history = facts.history(piece)
    is_tested = facts.kind(piece).is_classed
    if is_tested:
        demand = RULE.demand(piece.code, rule_set.basis(RULE.key, piece.kind))
        events = history.open_events(facts.tested(piece, rule_set).passing)
    else:
        demand = RULE.demand(piece.code, HOUSE_BASIS)
        releases = history.all(Release)
        events = [
            event for event in history.all(Event) if not any(history.is_after(after, event) for after in releases)
        ]
    if events:
        key = "no-open-event.open" if is_tested else "no-open-event.not-released"
        remedy = Remedy.RETEST if is_tested else Remedy.RELEASE
        return [demand.not_met(key, cause=Cause.ON_HOLD, remedy=remedy, event=events[0].kind, day=str(events[0].on))]
    return [demand.met("no-open-event.none")]


RULE = PieceRule("no-open-event", Renewal.EACH_ISSUE, "1910.137 Table I-5; house policy", check)
