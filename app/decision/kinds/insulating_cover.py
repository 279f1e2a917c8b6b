"""An insulating cover or shroud for live parts: tested on suspicion and after repair."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="insulating-cover",
    role=None,
    fields=frozenset(
        {
            "class",
            "class_system",
            "type",
            "categories",
            "dc_tested",
            "material",
            "first_issue",
            "maker_interval_months",
        }
    ),
    is_classed=True,
)
