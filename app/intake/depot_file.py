"""The depot file: people, systems and site rules as TOML, and the day's checks beside it."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from typing import TypeVar

from app.decision.case.pieces import read_record
from app.decision.case.site import read_site
from app.decision.case.world import read_circuit, read_person
from app.decision.domain.errors import BadInput
from app.decision.domain.piece import Person
from app.decision.domain.register import Check, Depot, System
from app.decision.domain.voltage import Circuit
from app.decision.fields.reading import (
    Reader,
    Table,
    as_table,
    as_tables,
    exact_day,
    nearest,
    read_table,
    require,
    text,
    words_of,
)
from app.decision.fields.words import RULE_SETS

T = TypeVar("T", Person, System)
_SYSTEM: Mapping[str, Reader] = {"code": text, "name": text, "circuits": lambda value: value}
_PARTS = ("site", "people", "systems")


def read_depot(written: str, file: str) -> Depot:
    """The depot of one file's text; BadInput names file, place and key, and nothing is half read."""
    document = _toml(written, file)
    try:
        _known_parts(document, _PARTS)
        site = as_table(document.get("site", {}), "", "site")
        # Read first: it says in words what is wrong with a key, the list of rule sets among them.
        rules = read_site(site, "site")
        rule_sets = words_of(*RULE_SETS)(site["rule_sets"]) if "rule_sets" in site else ("us-osha-137",)
        return Depot(
            site=rules,
            rule_sets=rule_sets,
            people=_by_code(document, "people", _person),
            systems=_by_code(document, "systems", _system),
            demo_day=exact_day(site["demo_day"]) if "demo_day" in site else None,
        )
    except BadInput as fault:
        fault.file = file
        raise


def read_checks(written: str, file: str) -> tuple[Check, ...]:
    """The day's checks of one file's text, in the order they stand."""
    document = _toml(written, file)
    try:
        _known_parts(document, ("records",))
        return tuple(_check(table, index) for index, table in enumerate(_tables(document, "records"), start=1))
    except BadInput as fault:
        fault.file = file
        raise


def _toml(written: str, file: str) -> Table:
    try:
        return tomllib.loads(written)
    except tomllib.TOMLDecodeError as fault:
        raise BadInput("file.not-toml", file=file, thing=str(fault)) from fault


def _known_parts(document: Table, parts: tuple[str, ...]) -> None:
    for key in document:
        if key not in parts:
            raise BadInput("case.unknown-key", thing=key, nearest=nearest(key, parts))


def _tables(document: Table, part: str) -> list[Table]:
    return as_tables(document.get(part, []), "", part)


def _by_code(document: Table, part: str, read: Callable[[Table, str], T]) -> dict[str, T]:
    found: dict[str, T] = {}
    for index, table in enumerate(_tables(document, part), start=1):
        place = f"{part} {index}"
        require(table, ("code",), place)
        one = read(table, f"{part} {table['code']}")
        if one.code in found:
            raise BadInput("depot.twice", place=place, thing=one.code)
        found[one.code] = one
    return found


def _person(table: Table, place: str) -> Person:
    return read_person(table, place)


def _system(table: Table, place: str) -> System:
    read = read_table(table, _SYSTEM, {}, place)
    circuits: dict[str, Circuit] = {}
    for one in as_tables(read.get("circuits", []), place, "circuits"):
        circuit = read_circuit(one, f"{place} circuit")
        if circuit.key in circuits:
            raise BadInput("depot.twice", place=place, thing=circuit.key)
        circuits[circuit.key] = circuit
    code = str(read["code"])
    return System(code, str(read.get("name", code)), tuple(circuits.values()))


def _check(table: Table, index: int) -> Check:
    place = f"record {index}"
    require(table, ("piece",), place)
    rest = {key: value for key, value in table.items() if key != "piece"}
    return Check(text(table["piece"]), read_record(rest, f"{place} {table['piece']}"))
