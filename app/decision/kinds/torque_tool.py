"""An insulated torque tool: its insulation mark and its calibration are two demands, neither stands for the other."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="torque-tool",
    role=None,
    fields=frozenset({"voltage_mark", "maker_interval_months"}),
    names="torque wrench | torque tool | torque screwdriver | torque driver | torque ratchet",
)
