"""Impulse rating left at an altitude, in volts, or the clearance divided by the factor, in mm (quantity "clearance").

Advice only: a piece above its marked altitude stays refused. Source: IEC 60664-1:2020, Table A.2 for the factor (S);
clearances 8 mm for 8 kV S, the others from memory (M), which the caution says wherever one of them decides.
"""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain import altitude
from app.decision.domain.errors import BadInput
from app.decision.fields.reading import one_of
from app.decision.judging.asked_figures import between, figure_of, positive
from app.decision.judging.calculation import Answer, Calculation, Law


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """Volts of a preferred impulse, or mm; BadInput outside the tables, and where no impulse is low enough."""
    del law
    rated, metres = figure_of(ask, "rated_v"), figure_of(ask, "altitude_m")
    clearance, hundredths = altitude.CLEARANCES_UM.get(int(rated)), altitude.factor(metres)
    if clearance is None or rated != int(rated):
        raise BadInput("calculation.outside-table", thing=f"rated_v = {rated}")
    if hundredths is None:
        raise BadInput("calculation.outside-table", thing=f"altitude_m = {metres}")
    if ask.get("quantity", "impulse") == "clearance":
        return Answer(
            clearance * altitude.ONE / hundredths / 1000, "mm", _caution(is_seen=int(rated) in altitude.SEEN_V)
        )
    left = altitude.step_down(int(rated), metres)
    if left is None:
        raise BadInput("calculation.no-lower-impulse", thing=f"rated_v = {rated}")
    return Answer(left, "V", _caution(is_seen=left == rated))


def _caution(*, is_seen: bool) -> str:
    return "calculation.step-down-is-advice" if is_seen else "calculation.clearance-not-seen"


CALCULATION = Calculation(
    "clearance-step-down",
    {
        "rated_v": positive,
        "altitude_m": between(-500, 100_000),
        "quantity": one_of("impulse", "clearance"),
    },
    work,
)
