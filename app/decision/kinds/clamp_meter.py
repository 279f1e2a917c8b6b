"""A clamp meter: a meter that also measures current around a conductor; a chain like any other for volts."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="clamp-meter",
    role=None,
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
)
