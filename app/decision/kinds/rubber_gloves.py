"""Rubber insulating gloves, a pair as one piece: class and class system from the mark, length for the current limit."""

from __future__ import annotations

from app.decision.domain.declarations import Kind
from app.decision.fields.pieces import GLOVES

KIND = Kind(
    key="rubber-gloves",
    role="gloves",
    fields=GLOVES,
    names="""
    glove | rubber glove | latex glove | rubber insulating glove | lineman glove | linesman glove | gauntlet |
    rubber gauntlet | electrician glove | voltage glove | glove rubber""",
    is_classed=True,
    is_worn_on_hands=True,
    wants_air_test=True,
)
