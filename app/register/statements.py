"""The library's statements put to the driver's own cursor, and what each database says in its own way.

A result of the library costs more than the rows of most questions asked here, and putting a statement into words more
than either. So each is put into words once for each database; values go in and rows come out as they stand in the
file, days as ISO text.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from importlib import import_module
from typing import Any

from sqlalchemy import ClauseElement, Table, Text, case, cast, dialects, func, or_
from sqlalchemy.engine import Connection, Dialect
from sqlalchemy.ext.compiler import compiles
from sqlalchemy.sql import ColumnElement
from sqlalchemy.sql.compiler import ExpandedState, SQLCompiler
from sqlalchemy.sql.functions import GenericFunction

from app.register.driver import Row, fetched, many

Statement = ClauseElement | Callable[[Dialect], ClauseElement]


class Question:
    """One question; `rows` takes its values by the names of its parameters."""

    def __init__(self, statement: Statement) -> None:
        self._statement = statement
        self._forms: dict[str, _Form] = {}

    def rows(self, connection: Connection, **values: object) -> list[Row]:
        """Every row."""
        return fetched(connection, *self._form(connection).put(values))

    def first(self, connection: Connection, **values: object) -> Row | None:
        """The first row, None where there is none."""
        rows = self.rows(connection, **values)
        return rows[0] if rows else None

    def _form(self, connection: Connection) -> _Form:
        dialect = connection.dialect
        form = self._forms.get(dialect.name)
        if form is None:
            form = self._forms[dialect.name] = _Form(self._statement, dialect)
        return form


class Change(Question):
    """One statement that writes."""

    def each(self, connection: Connection, rows: Sequence[Row]) -> None:
        """Once for each of these rows, whose values stand in the order of the statement's parameters."""
        many(connection, self._form(connection).text, rows)


class _Form:
    """A statement in the words of one database."""

    def __init__(self, statement: Statement, dialect: Dialect) -> None:
        clause = statement if isinstance(statement, ClauseElement) else statement(dialect)
        compiled = clause.compile(dialect=dialect)
        assert isinstance(compiled, SQLCompiler)
        self._compiled = compiled
        self.text = compiled.string
        self._has_lists = bool(compiled.post_compile_params)
        self._names = compiled.positiontup or []
        self._given: Mapping[str, Any] = compiled.params
        self._of_lengths: dict[tuple[int, ...], ExpandedState] = {}

    def put(self, values: Mapping[str, Any]) -> tuple[str, Sequence[object]]:
        """Text and values for the driver; a list of values takes as many places as it has members."""
        if not self._has_lists:
            return self.text, [values[name] if name in values else self._given[name] for name in self._names]
        lengths = tuple(len(value) for value in values.values() if isinstance(value, list))
        state = self._of_lengths.get(lengths)
        if state is None:
            # Costs as much as the question itself, and comes out alike for lists of the same length.
            state = self._of_lengths[lengths] = self._compiled.construct_expanded_state(dict(values))
        members = {**state.parameters, **values}
        for name, places in state.parameter_expansion.items():
            if name in values:
                members.update(zip(places, values[name], strict=True))
        return state.statement, [members[name] for name in state.positiontup or ()]


def upsert(table: Table, key: str, names: Sequence[str]) -> Change:
    """Rows of these columns, each in the place of the one of its key."""

    def statement(dialect: Dialect) -> ClauseElement:
        # Both databases say it alike, and the library has it apart for each.
        inserted = import_module(f".{dialect.name}", dialects.__name__).insert(table).values(dict.fromkeys(names))
        replaced = {name: inserted.excluded[name] for name in names if name != key}
        changed: ClauseElement = inserted.on_conflict_do_update(index_elements=[key], set_=replaced)
        return changed

    return Change(statement)


class PackedTogether(GenericFunction[str]):
    """Values as one JSON text, a list that keeps a NULL in its place."""

    type = Text()
    inherit_cache = True


@compiles(PackedTogether, "sqlite")
def _packed_sqlite(packed: PackedTogether, compiler: SQLCompiler, **how: Any) -> str:  # noqa: ANN401  # the library's
    return compiler.process(func.json_array(*packed.clauses), **how)


@compiles(PackedTogether, "postgresql")
def _packed_postgresql(packed: PackedTogether, compiler: SQLCompiler, **how: Any) -> str:  # noqa: ANN401
    # json_array leaves NULLs out there.
    return compiler.process(cast(func.json_build_array(*packed.clauses), Text), **how)


def packed(columns: Sequence[ColumnElement[Any]]) -> ColumnElement[str | None]:
    """All of these as one text where a row has any of them, else NULL."""
    return case((or_(*(column.is_not(None) for column in columns)), PackedTogether(*columns)))
