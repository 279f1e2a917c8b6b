"""A set of loose test leads: part of the chain of the instrument it is plugged into."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="test-leads",
    role=None,
    fields=frozenset({"marks", "marks_cap_off", "current_a", "tip_mm", "caps", "fuse", "max_altitude_m"}),
    is_chain_part=True,
    has_caps=True,
)
