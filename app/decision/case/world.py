"""Reading circuits, people, jobs and site rules."""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.case.pieces import read_fields
from app.decision.domain.errors import BadInput
from app.decision.domain.limits import SiteRules
from app.decision.domain.piece import Person
from app.decision.domain.voltage import Circuit
from app.decision.fields import words
from app.decision.fields.circuits import FIELDS as CIRCUIT
from app.decision.fields.people import FIELDS as PERSON
from app.decision.fields.reading import Reader, Table, as_table, exact_day, require, some_of, text
from app.decision.fields.site import FIELDS as SITE


def read_circuit(table: Table, place: str) -> Circuit:
    """One circuit; a voltage of nothing is not a voltage."""
    require(table, ("key", "supply"), place)
    here = f"{place} {table['key']}".strip()
    read = read_fields(table, CIRCUIT, here, name=text)
    read.pop("name", None)
    for key in ("plate_max_v", "maker_max_v", "boosted_v"):
        if read.get(CIRCUIT[key].name) == 0:
            raise BadInput("case.out-of-range", place=here, thing=key)
    return Circuit(**read)


def read_person(table: Table, place: str) -> Person:
    """One person; `code` may be left out only in a worked case that asks about scopes alone."""
    read = read_fields(table, PERSON, place, role_words=text)
    read.pop("role_words", None)
    return Person(**{"code": "", **read})


#: said of a site beside its rules
ABOUT: Mapping[str, Reader] = {"demo_day": exact_day, "timezone": text, "rule_sets": some_of(*words.RULE_SETS)}


def read_site(value: object, place: str) -> SiteRules:
    """Site rules; what is not named stays as shipped."""
    read = read_fields(as_table(value, place, "site"), SITE, place, **ABOUT)
    for key in ABOUT:
        read.pop(key, None)
    return SiteRules(**read)
