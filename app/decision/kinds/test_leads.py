"""A set of loose test leads: part of the chain of the instrument it is plugged into."""

from __future__ import annotations

from app.decision.domain.declarations import Kind
from app.decision.fields.pieces import LEADS

KIND = Kind(
    key="test-leads",
    role=None,
    fields=LEADS,
    names="""
    lead | test lead | lead set | test lead set | meter lead | probe lead | measuring lead | fused lead | fused
    test lead""",
    is_chain_part=True,
    has_caps=True,
)
