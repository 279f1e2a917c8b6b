"""A circuit as a calculation asks about one: the keys of a circuit, key and supply left out at will."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from app.decision.domain.errors import BadInput
from app.decision.domain.voltage import Circuit, Working, working
from app.decision.fields.circuits import FIELDS
from app.decision.fields.reading import Reader

TAKES: Mapping[str, Reader] = {key: field.sort.read for key, field in FIELDS.items() if key != "key"}


def asked(ask: Mapping[str, object]) -> tuple[Circuit, Working]:
    """The circuit and its working voltage; BadInput where only a nominal voltage or a reading is known."""
    named: dict[str, Any] = {FIELDS[key].name: value for key, value in ask.items() if key in FIELDS}
    circuit = Circuit(**{"key": "asked", "supply": "isolated-dc", **named})
    best = working(circuit)
    if best is None:
        raise BadInput("calculation.no-working-voltage", thing="cells, plate_max_v, maker_max_v, boosted_v")
    return circuit, best


def caution(circuit: Circuit) -> str:
    """The sentence to stand beside a voltage that rests on an unknown lithium chemistry."""
    cells = circuit.cells
    if cells is not None and cells.chemistry == "unknown-lithium":
        return "working-voltage-known.unknown-lithium"
    return ""
