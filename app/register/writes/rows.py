"""Values as rows: what each column of a journaled table takes from a value."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from app.decision.domain.entries import AnyEntry, Name
from app.decision.domain.piece import Person, Piece
from app.decision.domain.voltage import Circuit
from app.decision.fields.circuits import PLAIN
from app.register.reads.pieces import WHATS

Row = Mapping[str, object]
# The order of entry stands in every row as its number.
_FIELDS = {make: tuple(field.name for field in msgspec.structs.fields(make) if field.name != "entry") for make in WHATS}
_PIECE = tuple(field.name for field in msgspec.structs.fields(Piece) if field.name != "records")
_DEFAULT_YES = "certificate_names_piece"


def piece_row(piece: Piece, crib: str, revision: int) -> Row:
    """A piece's own marks; its records are rows of their own."""
    return {**{name: getattr(piece, name) for name in _PIECE}, "crib": crib, "revision": revision}


def record_row(
    piece: str, record: AnyEntry, strikes: Name | None = None, reason: str | None = None, of: Name | None = None
) -> Row:
    """One entry about a piece."""
    row: dict[str, object] = {"piece": piece, "what": WHATS[type(record)]}
    for name in _FIELDS[type(record)]:
        value = getattr(record, name)
        if name == "on":
            if value is not None:
                row["on_first"], row["on_last"] = value.first, value.last
        elif value is not None and (name == _DEFAULT_YES) == _is_quiet(value):
            row[name] = value
    if strikes is not None:
        row["strikes"], row["strikes_in"] = strikes.number, strikes.book
    if of is not None:
        row["of_entry"], row["of_in"] = of.number, of.book
    return {**row, "reason": reason}


def _is_quiet(value: object) -> bool:
    """An empty list and a plain "no" are what a missing value is read back as; a figure of 0 is a figure."""
    return value is False or value == ()


def person_row(person: Person, role_words: str | None, revision: int, name_digest: bytes | None) -> Row:
    """A person by code; the name is kept apart, where it can be erased."""
    return {
        "code": person.code, "roles": person.roles or None, "revision": revision, "role_words": role_words,
        "scopes": person.scopes, "valid_until": person.valid_until, "glove_sizes_c": person.glove_sizes_c,
        "name_digest": name_digest,
    }  # fmt: skip


def circuit_row(system: str, circuit: Circuit, revision: int) -> Row:
    """One circuit of a system."""
    row: dict[str, object] = {"key": circuit.key}
    row |= {field.name: value for field in PLAIN if (value := getattr(circuit, field.name)) != ()}
    cells = circuit.cells
    if cells is not None:
        row |= {"cells_series": cells.series, "cells_chemistry": cells.chemistry, "cells_max_mv": cells.max_mv}
    return {**row, "system": system, "revision": revision}
