"""A probe tip, clip or adapter at the end of a lead: part of the chain."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="tip-or-clip",
    role=None,
    fields=frozenset({"marks", "marks_cap_off", "current_a", "tip_mm", "caps", "fuse", "max_altitude_m"}),
    is_chain_part=True,
    has_caps=True,
)
