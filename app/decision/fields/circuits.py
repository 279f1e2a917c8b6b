"""The fields of a circuit, each declared once."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from app.decision.domain.voltage import SUPPLIES, Cells
from app.decision.fields import words
from app.decision.fields.field import Field, Sort, named
from app.decision.fields.reading import Unreadable, one_of, read_table, require, whole
from app.decision.fields.sorts import SECONDS, TEXT, VOLTS, YES_NO, choice, millivolts, some

_CELLS = {
    "series": whole, "modules": whole, "series_each": whole, "chemistry": one_of(*words.CHEMISTRIES),
    "max_v": millivolts,
}  # fmt: skip


def _cells(value: object) -> Cells:
    if not isinstance(value, Mapping):
        raise Unreadable("not-a-table-value")
    read: dict[str, Any] = read_table(value, _CELLS, {"max_v": "max_mv"}, "cells")
    require(read, ("chemistry",), "cells")
    modules, each, series = read.get("modules"), read.get("series_each"), read.get("series")
    if modules is not None and each is not None:
        if series is not None and series != modules * each:
            raise Unreadable("cells-contradict")
        series = modules * each
    if series == 0 or read.get("max_mv") == 0:
        raise Unreadable("out-of-range")
    return Cells(series, read["chemistry"], read.get("max_mv"))


FIELDS = named(
    (
        Field(key="key", sort=TEXT),
        Field(key="supply", table="supply", sort=choice(*SUPPLIES)),
        Field(key="category", sort=choice("II", "III", "IV")),
        Field(key="category_source", sort=TEXT),
        Field(key="cells", sort=Sort("cells", _cells)),
        Field(key="max_v_source", sort=TEXT),
        Field(key="plate_max_v", sort=VOLTS),
        Field(key="plate_v", sort=VOLTS),
        Field(key="maker_max_v", sort=VOLTS),
        Field(key="boosted_v", sort=VOLTS),
        Field(key="nominal_v", sort=VOLTS),
        Field(key="reading_v", sort=VOLTS),
        Field(key="phase_to_earth_v", sort=VOLTS),
        Field(key="phase_to_earth_confirmed_by", sort=TEXT),
        Field(key="maker_names_multimeter", sort=YES_NO),
        Field(key="sources", sort=some()),
        Field(key="disconnects", sort=some()),
        Field(key="points", sort=some()),
        Field(key="wait_s", sort=SECONDS),
        Field(key="wait_source", sort=TEXT),
    )
)
#: those a register keeps in a column of the same name
PLAIN = tuple(field for field in FIELDS.values() if field.key not in ("key", "cells"))
