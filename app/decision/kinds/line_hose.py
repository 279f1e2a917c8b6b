"""Line hose, slipped over a live conductor: tested on suspicion and after repair."""

from __future__ import annotations

from app.decision.domain.declarations import Kind
from app.decision.fields.pieces import RUBBER

KIND = Kind(
    key="line-hose",
    role=None,
    fields=RUBBER,
    names="line hose | linehose | hose | rubber line hose",
    is_classed=True,
)
