"""Composite gloves: insulating and with mechanical protection of their own, flagged by a symbol and not by class."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="composite-gloves",
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
    has_own_protection=True,
)
