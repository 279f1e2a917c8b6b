"""Reading circuits and people."""

from __future__ import annotations

from app.decision.domain.errors import BadInput
from app.decision.domain.piece import Person
from app.decision.domain.voltage import Circuit
from app.decision.fields.circuits import FIELDS as CIRCUIT
from app.decision.fields.field import reader_of
from app.decision.fields.people import FIELDS as PERSON
from app.decision.fields.reading import Table, require, text

_CIRCUIT = reader_of(CIRCUIT, name=text)
_PERSON = reader_of(PERSON, role_words=text)


def read_circuit(table: Table, place: str) -> Circuit:
    """One circuit; a voltage of nothing is not a voltage."""
    require(table, ("key", "supply"), place)
    here = f"{place} {table['key']}".strip()
    read = _CIRCUIT(table, here)
    read.pop("name", None)
    for key in ("plate_max_v", "maker_max_v", "boosted_v"):
        if read.get(CIRCUIT[key].name) == 0:
            raise BadInput("case.out-of-range", place=here, thing=key)
    return Circuit(**read)


def read_person(table: Table, place: str) -> Person:
    """One person; `code` may be left out only in a worked case that asks about scopes alone."""
    read = _PERSON(table, place)
    read.pop("role_words", None)
    return Person(**{"code": "", **read})
