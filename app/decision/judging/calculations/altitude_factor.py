"""Factor on clearances by altitude. A band includes its height. Source: IEC 60664-1:2020, Table A.2 (S)."""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain import altitude
from app.decision.domain.errors import BadInput
from app.decision.judging.asked_figures import between, figure_of
from app.decision.judging.calculation import Answer, Calculation, Law

# Below sea level as a site may be; above the table a figure is read and answered with "outside the table".
METRES = between(-500, 100_000)


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """A factor without unit, 1 up to 2,000 m; BadInput above 20,000 m."""
    del law
    metres = figure_of(ask, "altitude_m")
    hundredths = altitude.factor(metres)
    if hundredths is None:
        raise BadInput("calculation.outside-table", thing=f"altitude_m = {metres}")
    return Answer(hundredths / altitude.ONE)


CALCULATION = Calculation("altitude-factor", {"altitude_m": METRES}, work)
