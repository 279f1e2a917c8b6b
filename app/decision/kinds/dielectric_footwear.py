"""Dielectric boots or overshoes, a pair as one piece; on DC only with a record of a test with DC."""

from __future__ import annotations

from app.decision.domain.declarations import Kind
from app.decision.fields.pieces import RUBBER

KIND = Kind(
    key="dielectric-footwear",
    role=None,
    fields=RUBBER,
    names="footwear | boot | overshoe | overboot | over boot | over shoe | galosh | galoshe | rubber boot",
    is_classed=True,
    wants_dc_test=True,
)
