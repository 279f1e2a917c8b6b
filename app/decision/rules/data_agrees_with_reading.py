"""No reading contradicts the data: nobody has read more volts than the working voltage says can be there.

A reading above it means a figure on the system's card is wrong; until that is mended nobody can tell, as which
of the two is wrong is not known.
Source: house policy.

>>> asked(RULE, circuit={"maker_max_v": 800, "reading_v": 800})
met agrees: 800 V, required 800 V
>>> asked(RULE, circuit={"maker_max_v": 800, "reading_v": 801})
cannot-tell contradicts: 801 V, required 800 V
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Finding, Remedy, Renewal
from app.decision.domain.rule import CircuitRule
from app.decision.domain.voltage import Circuit, working


def check(facts: Facts, circuit: Circuit) -> Iterable[Finding]:
    """One finding per circuit."""
    del facts
    demand = RULE.demand(circuit.key)
    best = working(circuit)
    reading = circuit.reading_mv
    if reading is None or best is None:
        return [demand.met("data-agrees-with-reading.no-reading")]
    values: dict[str, object] = {"measured": reading / 1000, "required": best.mv / 1000, "unit": "V"}
    if reading > best.mv:
        return [demand.cannot_tell("data-agrees-with-reading.contradicts", remedy=Remedy.JOB, **values)]
    return [demand.met("data-agrees-with-reading.agrees", **values)]


RULE = CircuitRule("data-agrees-with-reading", Renewal.EACH_ISSUE, "house policy", check)
