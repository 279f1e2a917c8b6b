"""Largest AC current of a glove in an electrical test, in mA: by class and length, scaled by frequency (US table)."""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain.electrical_test import current_limit_ua, table_limit
from app.decision.domain.errors import BadInput
from app.decision.domain.piece import Piece
from app.decision.domain.record import ElectricalTest
from app.decision.fields.pieces import FIELDS
from app.decision.fields.reading import one_of, scaled, yes_no
from app.decision.fields.words import CLASSES
from app.decision.judging.calculation import Answer, Calculation, Law, caution_of
from app.decision.kinds import kinds


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """Milliamperes; BadInput where no limit is printed for this class and length."""
    table = ask.get("table", "us")
    rule_set = next((candidate for candidate in law.rule_sets.values() if candidate.current_table == table), None)
    hertz, length = ask.get("hz", 60_000), ask.get("length_mm")
    if rule_set is None:
        raise BadInput("calculation.no-limit", thing=f"table = {table}")
    # The table is of gloves, and its longest column of composite ones too.
    kinds = [str(ask["kind"])] if "kind" in ask else ["rubber-gloves", "composite-gloves"]
    pieces = [
        Piece(
            code="asked", kind=kind, insulation_class=str(ask.get("class", "")),
            class_system=rule_set.class_system, length_um=length if isinstance(length, int) else None,
        )
        for kind in kinds
    ]  # fmt: skip
    test = ElectricalTest(
        kind_of_current="ac", frequency_mhz=hertz if isinstance(hertz, int) else None,
        occasion="acceptance", soaked=bool(ask.get("soaked", False)),
    )  # fmt: skip
    for piece in pieces:
        limit = current_limit_ua(test, piece, rule_set)
        if limit is not None:
            return Answer(limit / 1000, "mA", caution_of(table_limit(piece, rule_set)))
    raise BadInput("calculation.no-limit", thing=f"class = {ask.get('class', '')}")


CALCULATION = Calculation(
    "leakage-limit-ma",
    {
        "class": one_of(*CLASSES),
        "length_mm": FIELDS["length_mm"].sort.read,
        "kind": one_of(*kinds()),
        "table": one_of("us", "iec", "gb"),
        "hz": scaled(3),
        "soaked": yes_no,
    },
    work,
)
