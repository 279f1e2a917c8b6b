"""How far the rubber cuff must stand out past the protector, in mm, by class and table."""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain.errors import BadInput
from app.decision.fields.reading import one_of
from app.decision.fields.words import CLASSES
from app.decision.judging.calculation import Answer, Calculation, Law, caution_of


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """Millimetres; BadInput for a class the table does not hold."""
    table = str(ask.get("table", ask.get("clearance_table", "cautious")))
    limit = law.house.limits.get(f"clearance/{table}/{ask.get('class', '')}")
    if limit is None:
        raise BadInput("calculation.no-limit", thing=f"class = {ask.get('class', '')}")
    return Answer(limit.value / 1000, "mm", caution_of(limit))


_TABLE = one_of("cautious", "astm-f496")
CALCULATION = Calculation("clearance-mm", {"class": one_of(*CLASSES), "table": _TABLE, "clearance_table": _TABLE}, work)
