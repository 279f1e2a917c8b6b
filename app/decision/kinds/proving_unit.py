"""A known source carried along, to show that the instrument works just before and just after."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="proving-unit",
    role="proving-unit",
    fields=frozenset({"output_dc_v", "output_ac_v", "max_altitude_m", "maker_interval_months"}),
    names="""
    proving unit | prover | proving dead unit | voltage proving unit | prove unit | proof unit | tester proving
    unit | voltage prover""",
    has_self_test=True,
)
