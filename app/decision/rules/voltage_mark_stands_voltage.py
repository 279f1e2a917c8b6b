"""The voltage mark stands the voltage: the volts printed on a tool or hook reach what the circuit asks.

Cannot tell when no mark is known for this kind of current, or no working voltage. Source: IEC 60900, ASTM F1505
(1,000 V AC, 1,500 V DC as marked); for hooks house policy, no product standard was found.

>>> asked(RULE, plain("H1", "rescue-hook", voltage_mark={"dc_v": 1500}))
met reaches: 1500 V, required 914.76 V
>>> asked(RULE, plain("H1", "rescue-hook", voltage_mark={"dc_v": 750}))
not-met short: 750 V, required 914.76 V
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Basis, Demand, Finding, Renewal
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.rule import PieceRule
from app.decision.domain.voltage import Circuit, Stress

_MARK = Basis("IEC 60900, marking", "S", "house")


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per circuit and kind of current."""
    del rule_set
    demand = RULE.demand(piece.code, _MARK)
    return facts.by_stress(demand, lambda circuit, stress: _under(piece, circuit, stress, demand))


def _under(piece: Piece, circuit: Circuit, stress: Stress, demand: Demand) -> Finding:
    mark = piece.voltage_mark
    marked = None if mark is None else (mark.dc_mv if stress.current == "dc" else mark.ac_mv)
    values: dict[str, object] = {
        "circuit": circuit.key, "current": stress.current, "required": stress.volts, "unit": "V",
    }  # fmt: skip
    if marked is None:
        return demand.cannot_tell("voltage-mark-stands-voltage.no-mark", **values)
    values["measured"] = marked / 1000
    if not stress.is_stood_by(marked):
        short = stress.volts - marked / 1000
        return demand.not_met("voltage-mark-stands-voltage.short", shortfall_v=short, **values)
    return demand.met("voltage-mark-stands-voltage.reaches", **values)


RULE = PieceRule("voltage-mark-stands-voltage", Renewal.EACH_ISSUE, "IEC 60900; ASTM F1505", check)
