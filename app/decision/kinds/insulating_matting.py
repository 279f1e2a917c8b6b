"""Insulating matting to stand on: inspected on both sides, tested where the set asks it."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="insulating-matting",
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
