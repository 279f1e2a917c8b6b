"""Every question of the register answers alike on SQLite and PostgreSQL, and so does everything that writes its rows."""

from __future__ import annotations

import inspect
import pkgutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime
from importlib import import_module
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from sqlalchemy import create_engine, func, insert, select
from sqlalchemy.engine import Connection, Engine

import app.register.reads as room
from app.cli.demo_register import build
from app.compose import demo_folder
from app.decision.domain.calendar import Day
from app.decision.domain.entries import Name
from app.decision.domain.piece import Piece
from app.decision.domain.record import Issue
from app.decision.judging.catalogues import rule_sets_of
from app.register import derived, verify
from app.register.columns import Stored
from app.register.driver import begin, roll_back
from app.register.engine import make_engine, open_store
from app.register.reads import due, given, last_tests, lines, names, out, pieces, register, shelf, site_rules, statuses
from app.register.sqlite import WRITING
from app.register.statements import Question, packed
from app.register.tables import DECISION, JOURNAL, METADATA, OUT_NOW, RECORD, STATUS
from app.register.unit import Unit
from app.register.writes import people
from app.register.writes import statuses as put
from app.register.writes.rows import piece_row, record_row
from tests.register.postgres import server, why_not
from tests.register.test_reads import FULL, RECORDS

pytestmark = pytest.mark.skipif(bool(why_not()), reason=why_not())
DAY = date(2026, 3, 2)
MORNING = datetime(2026, 3, 2, 8, tzinfo=UTC)
Read = Callable[[Connection], object]


class Both(NamedTuple):
    """One register on each database."""

    here: Engine
    there: Engine

    def answers(self, read: Read) -> tuple[object, object]:
        """What each answers, and nothing is kept."""
        found = []
        for engine in self:
            with engine.connect() as connection:
                if engine is self.here:
                    begin(connection, WRITING)
                found.append(read(connection))
                roll_back(connection)
        return found[0], found[1]


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Both]:
    """The demo's register, and its rows as they stand in a server made for this."""
    path = tmp_path_factory.mktemp("demo") / "demo.cuffdate"
    build(demo_folder(), path)
    _entered(path)
    with server() as address:
        made = Both(make_engine(path), create_engine(address, paramstyle="format"))
        METADATA.create_all(made.there)
        with made.here.connect() as here, made.there.begin() as there:
            for table in METADATA.sorted_tables:
                rows = [row._asdict() for row in here.execute(select(table))]
                if rows:
                    there.execute(insert(table), rows)
        yield made
        for engine in made:
            engine.dispose()


def _entered(path: Path) -> None:
    """What the demo has none of: a piece that is out, a figure confirmed in print, a name that may be erased."""
    store = open_store(path)
    with store.writing() as connection:
        row = _decided(connection, "may-be-issued")
        decided, code = Name(row.book, row.entry), row.kit[0]
        with _written(connection) as unit:
            unit.add(row.book, "record", code, record_row(code, Issue(on=Day.of(DAY)), of=decided))
            key = f"{site_rules.OF_A_FIGURE}us-osha-137/current/1/360"
            rule = {"key": key, "revision": 1, "value": '"2026-03-02"', "approved_by": "P01", "reason": "own copy"}
            unit.add("site", "site_rule", key, rule)
        kept = {"piece": code, "book": row.book, "entry": row.entry, "person": row.person, "until_day": "2026-03-02"}
        put.put_out(connection, [kept])
        people.keep_name(connection, "P01", "a name", b"salt")
    store.close()


def _codes(connection: Connection) -> list[str]:
    return pieces.all_codes(connection)


def _decided(connection: Connection, word: str) -> Any:  # a row of the library
    row = connection.execute(select(DECISION).where(DECISION.c.decision == word).order_by(DECISION.c.entry)).first()
    assert row is not None
    return row


def _name(connection: Connection) -> Name:
    row = _decided(connection, "may-be-issued")
    return Name(row.book, row.entry)


def _entry(connection: Connection) -> Name:
    row = connection.execute(select(RECORD.c.book, RECORD.c.entry).where(RECORD.c.what == "electrical-test")).first()
    assert row is not None
    return Name(row.book, row.entry)


def _circuit(connection: Connection, ask: Callable[[str, str], object]) -> object:
    row = _decided(connection, "may-be-issued")
    return ask(row.system, row.circuits[0])


def _of_each(connection: Connection, ask: Callable[[Connection, str], object], asked: list[str]) -> list[object]:
    return [ask(connection, one) for one in asked]


#: question -> how it is asked once of the demo's register
ASKED: dict[Callable[..., Any], Read] = {
    due.shelf_rows: lambda c: [due.shelf_rows(c), due.shelf_rows(c, register.cribs(c)[0])],
    due.overdue_rows: lambda c: [due.overdue_rows(c, DAY), due.overdue_rows(c, DAY, 3)],
    due.due_rows: lambda c: [due.due_rows(c, DAY), due.due_rows(c, DAY, 3)],
    due.candidates: lambda c: due.candidates(c, ["rubber-gloves", "multimeter"], DAY, 5),
    given.given_out: lambda c: {code: given.given_out(c, code) for code in _codes(c)},
    last_tests.last_tests: last_tests.last_tests,
    lines.lines_about: lambda c: _of_each(c, lines.lines_about, [*_codes(c), *lines.subjects(c)]),
    lines.line: lambda c: lines.line(c, _name(c)),
    lines.books_with: lambda c: lines.books_with(c, 3),
    lines.heads: lines.heads,
    lines.subjects: lines.subjects,
    lines.last_entry: lambda c: lines.last_entry(c, "P01"),
    names.pieces_meant: lambda c: _of_each(c, names.pieces_meant, ["g001", "nothing", *names._bags(c), *names._labels(c)]),
    names.piece_meant: lambda c: names.piece_meant(c, "g001"),
    names.bag_named: lambda c: _of_each(c, names.bag_named, ["nothing", *names._bags(c)]),
    names.alias_revision: lambda c: _of_each(c, names.alias_revision, ["nothing", *names._labels(c)]),
    names.nearest_code: lambda c: names.nearest_code(c, "G0001"),
    names.taken_codes: lambda c: names.taken_codes(c, ["g001", "nothing", *names._labels(c)]),
    names.cribs_of: lambda c: names.cribs_of(c, ["g001", "nothing", *names._labels(c), *names._bags(c)]),
    names.labels_of: lambda c: _of_each(c, names.labels_of, _codes(c)),
    out.out_now: lambda c: [out.out_now(c), out.out_now(c, ["G001"])],
    out.open_issues: lambda c: _circuit(c, lambda system, key: out.open_issues(c, system, [key])),
    out.decision: lambda c: out.decision(c, _name(c)),
    out.refusals_of: lambda c: out.refusals_of(c, (row := _decided(c, "refused")).person, row.on_day),
    out.out_kept: out.out_kept,
    out.out_worked_out: out.out_worked_out,
    pieces.pieces: lambda c: pieces.pieces(c, _codes(c)),
    pieces.entry: lambda c: pieces.entry(c, _entry(c)),
    pieces.all_codes: lambda c: [pieces.all_codes(c), pieces.all_codes(c, register.cribs(c)[0])],
    pieces.newest_pieces: pieces.newest_pieces,
    register.depot_without_kit: register.depot_without_kit,
    register.people_kept: lambda c: [register.people_kept(c), register.people_kept(c, ["P01"])],
    register.newest_revision: lambda c: [
        register.newest_revision(c, "person", code="P01"), register.newest_revision(c, "site_rule", key="demo_day"),
        _circuit(c, lambda system, key: register.newest_revision(c, "circuit", system=system, key=key)),
    ],
    register.role_words: register.role_words,
    register.names_kept: register.names_kept,
    register.systems_kept: register.systems_kept,
    register.cribs: register.cribs,
    shelf.shelved: lambda c: [list(shelf.shelved(c)), list(shelf.shelved(c, 7))],
    shelf.cribs_there: shelf.cribs_there,
    shelf.how_many: shelf.how_many,
    site_rules.confirmations: site_rules.confirmations,
    site_rules.site_rules_kept: site_rules.site_rules_kept,
    site_rules.site_table: site_rules.site_table,
    site_rules.depot_rules: site_rules.depot_rules,
    statuses.statuses_kept: statuses.statuses_kept,
    derived.digest_kept: derived.digest_kept,
    verify.books: verify.books,
}  # fmt: skip


@pytest.mark.parametrize("question", ASKED, ids=lambda question: question.__name__)
def test_a_question_answers_alike(question: Callable[..., Any], both: Both) -> None:
    here, there = both.answers(ASKED[question])
    assert here == there
    assert here


def test_no_question_is_left_out() -> None:
    modules = [import_module(f"{room.__name__}.{module.name}") for module in pkgutil.iter_modules(room.__path__)]
    questions = {
        value for module in modules for name, value in inspect.getmembers(module, inspect.isfunction)
        if not name.startswith("_") and value.__module__ == module.__name__
        and next(iter(inspect.signature(value).parameters), "") == "connection"
    }  # fmt: skip
    assert {question.__name__ for question in questions - set(ASKED)} == set()


def test_lines_and_rows_are_whole_there_too(both: Both) -> None:
    for looks in (verify.chain_damage, verify.row_damage):
        here, there = both.answers(lambda connection, looks=looks: list(looks(lambda read: read(connection))))  # type: ignore[misc]
        assert (here, there) == ([], [])


@contextmanager
def _written(connection: Connection) -> Iterator[Unit]:
    unit = Unit(connection, "P01", MORNING, {"main", *verify.books(connection)})
    yield unit
    unit.flush()


def _writes(connection: Connection) -> dict[str, list[tuple[Any, ...]]]:
    """Everything a unit can write, and what then stands in the tables it went to."""
    code = FULL.code
    with _written(connection) as unit:
        unit.add("main", "piece", code, piece_row(FULL, "main", 1))
        put.put_statuses(connection, [put.new_piece(FULL, "main", 1)])
        for record in RECORDS:
            unit.add("main", "record", code, record_row(code, record, of=Name("main", 1)))
    depot = site_rules.depot_rules(connection)
    put.stand_anew(connection, [code], depot.site, rule_sets_of(depot))
    put.put_statuses(connection, [put.new_piece(Piece(code="other", kind="multimeter"), "main", 1)])
    name = unit.names[-1]
    kept: dict[str, Stored] = {
        "piece": code,
        "book": name.book,
        "entry": name.number,
        "person": "P01",
        "until_day": None,
    }
    put.put_out(connection, [kept, {**kept, "piece": "other", "until_day": "2026-03-04"}])
    put.take_back(connection, ["other"])
    put.keep_digest(connection, "another")
    people.keep_name(connection, "P01", "another name", b"salt")
    tables = {**METADATA.tables, "record": RECORD}
    return {
        name: [tuple(row) for row in connection.execute(select(table).order_by(*table.primary_key.columns))]
        for name, table in tables.items()
    }


def test_what_a_unit_writes_stands_there_alike(both: Both) -> None:
    here, there = both.answers(_writes)
    assert here == there
    assert isinstance(here, dict)
    assert [row[0] for row in here["out_now"] if row[0] in (FULL.code, "other")] == [FULL.code]
    assert ("rules-digest", "another") in here["derived"]


def test_a_check_alone_is_put_alike(both: Both) -> None:
    def checked(connection: Connection) -> list[tuple[Any, ...]]:
        put._PUT_CHECKED.each(connection, [("2026-03-02", None, "G001"), (None, "why", "G002")])
        asked = select(STATUS.c.piece, STATUS.c.checked_on, STATUS.c.unchecked).where(STATUS.c.piece <= "G003")
        return [tuple(row) for row in connection.execute(asked.order_by(STATUS.c.piece))]

    here, there = both.answers(checked)
    assert here == there
    assert {("G001", DAY, None), ("G002", None, "why")} <= set(here)  # type: ignore[call-overload]


def test_packed_columns_keep_a_null_in_its_place(both: Both) -> None:
    nothing = func.nullif(OUT_NOW.c.person, OUT_NOW.c.person)
    some = Question(select(packed([nothing, OUT_NOW.c.entry, nothing])))
    here, there = both.answers(lambda connection: [pieces._UNPACKED(row[0]) for row in some.rows(connection)])
    assert here == there
    assert isinstance(here, list)
    assert [(values[0], type(values[1]), values[2]) for values in here] == [(None, int, None)]
    assert both.answers(Question(select(packed([nothing]).label("none")).select_from(OUT_NOW)).rows) == ([(None,)],) * 2


def test_a_line_out_of_its_place_is_seen_on_both(both: Both) -> None:
    def cut(connection: Connection) -> list[str]:
        last = select(func.max(JOURNAL.c.number)).where(JOURNAL.c.book == "site").scalar_subquery()
        row = connection.execute(select(JOURNAL).where(JOURNAL.c.book == "site", JOURNAL.c.number == last)).one()
        beyond = {**row._asdict(), "number": row.number + 2}
        connection.execute(insert(JOURNAL), [beyond])
        return [damage.says for damage in verify.chain_damage(lambda read: read(connection))]

    there = both.answers(lambda connection: cut(connection) if connection.dialect.name == "postgresql" else [])[1]
    assert there
