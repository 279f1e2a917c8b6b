"""Working voltage of a circuit: the largest known of cells, plate, maker's maximum and boosted bus, in volts."""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.judging.asked_circuit import TAKES, asked, caution
from app.decision.judging.calculation import Answer, Calculation, Law


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """Volts; BadInput where only a nominal voltage or a reading is known."""
    del law
    circuit, best = asked(ask)
    return Answer(best.mv / 1000, "V", caution(circuit))


CALCULATION = Calculation("working-voltage", TAKES, work)
