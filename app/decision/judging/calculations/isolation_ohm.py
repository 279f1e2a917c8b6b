"""Insulation resistance of a bus: least ohm, a reading in ohm per volt (per-volt), or whether it reaches (holds).

Source: UN R100 5.1.3.1 and 5.1.3.2 (S): 100 ohm per volt, 500 where AC is joined and not double insulated.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from app.decision.domain import isolation
from app.decision.domain.errors import BadInput
from app.decision.fields.reading import one_of, yes_no
from app.decision.judging.asked_figures import figure_of, positive
from app.decision.judging.calculation import Answer, Calculation, Law


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """ohm, ohm/V or true and false; BadInput for a missing figure. Double insulation not stated counts as none."""
    del law
    volts, quantity = _volts(ask), ask.get("quantity", "required")
    if quantity == "per-volt":
        return Answer(float(figure_of(ask, "measured_ohm") / volts), "ohm/V")
    joined, doubled = ask.get("joined_ac"), ask.get("ac_double_insulated")
    if not isinstance(joined, bool):
        raise BadInput("calculation.figure-missing", thing="joined_ac")
    per_volt = isolation.ohm_per_volt(is_ac_joined=joined, is_ac_double_insulated=doubled is True)
    caution = "calculation.double-insulation-not-stated" if joined and doubled is None else ""
    if quantity == "holds":
        return Answer(isolation.holds(figure_of(ask, "measured_ohm"), volts, per_volt), caution=caution)
    return Answer(float(per_volt * volts), "ohm", caution)


def _volts(ask: Mapping[str, object]) -> Decimal:
    """Working voltage under either key of the format; BadInput where the two differ."""
    if "v" not in ask:
        return figure_of(ask, "working_v")
    volts = figure_of(ask, "v")
    if ask.get("working_v", volts) != volts:
        raise BadInput("calculation.figures-contradict", thing=f"v = {volts}")
    return volts


CALCULATION = Calculation(
    "isolation-ohm",
    {
        "working_v": positive,
        "v": positive,
        "joined_ac": yes_no,
        "ac_double_insulated": yes_no,
        "measured_ohm": positive,
        "quantity": one_of("required", "per-volt", "holds"),
    },
    work,
)
