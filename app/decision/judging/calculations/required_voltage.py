"""What kit must stand on a circuit: the working voltage with the margin, in volts, unrounded."""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain.voltage import required
from app.decision.fields.reading import scaled
from app.decision.judging.asked_circuit import TAKES, asked, caution
from app.decision.judging.calculation import Answer, Calculation, Law


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """Volts; `margin_percent` overrides house policy for every origin."""
    circuit, _ = asked(ask)
    margin = ask.get("margin_percent")
    margins = dict.fromkeys(law.house.margin_bp, margin) if isinstance(margin, int) else law.house.margin_bp
    needed = required(circuit, margins)
    assert needed is not None  # asked() refuses a circuit without a working voltage
    return Answer(needed.volts, "V", caution(circuit))


CALCULATION = Calculation("required-voltage", {**TAKES, "margin_percent": scaled(2, most=50)}, work)
