"""Site rules, people and systems as they stand now."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from msgspec.structs import replace
from sqlalchemy import ColumnElement, Select, Table, func, select
from sqlalchemy.engine import Connection

from app.decision.domain.piece import Person
from app.decision.domain.register import Depot, System
from app.decision.domain.voltage import Cells, Circuit
from app.decision.fields.circuits import PLAIN
from app.register.reads.site_rules import depot_rules
from app.register.tables import CIRCUIT, CRIB, JOURNALED, PERSON, PERSON_NAME, SYSTEM


def depot_without_kit(
    connection: Connection, people: Iterable[str] | None = None, systems: Iterable[str] | None = None
) -> Depot:
    """Site rules, with the people and systems asked for; None means all."""
    rules = depot_rules(connection)
    return replace(rules, people=people_kept(connection, people), systems=systems_kept(connection, systems))


def _in_newest(table: Table, *columns: ColumnElement[Any]) -> Select[Any]:
    """These columns of each code's newest revision, by code."""
    newest = select(table.c.code, func.max(table.c.revision).label("revision")).group_by(table.c.code).subquery()
    is_newest = (newest.c.code == table.c.code) & (newest.c.revision == table.c.revision)
    return select(table.c.code, *columns).join(newest, is_newest).order_by(table.c.code)


def people_kept(connection: Connection, codes: Iterable[str] | None = None) -> dict[str, Person]:
    """People by code, newest revision."""
    question = _in_newest(PERSON, PERSON.c.roles, PERSON.c.scopes, PERSON.c.valid_until, PERSON.c.glove_sizes_c)
    if codes is not None:
        question = question.where(PERSON.c.code.in_(list(codes)))
    return {
        row.code: Person(
            code=row.code,
            roles=row.roles or (),
            scopes=row.scopes,
            valid_until=row.valid_until,
            glove_sizes_c=row.glove_sizes_c,
        )
        for row in connection.execute(question)
    }


def newest_revision(connection: Connection, kind: str, **key: str) -> int:
    """The newest revision of what this key names among rows of that kind, 0 where there is none."""
    table = JOURNALED[kind]
    question = select(func.max(table.c.revision)).where(*(table.c[name] == value for name, value in key.items()))
    return int(connection.execute(question).scalar() or 0)


def role_words(connection: Connection) -> dict[str, str]:
    """What each person does, in words."""
    return {row.code: row.role_words or "" for row in connection.execute(_in_newest(PERSON, PERSON.c.role_words))}


def names_kept(connection: Connection) -> dict[str, str]:
    """Names of people by code; erased ones are not there."""
    return {row.code: row.name for row in connection.execute(select(PERSON_NAME.c.code, PERSON_NAME.c.name))}


def systems_kept(connection: Connection, codes: Iterable[str] | None = None) -> dict[str, System]:
    """Systems with their circuits, each in its newest revision, circuits in the order they were added."""
    wanted = None if codes is None else list(codes)
    question = _in_newest(SYSTEM, SYSTEM.c.name)
    circuits = _circuits(connection, wanted)
    if wanted is not None:
        question = question.where(SYSTEM.c.code.in_(wanted))
    return {
        row.code: System(row.code, row.name, tuple(circuits.get(row.code, ()))) for row in connection.execute(question)
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
        stated = {field.name: value for field in PLAIN if (value := getattr(row, field.name)) is not None}
        circuit = Circuit(key=row.key, cells=cells, **stated)
        first = newest.get((row.system, row.key), (row.entry, circuit))[0]
        newest[row.system, row.key] = (first, circuit)
    by_system: dict[str, list[Circuit]] = {}
    for (system, _), (_, circuit) in sorted(newest.items(), key=lambda item: (item[0][0], item[1][0])):
        by_system.setdefault(system, []).append(circuit)
    return by_system


def cribs(connection: Connection) -> list[str]:
    """The cribs, in the order they were set up."""
    return [str(row.code) for row in connection.execute(select(CRIB.c.code).order_by(CRIB.c.entry))]
