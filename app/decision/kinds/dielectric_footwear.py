"""Dielectric boots or overshoes, a pair as one piece; on DC only with a record of a test with DC."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="dielectric-footwear",
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
    wants_dc_test=True,
)
