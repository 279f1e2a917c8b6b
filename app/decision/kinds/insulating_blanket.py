"""A rubber insulating blanket, laid over parts that stay live."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="insulating-blanket",
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
