"""Insulating matting to stand on: inspected on both sides, tested where the set asks it."""

from __future__ import annotations

from app.decision.domain.declarations import Kind
from app.decision.fields.pieces import RUBBER

KIND = Kind(
    key="insulating-matting",
    role=None,
    fields=RUBBER | {"marked_until"},
    names="mat | matting | rubber mat | rubber matting | floor mat | switchboard mat | standing mat",
    is_classed=True,
)
