"""Rubber insulating gloves, a pair as one piece: class and class system from the mark, length for the current limit."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="rubber-gloves",
    role="gloves",
    fields=frozenset(
        {
            "class",
            "class_system",
            "type",
            "categories",
            "length_mm",
            "size",
            "hand",
            "dc_tested",
            "material",
            "first_issue",
            "maker_interval_months",
        }
    ),
    is_classed=True,
    is_worn_on_hands=True,
    wants_air_test=True,
)
