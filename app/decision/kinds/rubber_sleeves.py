"""Rubber insulating sleeves, a pair as one piece, worn above the gloves."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="rubber-sleeves",
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
