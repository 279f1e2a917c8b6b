"""A multimeter, usually with loose leads; measuring, and for proving dead only where the tip profile allows it."""

from __future__ import annotations

from app.decision.domain.declarations import Kind
from app.decision.fields.pieces import INSTRUMENT

KIND = Kind(
    key="multimeter",
    role="chain",
    fields=INSTRUMENT,
    names="multimeter | multi meter | dmm | meter | voltmeter | volt meter | dvm",
    is_instrument=True,
)
