"""A probe tip, clip or adapter at the end of a lead: part of the chain."""

from __future__ import annotations

from app.decision.domain.declarations import Kind
from app.decision.fields.pieces import LEADS

KIND = Kind(
    key="tip-or-clip",
    role=None,
    fields=LEADS,
    names="""
    croc | croc clip | crocodile clip | alligator clip | clip | tip | probe tip | test tip | test clip | tip or
    clip | probe | test probe | adapter | lead adapter | grabber | hook clip""",
    is_chain_part=True,
    has_caps=True,
)
