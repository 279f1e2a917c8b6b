"""Inspected today: no defect, and a meter has no lead in its current jack.

Gloves: an air test of both hands with no defect named counts as their inspection. Good for the working day; void on
return, on change of custody and on an incident. Source: house policy; 1910.137(c)(2)(ii) for rubber goods.

>>> asked(RULE, plain("M1", "multimeter", records=[look(jack="voltage")]))
met done
>>> asked(RULE, plain("M1", "multimeter", records=[look(jack="current")]))
not-met current-jack
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Cause, Finding, Remedy, Renewal
from app.decision.domain.history import has_defect
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.record import AirTest, Inspection
from app.decision.domain.rule import PieceRule


def _is_bad(look: Inspection) -> bool:
    return has_defect(look) or look.jack == "current"


def _is_no_look(air: AirTest) -> bool:
    return has_defect(air) or air.left != "passed" or air.right != "passed"


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece."""
    del rule_set
    demand = RULE.demand(piece.code)
    history = facts.history(piece)
    look = history.deciding(Inspection, _is_bad)
    if look is not None and has_defect(look):
        return [demand.not_met("inspected.defect", cause=Cause.DEFECT, defects=look.defects)]
    if look is not None and look.jack == "current":
        return [demand.not_met("inspected.current-jack", remedy=Remedy.INSPECTION)]
    if look is not None:
        return [demand.met("inspected.done")]
    if facts.kind(piece).wants_air_test:
        air = history.deciding(AirTest, _is_no_look)
        if air is not None and not _is_no_look(air):
            return [demand.met("inspected.by-air-test")]
    return [demand.not_met("inspected.not-today", cause=Cause.NOT_DONE, remedy=Remedy.INSPECTION)]


RULE = PieceRule("inspected", Renewal.EACH_DAY, "house policy; 1910.137(c)(2)(ii)", check)
