"""R.m.s. volts an inverter makes of its DC link, by modulation.

Kit is chosen on the full link, which every pulse reaches; the caution always says so. Source: motor-control
documentation (S), factors from their definitions (D).
"""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain import inverter
from app.decision.domain.errors import BadInput
from app.decision.fields.reading import one_of
from app.decision.judging.asked_figures import figure_of, positive
from app.decision.judging.calculation import Answer, Calculation, Law


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """Volts; BadInput without link or modulation, and for a total that is not printed."""
    del law
    link, modulation, quantity = figure_of(ask, "dc_v"), ask.get("modulation"), str(ask.get("quantity", "line-to-line"))
    if not isinstance(modulation, str):
        raise BadInput("calculation.figure-missing", thing="modulation")
    factor = inverter.factor(modulation, quantity)
    if factor is None:
        raise BadInput("calculation.not-with-method", thing=f"quantity = {quantity}", method=modulation)
    return Answer(float(link) * factor, "V", "calculation.inverter-full-link")


CALCULATION = Calculation(
    "inverter-rms",
    {"dc_v": positive, "modulation": one_of(*inverter.MODULATIONS), "quantity": one_of(*inverter.QUANTITIES)},
    work,
)
