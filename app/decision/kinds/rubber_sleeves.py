"""Rubber insulating sleeves, a pair as one piece, worn above the gloves."""

from __future__ import annotations

from app.decision.domain.declarations import Kind
from app.decision.fields.pieces import RUBBER

KIND = Kind(
    key="rubber-sleeves",
    role=None,
    fields=RUBBER,
    names="sleeve | rubber sleeve | rubber insulating sleeve | arm sleeve",
    is_classed=True,
)
