"""Arc category by incident energy: 1 to 4, "none" below 1.2 cal/cm2, "prohibited" above 40.

The energy is stated, or worked out as arc-energy does. Source: NFPA 70E, least ratings 4, 8, 25 and 40 cal/cm2 (S);
1.2 itself counts. A category is read from an energy, never an energy from a category. Advice only: it never lowers
the protection against shock.
"""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain import arc
from app.decision.domain.errors import BadInput
from app.decision.judging.asked_arc import TAKES, asked_burst
from app.decision.judging.asked_figures import figure_of, positive
from app.decision.judging.calculation import Answer, Calculation, Law


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """The category; BadInput without an energy or the figures for one, or with both."""
    energy, caution = _energy(ask)
    category = arc.category(energy, law.house.value("arc/least"))
    if category is None:
        return Answer("prohibited", caution=caution)
    return Answer(category or "none", caution=caution)


def _energy(ask: Mapping[str, object]) -> tuple[arc.Number, str]:
    if "method" not in ask:
        return figure_of(ask, "energy_cal"), ""
    if "energy_cal" in ask:
        raise BadInput("calculation.figures-contradict", thing=f"energy_cal = {ask['energy_cal']}")
    asked = asked_burst(ask)
    return asked.burst.energy(float(figure_of(ask, "distance_mm")) / 10), asked.caution


CALCULATION = Calculation("arc-category", {**TAKES, "energy_cal": positive}, work)
