"""Arc flash boundary in cm: where the incident energy of a DC arc has fallen to 1.2 cal/cm2.

Methods, assumptions and sources as for arc-energy; the distance is the root of the ratio (D), and a
published program that leaves the root out gives 8,333 cm for 91.3. Advice only: it never lowers the protection
against shock.
"""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.judging.asked_arc import TAKES, asked_burst
from app.decision.judging.calculation import Answer, Calculation, Law


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """Centimetres; a working distance may be stated and changes nothing. BadInput for a missing figure."""
    asked = asked_burst(ask)
    return Answer(asked.burst.boundary(law.house.value("arc/least") / 1000), "cm", asked.caution)


CALCULATION = Calculation("arc-boundary", TAKES, work)
