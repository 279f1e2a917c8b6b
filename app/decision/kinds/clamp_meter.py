"""A clamp meter: a meter that also measures current around a conductor; a chain like any other for volts."""

from __future__ import annotations

from app.decision.domain.declarations import Kind
from app.decision.fields.pieces import INSTRUMENT

KIND = Kind(
    key="clamp-meter",
    role=None,
    fields=INSTRUMENT,
    names="""
    clamp meter | clampmeter | clamp | current clamp | tong tester | tong meter | clamp on meter | amp clamp""",
    is_instrument=True,
)
