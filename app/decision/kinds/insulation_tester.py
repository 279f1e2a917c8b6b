"""An insulation resistance tester: puts its own volts on a dead circuit, so it fills no role of a measuring chain."""

from __future__ import annotations

from app.decision.domain.declarations import Kind
from app.decision.fields.pieces import INSTRUMENT

KIND = Kind(
    key="insulation-tester",
    role=None,
    fields=INSTRUMENT,
    names="""
    insulation tester | insulation resistance tester | ir tester | insulation meter | insulation test meter |
    insulation resistance meter | insulation multimeter""",
    is_instrument=True,
)
