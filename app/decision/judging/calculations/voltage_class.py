"""Voltage class of a circuit on its working voltage: "A", "B" or "out-of-scope"."""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain.errors import BadInput
from app.decision.domain.voltage import SUPPLIES, voltage_class
from app.decision.fields.reading import one_of
from app.decision.fields.sorts import millivolts
from app.decision.judging.calculation import Answer, Calculation, Law


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """The class; BadInput without a voltage."""
    del law
    mv = ask.get("v")
    if not isinstance(mv, int):
        raise BadInput("calculation.figure-missing", thing="v")
    return Answer(voltage_class(str(ask.get("supply", "isolated-dc")), mv))


CALCULATION = Calculation("voltage-class", {"v": millivolts, "supply": one_of(*SUPPLIES)}, work)
