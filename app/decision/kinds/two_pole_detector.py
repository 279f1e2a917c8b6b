"""A contact two-pole voltage detector, usually with fixed leads; it indicates and is self-tested at each use."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="two-pole-detector",
    role="chain",
    fields=frozenset(
        {
            "marks",
            "marks_cap_off",
            "fixed_leads",
            "max_input_ac_v",
            "max_input_dc_v",
            "current_a",
            "tip_mm",
            "caps",
            "fuse",
            "max_altitude_m",
            "threshold_dc_v",
            "threshold_ac_v",
            "maker_interval_months",
        }
    ),
    is_instrument=True,
    has_self_test=True,
    has_caps=True,
    is_detector=True,
)
