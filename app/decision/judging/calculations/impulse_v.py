"""Impulse voltage of a measurement category (1.2/50 us, volts peak): informative, demands nothing of kit.

Source: IEC 60664-1 and IEC 61010; rows up to 600 and 1,000 V three sources agree (S); rows up to 100 V and of 1,250 and
1,500 V DC are inferred from the overvoltage table, and the answer says so.
"""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain.chain import CATEGORIES
from app.decision.domain.errors import BadInput
from app.decision.domain.impulse import ROWS
from app.decision.fields.reading import one_of, scaled
from app.decision.judging.calculation import Answer, Calculation, Law


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """Volts; BadInput outside the table."""
    del law
    mv = ask.get("volts")
    column = CATEGORIES.index(str(ask.get("category", "III")))
    if isinstance(mv, int) and mv > 0:
        for bound, impulses, is_inferred in ROWS:
            if mv <= bound * 1000:
                return Answer(impulses[column], "V", "calculation.row-inferred" if is_inferred else "")
    raise BadInput("calculation.outside-table", thing="volts")


CALCULATION = Calculation("impulse-v", {"category": one_of(*CATEGORIES), "volts": scaled(3, least=None)}, work)
