"""Whatever a declared field takes is written back as it was, under the same key; nothing is declared and left out."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.decision.case.pieces import read_piece, read_record
from app.decision.case.site import read_site
from app.decision.case.world import read_circuit, read_person
from app.decision.case.writing import circuit_table, piece_table, record_table, site_table
from app.decision.domain import former
from app.decision.domain.errors import BadInput
from app.decision.domain.limits import SiteRules
from app.decision.domain.piece import Person, Piece
from app.decision.domain.voltage import Circuit
from app.decision.fields import circuits, people, pieces, site
from app.decision.fields.every import DECLARED
from app.decision.fields.field import Field
from app.decision.fields.records import OF_ALL, SORTS
from app.decision.kinds import kinds
from app.words.vocabulary import EVERYTHING

DAYS = st.dates(date(2000, 1, 1), date(2090, 12, 31))
VOLTS = st.integers(1, 10**7).map(lambda mv: Decimal(mv).scaleb(-3))
MARKS = st.lists(
    st.tuples(st.sampled_from(["II", "III", "IV"]), VOLTS).map(list),
    min_size=1,
    max_size=3,
    unique_by=lambda pair: pair[0],
)
FIGURES = st.integers(1, 19_000).map(lambda figure: Decimal(figure).scaleb(-3))
VALUES: dict[str, st.SearchStrategy[Any]] = {
    "text": st.sampled_from(["A-1", "two words", "0815"]), "yes-no": st.booleans(), "count": st.integers(0, 99),
    "seconds": st.integers(0, 600), "test-volts": st.integers(0, 60_000), "volts": VOLTS, "length": FIGURES,
    "amperes": FIGURES, "milliamperes": FIGURES, "hertz": FIGURES, "calories": FIGURES,
    "hundredths": st.integers(1, 1999).map(lambda figure: Decimal(figure).scaleb(-2)), "day": DAYS,
    "day-or-month": st.one_of(DAYS, st.just("2025-03"), st.just("2025-W10")), "time": st.times(),
    "first-issue": st.one_of(DAYS, st.sampled_from(["never", "unknown", "2025-03"])), "marks": MARKS,
    "voltage-mark": st.fixed_dictionaries({"ac_v": VOLTS, "dc_v": VOLTS}),
    "fuse": st.one_of(st.fixed_dictionaries({"v": VOLTS, "ac_only": st.booleans(), "kind": st.just("hbc")})),
    "ratio": st.integers(100, 9999).map(lambda figure: Decimal(figure).scaleb(-2)),
    "numbers": st.lists(st.integers(0, 900), min_size=1, max_size=3), "sizes": st.lists(st.sampled_from([9, 9.5]), min_size=1),
    "cells": st.fixed_dictionaries({"series": st.integers(1, 400), "chemistry": st.sampled_from(["nmc", "lead-acid"])}),
    "percent": st.integers(0, 50), "altitude": st.integers(-500, 9_000),
}  # fmt: skip
# Said by the program of a site or of a test that was seen, in forms of their own.
OF_THEIR_OWN = ("confirmed_in_print", "approvals", "dielectric_exempt_00_0")


def value_of(field: Field) -> st.SearchStrategy[Any]:
    if field.sort.values:
        one = st.sampled_from(field.sort.values)
        return one if field.sort.name == "choice" else st.lists(one, min_size=1, unique=True)
    return VALUES["text"].map(lambda word: [word]) if field.sort.name == "list" else VALUES[field.sort.name]


@pytest.mark.parametrize("key", sorted(set(pieces.FIELDS) - {"code", "kind"}))
@settings(max_examples=15, deadline=None)
@given(data=st.data())
def test_a_field_of_a_piece_is_written_back_as_it_was_read(key: str, data: st.DataObject) -> None:
    value = data.draw(value_of(pieces.FIELDS[key]))
    piece = read_piece({"code": "X1", "kind": "multimeter", key: value}, "")
    written = piece_table(piece)
    assert read_piece(written, "") == piece
    # That a piece is not lost is what is taken for granted, and so left out.
    assert written.get(key, False) == value
    changed = [one.name for one in msgspec.structs.fields(Piece) if getattr(piece, one.name) != one.default]
    assert set(changed) - {"code", "kind", "records"} <= {pieces.FIELDS[key].name}


@pytest.mark.parametrize(("what", "key"), [(what, key) for what, sort in SORTS.items() for key in sort.fields])
@settings(max_examples=10, deadline=None)
@given(data=st.data())
def test_a_field_of_a_record_is_written_back_as_it_was_read(what: str, key: str, data: st.DataObject) -> None:
    needed = {"kind": "dropped"} if what == "event" else {"to": "crib"} if what == "hand-over" else {}
    table = {"what": what, "on": date(2026, 3, 2), **needed, key: data.draw(value_of(SORTS[what].fields[key]))}
    record = read_record(table, "")
    assert read_record(record_table(record), "") == record
    assert getattr(record, SORTS[what].fields[key].name) is not None


@pytest.mark.parametrize("key", sorted(set(circuits.FIELDS) - {"key"}))
@settings(max_examples=10, deadline=None)
@given(data=st.data())
def test_a_field_of_a_circuit_is_written_back_as_it_was_read(key: str, data: st.DataObject) -> None:
    circuit = read_circuit({"key": "t", "supply": "isolated-dc", key: data.draw(value_of(circuits.FIELDS[key]))}, "")
    assert read_circuit(circuit_table(circuit), "") == circuit


@pytest.mark.parametrize("key", sorted(set(site.FIELDS) - set(OF_THEIR_OWN)))
@settings(max_examples=10, deadline=None)
@given(data=st.data())
def test_a_rule_of_the_site_is_written_back_as_it_was_read(key: str, data: st.DataObject) -> None:
    rules = read_site({key: data.draw(value_of(site.FIELDS[key]))}, "")
    assert read_site(site_table(rules), "") == rules


@pytest.mark.parametrize(
    ("fields", "make", "beside"),
    [
        (pieces.FIELDS, Piece, {"records"}), (circuits.FIELDS, Circuit, set()), (people.FIELDS, Person, set()),
        (site.FIELDS, SiteRules, {"approvals_taken_as_given", "known_source_instead_of_proving_unit"}),
        *(({**OF_ALL, **sort.fields}, sort.make, {"confirmed_seen"} if what == "electrical-test" else
           {"to"} if what == "issue" else set()) for what, sort in SORTS.items()),
    ],
)  # fmt: skip
def test_every_attribute_has_its_field(fields: dict[str, Field], make: type[Any], beside: set[str]) -> None:
    names = {field.name for field in fields.values()} - {"what"}
    assert names | beside == {one.name for one in msgspec.structs.fields(make)}


def test_what_a_kind_has_is_declared_and_has_a_name() -> None:
    for kind in kinds().values():
        assert {*kind.fields, *pieces.OF_ALL} <= set(pieces.FIELDS), kind.key
    of_some_kind = set(pieces.OF_ALL).union(*(kind.fields for kind in kinds().values()))
    assert set(pieces.FIELDS) - of_some_kind == {"code", "kind", "custody", "lost"}
    assert {*of_some_kind, *circuits.FIELDS, *people.FIELDS} - {"code"} <= set(EVERYTHING["field"])
    assert all(set(field.sort.values) <= set(EVERYTHING[field.table]) for field in DECLARED if field.table)


def test_a_former_key_is_nobodys_key_of_today() -> None:
    declared = {field.key for field in DECLARED}
    assert not set(former.FIELDS) & declared
    assert set(former.FIELDS.values()) <= declared


@pytest.mark.parametrize(("what", "former_key"), [("electrical-test", "lab"), ("inspection", "harmless")])
def test_a_key_beside_its_former_name_is_refused(what: str, former_key: str) -> None:
    value = "Northgate" if former_key == "lab" else ["stamp worn"]
    table, today = {"what": what, "on": date(2026, 3, 2)}, former.FIELDS[former_key]
    assert read_record({**table, former_key: value}, "") == read_record({**table, today: value}, "")
    with pytest.raises(BadInput) as refused:
        read_record({**table, former_key: value, today: value}, "")
    assert (refused.value.key, refused.value.thing) == ("piece.key-twice", today)


def test_a_person_reads_back() -> None:
    table = {"code": "P1", "roles": ["officer"], "scopes": ["live"], "glove_sizes": [9.5]}
    assert read_person(table, "") == Person(code="P1", roles=("officer",), scopes=("live",), glove_sizes_c=(950,))
