"""One calculation worked out from a table of keys: what a worked case asks, and what anybody asks at a command line."""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain.errors import BadInput
from app.decision.fields.reading import nearest, read_table
from app.decision.judging.calculation import Answer, Law
from app.decision.judging.catalogues import calculations, catalogues


def calculate(what: str, table: Mapping[str, object], place: str) -> Answer:
    """The figure; BadInput for a calculation or a key nobody knows (naming the nearest) and for a missing figure."""
    known = calculations()
    if what not in known:
        raise BadInput("calculation.unknown", thing=what, nearest=nearest(what, known), known=tuple(known))
    calculation = known[what]
    all_of = catalogues()
    asked = read_table(table, calculation.takes, {}, place)
    return calculation.work(asked, Law(all_of.rule_sets, all_of.house))
