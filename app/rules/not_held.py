"""Not held: no open hold, and no defect found that nothing has cleared.

Met when every hold has a release certainly after it, and every defect found at an air test or look-over has been
cleared by a release, or by a repair and the test that names it. Source: house policy; 1910.137(c)(2)(iii), (iv), (x).
"""

from __future__ import annotations

from collections.abc import Iterable

from app.domain.facts import Facts
from app.domain.finding import Finding, Renewal
from app.domain.limits import RuleSet
from app.domain.piece import Piece
from app.domain.record import Hold, Release
from app.domain.rule import PieceRule


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece; the first open hold is named."""
    demand = RULE.demand(piece.code)
    history = facts.history(piece)
    releases = history.all(Release)
    held = [hold for hold in history.all(Hold) if not any(history.is_after(one, hold) for one in releases)]
    if held:
        return [demand.not_met("not-held.held", why=held[0].why, since=str(held[0].on))]
    defects = history.open_defects(facts.tested(piece, rule_set).passing)
    if defects:
        found = ", ".join(defects[0].defects) or "one hand failed"
        return [demand.not_met("not-held.defect", defects=found, since=str(defects[0].on))]
    return [demand.met("not-held.free")]


RULE = PieceRule("not-held", Renewal.EACH_ISSUE, "house policy", check)
