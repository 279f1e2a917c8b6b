"""The circuit is in scope: up to 1,500 V DC and 1,000 V AC, on the working voltage.

Voltage class A (up to 60 V DC, 30 V AC) is never concluded from an assumed cell voltage: then nobody can tell. Class A
relaxes no demand. Source: DGUV 209-093, HSE guidance and FMVSS 305 for the thresholds (S); ISO 6469-3 and UN R100 (M).

>>> asked(RULE, circuit={"supply": "isolated-dc", "maker_max_v": 1500})
met class-b: 1500 V
>>> asked(RULE, circuit={"supply": "isolated-dc", "maker_max_v": 1501})
not-met above: 1501 V
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Basis, Finding, Remedy, Renewal
from app.decision.domain.rule import CircuitRule
from app.decision.domain.voltage import Circuit, voltage_class, working


def check(facts: Facts, circuit: Circuit) -> Iterable[Finding]:
    """One finding per circuit."""
    del facts
    demand = RULE.demand(circuit.key, Basis("DGUV 209-093; HSE guidance on electric vehicles; FMVSS 305", "S", "house"))
    best = working(circuit)
    if best is None:
        return [demand.voltage_unknown(circuit.key)]
    name = voltage_class(circuit.supply, best.mv)
    values: dict[str, object] = {"measured": best.mv / 1000, "unit": "V"}
    if name == "out-of-scope":
        return [demand.not_met("circuit-in-scope.above", remedy=Remedy.JOB, supply=circuit.supply, **values)]
    if name == "A" and best.is_assumed:
        return [demand.cannot_tell("circuit-in-scope.class-a-assumed", remedy=Remedy.JOB, **values)]
    return [demand.met(f"circuit-in-scope.class-{name.lower()}", **values)]


RULE = CircuitRule("circuit-in-scope", Renewal.EACH_ISSUE, "DGUV 209-093; HSE guidance; FMVSS 305", check)
