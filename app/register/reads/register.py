"""Site rules, people and systems as they stand now."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from msgspec.structs import replace
from sqlalchemy import Select, func, select
from sqlalchemy.engine import Connection

from app.decision.domain.piece import Person
from app.decision.domain.register import Depot, System
from app.decision.domain.voltage import Cells, Circuit
from app.register.reads.site_rules import depot_rules
from app.register.tables import CIRCUIT, CRIB, PERSON, PERSON_NAME, SITE_RULE, SYSTEM


def depot_without_kit(
    connection: Connection, people: Iterable[str] | None = None, systems: Iterable[str] | None = None
) -> Depot:
    """Site rules, with the people and systems asked for; None means all."""
    rules = depot_rules(connection)
    return replace(rules, people=people_kept(connection, people), systems=systems_kept(connection, systems))


def people_kept(connection: Connection, codes: Iterable[str] | None = None) -> dict[str, Person]:
    """People by code, newest revision."""
    newest = select(PERSON.c.code, func.max(PERSON.c.revision).label("revision")).group_by(PERSON.c.code).subquery()
    question = select(PERSON.c.code, PERSON.c.scopes, PERSON.c.valid_until, PERSON.c.glove_sizes_c).join(
        newest, (newest.c.code == PERSON.c.code) & (newest.c.revision == PERSON.c.revision)
    )
    if codes is not None:
        question = question.where(PERSON.c.code.in_(list(codes)))
    return {
        row.code: Person(code=row.code, scopes=row.scopes, valid_until=row.valid_until, glove_sizes_c=row.glove_sizes_c)
        for row in connection.execute(question.order_by(PERSON.c.code))
    }


def person_revision(connection: Connection, code: str) -> int:
    """The newest revision of a person, 0 where there is none."""
    return _newest(connection, select(func.max(PERSON.c.revision)).where(PERSON.c.code == code))


def system_revision(connection: Connection, code: str) -> int:
    """The newest revision of a system, 0 where there is none."""
    return _newest(connection, select(func.max(SYSTEM.c.revision)).where(SYSTEM.c.code == code))


def circuit_revision(connection: Connection, system: str, key: str) -> int:
    """The newest revision of a circuit, 0 where there is none."""
    question = select(func.max(CIRCUIT.c.revision)).where(CIRCUIT.c.system == system, CIRCUIT.c.key == key)
    return _newest(connection, question)


def site_rule_revision(connection: Connection, key: str) -> int:
    """The newest revision of a site rule, 0 where it was never set."""
    return _newest(connection, select(func.max(SITE_RULE.c.revision)).where(SITE_RULE.c.key == key))


def _newest(connection: Connection, question: Select[Any]) -> int:
    return int(connection.execute(question).scalar() or 0)


def role_words(connection: Connection) -> dict[str, str]:
    """What each person does, in words."""
    newest = select(PERSON.c.code, func.max(PERSON.c.revision).label("revision")).group_by(PERSON.c.code).subquery()
    question = select(PERSON.c.code, PERSON.c.role_words).join(
        newest, (newest.c.code == PERSON.c.code) & (newest.c.revision == PERSON.c.revision)
    )
    return {row.code: row.role_words or "" for row in connection.execute(question)}


def names_kept(connection: Connection) -> dict[str, str]:
    """Names of people by code; erased ones are not there."""
    return {row.code: row.name for row in connection.execute(select(PERSON_NAME.c.code, PERSON_NAME.c.name))}


def systems_kept(connection: Connection, codes: Iterable[str] | None = None) -> dict[str, System]:
    """Systems with their circuits, each in its newest revision, circuits in the order they were added."""
    wanted = None if codes is None else list(codes)
    newest = select(SYSTEM.c.code, func.max(SYSTEM.c.revision).label("revision")).group_by(SYSTEM.c.code).subquery()
    question = select(SYSTEM.c.code, SYSTEM.c.name).join(
        newest, (newest.c.code == SYSTEM.c.code) & (newest.c.revision == SYSTEM.c.revision)
    )
    circuits = _circuits(connection, wanted)
    if wanted is not None:
        question = question.where(SYSTEM.c.code.in_(wanted))
    return {
        row.code: System(row.code, row.name, tuple(circuits.get(row.code, ())))
        for row in connection.execute(question.order_by(SYSTEM.c.code))
    }


def _circuits(connection: Connection, systems: list[str] | None) -> dict[str, list[Circuit]]:
    question = select(CIRCUIT).order_by(CIRCUIT.c.system, CIRCUIT.c.key, CIRCUIT.c.revision)
    if systems is not None:
        question = question.where(CIRCUIT.c.system.in_(systems))
    newest: dict[tuple[str, str], tuple[int, Circuit]] = {}
    for row in connection.execute(question):
        cells = None
        if row.cells_chemistry is not None:
            cells = Cells(row.cells_series, row.cells_chemistry, row.cells_max_mv)
        circuit = Circuit(
            key=row.key, supply=row.supply, category=row.category, cells=cells, plate_max_mv=row.plate_max_mv,
            maker_max_mv=row.maker_max_mv, boosted_mv=row.boosted_mv, nominal_mv=row.nominal_mv,
            reading_mv=row.reading_mv, phase_to_earth_mv=row.phase_to_earth_mv,
            phase_to_earth_confirmed_by=row.phase_to_earth_confirmed_by,
            maker_names_multimeter=row.maker_names_multimeter,
        )  # fmt: skip
        first = newest.get((row.system, row.key), (row.entry, circuit))[0]
        newest[row.system, row.key] = (first, circuit)
    by_system: dict[str, list[Circuit]] = {}
    for (system, _), (_, circuit) in sorted(newest.items(), key=lambda item: (item[0][0], item[1][0])):
        by_system.setdefault(system, []).append(circuit)
    return by_system


def cribs(connection: Connection) -> list[str]:
    """The cribs, in the order they were set up."""
    return [str(row.code) for row in connection.execute(select(CRIB.c.code).order_by(CRIB.c.entry))]
