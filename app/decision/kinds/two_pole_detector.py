"""A contact two-pole voltage detector, usually with fixed leads; it indicates and is self-tested at each use."""

from __future__ import annotations

from app.decision.domain.declarations import Kind
from app.decision.fields.pieces import INSTRUMENT

KIND = Kind(
    key="two-pole-detector",
    role="chain",
    fields=INSTRUMENT,
    names="""
    two pole detector | 2 pole detector | voltage detector | two pole tester | 2 pole tester | voltage tester |
    voltage indicator | two pole voltage detector | two pole voltage tester | 2 pole voltage tester | 2 pole
    voltage detector | approved voltage indicator | avi | volt tester | two pole voltage indicator | two pole
    indicator""",
    is_instrument=True,
    has_self_test=True,
    has_caps=True,
    is_detector=True,
)
