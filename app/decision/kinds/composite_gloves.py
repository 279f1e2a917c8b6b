"""Composite gloves: insulating and with mechanical protection of their own, flagged by a symbol and not by class."""

from __future__ import annotations

from app.decision.domain.declarations import Kind
from app.decision.fields.pieces import GLOVES

KIND = Kind(
    key="composite-gloves",
    role="gloves",
    fields=GLOVES,
    names="composite glove | composite rubber glove | combined glove | glove composite",
    is_classed=True,
    is_worn_on_hands=True,
    wants_air_test=True,
    has_own_protection=True,
)
