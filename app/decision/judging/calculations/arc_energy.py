"""Incident energy of a DC arc in cal/cm2, or the arc's current, voltage or power.

Methods: max-power (NFPA 70E annex D.5; half the fault current burns) and arc-voltage (Stokes and Oppenlander), both in
NFPA 70E, Annex D.5 (S). Clearing time 2 s where none is stated and open air where no enclosure is, each
with a caution; enclosure_factor multiplies, 1 to 3; boxes are from memory (M), with a caution. Advice only: it never
lowers the protection against shock.
"""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain.errors import BadInput
from app.decision.fields.reading import one_of
from app.decision.judging.asked_arc import TAKES, AskedArc, asked_arc, asked_burst
from app.decision.judging.asked_figures import figure_of
from app.decision.judging.calculation import Answer, Calculation, Law

_QUANTITIES = ("energy", "arc-current", "arc-voltage", "arc-power")


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """cal/cm2, A, V or W by `quantity`; BadInput for a missing figure or a quantity the method does not tell."""
    del law
    quantity = str(ask.get("quantity", "energy"))
    if quantity == "energy":
        asked = asked_burst(ask)
        return Answer(asked.burst.energy(float(figure_of(ask, "distance_mm")) / 10), "cal/cm2", asked.caution)
    return _of_the_arc(quantity, asked_arc(ask), ask)


def _of_the_arc(quantity: str, arc: AskedArc, ask: Mapping[str, object]) -> Answer:
    if quantity == "arc-current":
        return Answer(arc.amperes, "A")
    if arc.volts is None:
        raise BadInput("calculation.not-with-method", thing=f"quantity = {quantity}", method=str(ask["method"]))
    if quantity == "arc-voltage":
        return Answer(arc.volts, "V")
    return Answer(arc.volts * arc.amperes, "W")


CALCULATION = Calculation("arc-energy", {**TAKES, "quantity": one_of(*_QUANTITIES)}, work)
