"""Something kept by its dates alone: inspected, and expires; nothing of it is held against a voltage."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="dated-item",
    role=None,
    fields=frozenset({"expires_on", "inspect_months"}),
    names="dated item | first aid kit | aed pads | fire extinguisher | safety harness",
)
