"""The revisions make the tables the program speaks of, on SQLite, and say them in PostgreSQL's words too."""

from __future__ import annotations

from importlib import import_module
from typing import Any

import pytest
import sqlalchemy as sa
from alembic.migration import MigrationContext
from alembic.operations import Operations
from sqlalchemy.dialects import postgresql
from sqlalchemy.engine import Connection
from sqlalchemy.schema import CreateIndex, CreateTable

from app.register.engine import SCHEMA, make_engine
from app.register.migrate import build, migrations_folder
from app.register.tables import JOURNALED, METADATA

TABLES = sorted(METADATA.tables)
DIALECT = postgresql.dialect()  # type: ignore[no-untyped-call]


def described(connection: Connection) -> dict[str, Any]:
    """Columns, keys, references, checks and indexes of every table, as the database itself tells them."""
    look = sa.inspect(connection)
    return {
        name: {
            "columns": sorted((one["name"], str(one["type"]), one["nullable"]) for one in look.get_columns(name)),
            "key": look.get_pk_constraint(name),
            "references": look.get_foreign_keys(name),
            "unique": sorted(look.get_unique_constraints(name), key=str),
            "checks": sorted(look.get_check_constraints(name), key=str),
            "indexes": sorted(look.get_indexes(name), key=str),
            "strict": " STRICT" in connection.exec_driver_sql(
                "SELECT sql FROM sqlite_master WHERE name = ?", (name,)
            ).scalar_one(),
        }
        for name in look.get_table_names()
        if name != "alembic_version"
    }  # fmt: skip


def test_a_fresh_register_has_the_tables_the_program_speaks_of() -> None:
    made, declared = make_engine(None), make_engine(None)
    build(made, migrations_folder())
    METADATA.create_all(declared)
    with made.connect() as one, declared.connect() as other:
        assert described(one) == described(other)
        assert sorted(described(one)) == TABLES
        assert all(table["strict"] for table in described(one).values())
    made.dispose()
    declared.dispose()


def test_every_table_that_is_only_added_to_has_its_guards() -> None:
    made = make_engine(None)
    build(made, migrations_folder())
    with made.connect() as connection:
        there = {row[0] for row in connection.exec_driver_sql("SELECT name FROM sqlite_master WHERE type = 'trigger'")}
        version = connection.exec_driver_sql("PRAGMA user_version").scalar_one()
    made.dispose()
    assert there == {
        "journal_next", *(f"{name}_no_{act}" for name in ("journal", *JOURNALED) for act in ("update", "delete"))
    }  # fmt: skip
    assert version == SCHEMA


@pytest.mark.parametrize("act", ["UPDATE journal SET actor = 'x'", "DELETE FROM journal"])
def test_a_guard_stops_what_it_is_for(act: str) -> None:
    made = make_engine(None)
    build(made, migrations_folder())
    line = (
        "INSERT INTO journal (book, number, at, actor, kind, subject, revision, content, previous, hash) "
        "VALUES ('site', {}, '', '', '', '', 1, '', {}, x'01')"
    )
    with made.connect() as connection:
        connection.exec_driver_sql(line.format(1, "zeroblob(32)"))
        with pytest.raises(sa.exc.IntegrityError, match="append-only: journal"):
            connection.exec_driver_sql(act)
        for number, previous in ((3, "x'01'"), (2, "x'02'"), (1, "zeroblob(32)")):
            with pytest.raises(sa.exc.IntegrityError):
                connection.exec_driver_sql(line.format(number, previous))
    made.dispose()


@pytest.mark.parametrize("name", TABLES)
def test_every_table_can_be_said_in_postgresql(name: str) -> None:
    table = METADATA.tables[name]
    said = str(CreateTable(table).compile(dialect=DIALECT))
    for column in table.columns:
        kind = column.type.compile(dialect=DIALECT)
        assert kind in ('TEXT COLLATE "C"', "BIGINT", "BYTEA"), column
        assert kind in said
    for index in table.indexes:
        assert str(CreateIndex(index).compile(dialect=DIALECT)).startswith("CREATE INDEX")


def test_the_revisions_can_be_said_in_postgresql() -> None:
    """Against a connection that only listens: a revision asks which database it speaks to."""
    said: list[str] = []

    def listen(statement: Any, *args: object, **more: object) -> None:
        del args, more
        said.append(str(statement.compile(dialect=DIALECT)))

    listening: Any = sa.create_mock_engine("postgresql+psycopg://", listen)
    with Operations.context(MigrationContext.configure(connection=listening)):
        for revision in sorted((migrations_folder() / "versions").glob("[0-9]*.py")):
            import_module(f"migrations.versions.{revision.stem}").upgrade()
    text = "\n".join(said)
    for name in TABLES:
        assert f"CREATE TABLE {name} (" in text or f'CREATE TABLE "{name}" (' in text
    for name in ("journal", *JOURNALED):
        assert f'CREATE TRIGGER {name}_no_change BEFORE UPDATE OR DELETE OR TRUNCATE ON "{name}"' in text
    assert "STRICT" not in text
    assert "RAISE(ABORT" not in text
