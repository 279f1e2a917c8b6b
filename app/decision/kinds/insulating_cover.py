"""An insulating cover or shroud for live parts: tested on suspicion and after repair."""

from __future__ import annotations

from app.decision.domain.declarations import Kind
from app.decision.fields.pieces import RUBBER

KIND = Kind(
    key="insulating-cover",
    role=None,
    fields=RUBBER,
    names="cover | rubber cover | shroud | terminal cover | terminal shroud | pole cover | cap cover",
    is_classed=True,
)
