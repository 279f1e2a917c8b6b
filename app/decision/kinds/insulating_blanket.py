"""A rubber insulating blanket, laid over parts that stay live."""

from __future__ import annotations

from app.decision.domain.declarations import Kind
from app.decision.fields.pieces import RUBBER

KIND = Kind(
    key="insulating-blanket",
    role=None,
    fields=RUBBER | {"marked_until"},
    names="blanket | rubber blanket | rubber insulating blanket | cover blanket",
    is_classed=True,
)
