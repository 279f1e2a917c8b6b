"""An arc as a calculation asks about one: method, what feeds it, what ends it and what stands around it.

Figures are advice only and never lower the protection against shock. What was assumed is named by the caution.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from msgspec import Struct

from app.decision.domain import arc
from app.decision.domain.errors import BadInput
from app.decision.domain.voltage import SCOPE_DC_MV
from app.decision.fields.reading import Reader, one_of
from app.decision.judging.asked_figures import between, figure_of, maybe, positive

LARGEST_POWER = "max-power"
OPEN = "open"
TAKES: Mapping[str, Reader] = {
    "method": one_of(LARGEST_POWER, "arc-voltage", "stokes-oppenlander"),
    "system_v": between(Decimal("0.001"), SCOPE_DC_MV // 1000),
    "fault_current_a": positive,
    "source_ohm": positive,
    "arc_current_a": positive,
    "gap_mm": positive,
    "clearing_s": positive,
    "distance_mm": positive,
    "enclosure_factor": between(1, arc.MOST_ENCLOSURE_FACTOR),
    "enclosure": one_of(OPEN, *arc.BOXES),
}


class AskedArc(Struct, frozen=True):
    """The arc itself: amperes, and volts where the method tells them."""

    amperes: float
    volts: float | None = None


class AskedBurst(Struct, frozen=True):
    """What the arc throws, and the sentence naming what was assumed or not seen in print."""

    burst: arc.Burst
    caution: str


def asked_arc(ask: Mapping[str, object]) -> AskedArc:
    """The arc. BadInput for a figure that is missing, and for figures that cannot all be true.

    An arc current that is stated stands. Else the method tells it from the fault current; where both the fault current
    and the resistance of the source are stated, the larger current counts.
    """
    stated, fault, system_v = maybe(ask, "arc_current_a"), _fault_current(ask), maybe(ask, "system_v")
    if stated is not None and fault is not None and stated > fault:
        raise BadInput("calculation.figures-contradict", thing=f"arc_current_a = {stated}")
    if _method(ask) == LARGEST_POWER:
        return AskedArc(float(stated) if stated is not None else arc.arc_share(float(_needed(fault))))
    gap = float(figure_of(ask, "gap_mm"))
    if stated is None:
        volts = float(figure_of(ask, "system_v"))
        amperes = arc.arc_current(volts, volts / float(_needed(fault)), gap)
        return AskedArc(amperes, arc.arc_voltage(amperes, gap))
    across = arc.arc_voltage(float(stated), gap)
    if system_v is not None and across >= system_v:
        raise BadInput("calculation.figures-contradict", thing=f"system_v = {system_v}")
    return AskedArc(float(stated), across)


def asked_burst(ask: Mapping[str, object]) -> AskedBurst:
    """What the arc throws; 2 s where no clearing time is stated, open air where no enclosure is."""
    arc_ask, clearing = asked_arc(ask), maybe(ask, "clearing_s")
    seconds = float(arc.ASSUMED_CLEARING_S if clearing is None else clearing)
    box = arc.BOXES.get(str(ask.get("enclosure", OPEN)))
    if box is not None and ("enclosure_factor" in ask or arc_ask.volts is None):
        raise BadInput("calculation.not-with-method", thing=f"enclosure = {ask['enclosure']}", method=_with(ask))
    if box is not None and arc_ask.volts is not None:
        burst = arc.box_burst(arc_ask.volts * arc_ask.amperes, seconds, box)
    elif arc_ask.volts is not None:
        burst = arc.open_air_burst(arc_ask.volts * arc_ask.amperes, seconds)
    else:
        burst = arc.largest_power_burst(float(figure_of(ask, "system_v")), arc_ask.amperes, seconds)
    return AskedBurst(burst.times(float(maybe(ask, "enclosure_factor") or 1)), _caution(ask))


def _caution(ask: Mapping[str, object]) -> str:
    is_timed = "clearing_s" in ask
    if ask.get("enclosure", OPEN) != OPEN:
        return "calculation.arc-box-unseen" if is_timed else "calculation.arc-box-unseen-and-time"
    if "enclosure" in ask or "enclosure_factor" in ask:
        return "" if is_timed else "calculation.arc-time-assumed"
    return "calculation.arc-open-air-taken" if is_timed else "calculation.arc-open-air-and-time"


def _method(ask: Mapping[str, object]) -> str:
    method = ask.get("method")
    if not isinstance(method, str):
        raise BadInput("calculation.figure-missing", thing="method")
    return method


def _with(ask: Mapping[str, object]) -> str:
    return "enclosure_factor" if "enclosure_factor" in ask else _method(ask)


def _fault_current(ask: Mapping[str, object]) -> Decimal | None:
    """Current of a bolted fault: as stated or volts over the source's resistance, whichever is larger."""
    stated, ohm, volts = (maybe(ask, key) for key in ("fault_current_a", "source_ohm", "system_v"))
    known = [stated, volts / ohm if volts is not None and ohm is not None else None]
    return max((value for value in known if value is not None), default=None)


def _needed(fault: Decimal | None) -> Decimal:
    if fault is None:
        raise BadInput("calculation.figure-missing", thing="fault_current_a")
    return fault
