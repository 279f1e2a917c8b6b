"""The working voltage is known: from cells, data plate, the maker's maximum or a boosted bus.

A nominal voltage or a reading alone is not one: a pack stands higher than its nominal, and a reading is only a lower
bound; nobody can tell by them. Source: house policy; UN R100 (working voltage is the highest the maker says can occur).

>>> asked(RULE, circuit={"cells": {"series": 198, "chemistry": "nmc", "max_v": 4.20}})
met known: 831.6 V
>>> asked(RULE, circuit={"nominal_v": 355})
cannot-tell nominal-only: 355 V
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Finding, Remedy, Renewal
from app.decision.domain.rule import CircuitRule
from app.decision.domain.voltage import CELL_MIN_MV, Circuit, cell_max_mv, series_range, working


def check(facts: Facts, circuit: Circuit) -> Iterable[Finding]:
    """One finding per circuit."""
    del facts
    demand = RULE.demand(circuit.key)
    best = working(circuit)
    if best is not None:
        findings = [demand.met("working-voltage-known.known", measured=best.mv / 1000, unit="V", origin=best.origin)]
        if circuit.cells is not None and circuit.cells.chemistry == "unknown-lithium":
            findings.append(demand.caution("working-voltage-known.unknown-lithium"))
        return findings
    if circuit.reading_mv is not None:
        return [_from_reading(circuit, circuit.reading_mv)]
    if circuit.nominal_mv is not None:
        nominal = circuit.nominal_mv / 1000
        return [demand.cannot_tell("working-voltage-known.nominal-only", remedy=Remedy.JOB, measured=nominal, unit="V")]
    return [demand.cannot_tell("working-voltage-known.nothing", remedy=Remedy.JOB)]


def _from_reading(circuit: Circuit, reading_mv: int) -> Finding:
    demand = RULE.demand(circuit.key)
    values: dict[str, object] = {"measured": reading_mv / 1000, "unit": "V"}
    if circuit.cells is None or circuit.cells.chemistry not in CELL_MIN_MV:
        return demand.cannot_tell("working-voltage-known.reading-only", remedy=Remedy.JOB, **values)
    fewest, most = series_range(circuit.cells, reading_mv)
    highest = most * cell_max_mv(circuit.cells) / 1000
    return demand.cannot_tell(
        "working-voltage-known.reading-range", remedy=Remedy.JOB, fewest=fewest, most=most, highest_v=highest, **values
    )


RULE = CircuitRule("working-voltage-known", Renewal.EACH_ISSUE, "house policy; UN R100", check)
