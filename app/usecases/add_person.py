"""Add a person, or a person's next revision: scopes, their end, glove sizes. The name is kept apart."""

from __future__ import annotations

import secrets

from app.decision.case.world import read_person
from app.decision.domain.errors import BadInput
from app.decision.domain.piece import Person
from app.decision.fields.reading import Table
from app.decision.judging.answers import Saved
from app.register.journal import SITE_BOOK
from app.register.reads.register import names_kept, newest_revision, people_kept
from app.register.unit import Unit
from app.register.verify import name_digest
from app.register.writes.people import keep_name
from app.register.writes.rows import person_row
from app.usecases.books import the_site
from app.usecases.desk import Desk
from app.usecases.said_before import status_line


def add_person(desk: Desk, by: str, table: Table) -> Saved:
    """Add one person from a table in the keys of a worked case, and `name` where there is one.

    In a register without people the first one enters themselves.
    """
    with desk.write(by, books=the_site, setting_up=True) as unit:
        if not unit.read(people_kept) and table.get("code") != by:
            raise BadInput("by.first-is-self", thing=by)
        _is_new(unit, table)
        put_person(unit, table)
        return Saved(tuple(unit.names))


def _is_new(unit: Unit, table: Table) -> None:
    """BadInput where the same person has entered the very same of them, the name included."""
    person, words = read(table)
    stood = status_line(unit, "person", person.code, person_row(person, words, 1, None), ("revision", "name_digest"))
    if stood is None:
        return
    name, kept = table.get("name"), unit.read(names_kept).get(person.code)
    # Without a name the next revision would be of somebody without one.
    if (name is None) == ("name_digest" not in stood.content) and (name is None or name == kept):
        raise BadInput("entry.stands", thing=person.code, entry=str(stood.name))


def read(table: Table) -> tuple[Person, str | None]:
    """The person of a table, and what they do in words."""
    plain = {key: value for key, value in table.items() if key != "name"}
    person = read_person(plain, f"person {plain.get('code', '')}".strip())
    if not person.code:
        raise BadInput("case.key-missing", place="person", thing="code")
    words = plain.get("role_words")
    return person, None if words is None else str(words)


def put_person(unit: Unit, table: Table) -> None:
    """Write one person."""
    person, words = read(table)
    name = table.get("name")
    salt = secrets.token_bytes(32)
    digest = None if name is None else name_digest(salt, person.code, str(name))
    revision = unit.read(lambda connection: newest_revision(connection, "person", code=person.code)) + 1
    unit.add(SITE_BOOK, "person", person.code, person_row(person, words, revision, digest))
    if name is not None:
        keep_name(unit.connection, person.code, str(name), salt)
