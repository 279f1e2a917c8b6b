"""Something changed the register behind its guards: verification names the table and the place."""

from __future__ import annotations

import random
import sqlite3
from collections import Counter
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import UTC
from pathlib import Path

import pytest

from app.decision.domain.errors import CuffdateError
from app.register.engine import open_store
from app.register.reads.lines import heads
from app.register.tables import JOURNALED
from app.usecases.add_alias import add_alias
from app.usecases.add_person import add_person
from app.usecases.desk import Desk
from app.usecases.make_bag import make_bag
from app.usecases.take_stock import take_stock
from tests.fakes import FixedClock
from tests.faults.acts import LATER, Worker, one_act, silently
from tests.faults.checks import contents, copied, verified

DERIVED = ("status", "out_now", "derived")
TABLES = ("journal", *JOURNALED, "person_name", *DERIVED, "alembic_version")
_NAMED = {"alembic_version": "schema"}


def fill(path: Path) -> None:
    """More entries in a register of two cribs, until every table has rows."""
    worker = Worker(path, FixedClock(LATER), tell=silently)
    desk = worker.desk
    add_person(desk, "P0", {"code": "P3", "name": "Somebody Invented", "scopes": ["isolate"]})
    add_alias(desk, "P0", "OLD-7", "K1")
    make_bag(desk, "P0", "BAG1", ["B1", "K1"])
    for name in ("log", "issue", "transfer", "hold"):
        assert worker.do(one_act(worker, name)) == "done", name
    take_stock(desk, "P0", ["L2"], "annex")
    desk.store.close()


@pytest.fixture(scope="module")
def full(made: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A register with rows in every table."""
    path = copied(made, tmp_path_factory.mktemp("full"))
    fill(path)
    return path


@contextmanager
def opened(path: Path) -> Iterator[Desk]:
    """A desk on the register, closed whatever comes."""
    store = open_store(path)
    try:
        yield Desk(store, FixedClock(), UTC)
    finally:
        store.close()


@contextmanager
def behind(path: Path) -> Iterator[sqlite3.Connection]:
    """A connection that no guard holds; the guards are put back exactly as they were."""
    with closing(sqlite3.connect(path, isolation_level=None)) as raw:
        guards = raw.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        raw.execute("PRAGMA ignore_check_constraints=ON")
        raw.execute("PRAGMA synchronous=OFF")
        raw.execute("BEGIN")
        for name, _ in guards:
            raw.execute(f'DROP TRIGGER "{name}"')
        yield raw
        for _, sql in guards:
            raw.execute(sql)
        raw.execute("COMMIT")


def other(value: object, declared: str) -> object:
    """Another value of the column's type."""
    if isinstance(value, int):
        return value + 1_000
    if isinstance(value, bytes):
        return bytes([value[0] ^ 1]) + value[1:]
    if isinstance(value, str):
        return f"{value}x"
    return {"INTEGER": 1, "TEXT": "x", "BLOB": b"x"}[declared]


def changes(raw: sqlite3.Connection, table: str) -> Iterator[tuple[str, int, object, object]]:
    """Column, row, value as it is and another: for every column a row that has a value and one that has none."""
    for _, column, declared, needed, _, _ in raw.execute(f'PRAGMA table_info("{table}")').fetchall():
        for what in ("IS NOT NULL", "IS NULL"):
            row = raw.execute(f'SELECT rowid, "{column}" FROM "{table}" WHERE "{column}" {what} LIMIT 1').fetchone()
            if row is None:
                continue
            yield column, row[0], row[1], other(row[1], "TEXT" if declared.startswith("VARCHAR") else declared)
            if row[1] is not None and not needed:
                yield column, row[0], row[1], None


def places(raw: sqlite3.Connection, table: str, row: int) -> set[str]:
    """The places a row may be named by."""
    names = [one[1] for one in raw.execute(f'PRAGMA table_info("{table}")')]
    found = raw.execute(f'SELECT * FROM "{table}" WHERE rowid = ?', (row,)).fetchone()
    if "book" in names and table not in DERIVED:
        return {f"{found[0]}:{found[1]}"}
    return {"", str(found[0])}


def unnamed(path: Path, table: str) -> tuple[list[str], int]:
    """Changed values that verification does not name, and how many were changed."""
    with closing(sqlite3.connect(path)) as raw:
        wanted = list(changes(raw, table))
    # Opened first: opening a register works its derived tables out anew where they were made under other rules.
    with opened(path) as desk:
        assert verified(desk) == ()
        missed = [one for change in wanted for one in _missed(desk, path, table, *change)]
        assert verified(desk) == ()
    return missed, len(wanted)


def _missed(desk: Desk, path: Path, table: str, column: str, row: int, value: object, another: object) -> Iterator[str]:
    change = f'UPDATE "{table}" SET "{column}" = ? WHERE rowid = ?'
    with behind(path) as raw:
        at = places(raw, table, row)
        raw.execute(change, (another, row))
        at |= places(raw, table, row)
    try:
        named = [(one.table, one.place) for one in verified(desk)]
    except Exception as fault:  # noqa: BLE001  # which of them is what the test tells
        named = [(f"{type(fault).__name__} {fault}", "")]
    if not any(one == _NAMED.get(table, table) and where in at for one, where in named):
        yield f"{table}.{column} {value!r} -> {another!r}: {named}"
    with behind(path) as raw:
        raw.execute(change, (value, row))


@pytest.mark.parametrize("table", TABLES)
def test_a_changed_value_of_any_column_is_named(table: str, full: Path, place: Path) -> None:
    """I3 I4: with its table and place."""
    missed, count = unnamed(copied(full, place), table)
    assert missed == []
    assert count > 0


def test_a_standing_of_a_revision_that_is_not_there_is_named(full: Path, place: Path) -> None:
    """I3 I7."""
    path = copied(full, place)
    with opened(path) as desk:
        with behind(path) as raw:
            raw.execute("UPDATE status SET revision = revision + 1000 WHERE piece = 'G1'")
        assert ("status", "G1") in {(one.table, one.place) for one in verified(desk)}


def test_every_table_is_looked_at(full: Path) -> None:
    with closing(sqlite3.connect(full)) as raw:
        there = {name for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        assert {name for name in there if not name.startswith("sqlite_")} == set(TABLES)
        assert all(raw.execute(f'SELECT 1 FROM "{name}" LIMIT 1').fetchone() for name in TABLES)


def test_a_lost_guard_is_named(full: Path, place: Path) -> None:
    """I3."""
    path = copied(full, place)
    with opened(path) as desk, closing(sqlite3.connect(path)) as raw:
        raw.execute("PRAGMA synchronous=OFF")
        guards = raw.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        assert len(guards) == 2 * (1 + len(JOURNALED)) + 1
        for name, sql in guards:
            raw.execute(f'DROP TRIGGER "{name}"')
            assert [one.table for one in verified(desk)] == ["schema"], name
            raw.execute(sql)
        assert verified(desk) == ()


def test_a_row_taken_out_or_put_in_is_named(full: Path, place: Path) -> None:
    """I1 I4: a record without its line, a line without its record, a piece out without an entry."""
    for number, (statement, table) in enumerate(
        (
            ("DELETE FROM record WHERE rowid = (SELECT max(rowid) FROM record)", "record"),
            ("DELETE FROM journal WHERE book = 'main' AND number = 3", "journal"),
            ("DELETE FROM out_now WHERE piece = 'G1'", "out_now"),
            ("INSERT INTO out_now VALUES ('K1', 'main', 1, 'P1', NULL)", "out_now"),
            ("DELETE FROM status WHERE piece = 'G2'", "status"),
        )
    ):
        path = copied(full, place / str(number))
        with opened(path) as desk:
            with behind(path) as raw:
                assert raw.execute(statement).rowcount == 1
            assert table in {one.table for one in verified(desk)}, statement


def test_a_lost_tail_shows_by_its_anchor_alone(full: Path, place: Path) -> None:
    """I4: what is left of a shortened chain is a whole chain; the anchor on a print says that there was more."""
    path = copied(full, place)
    with opened(path) as desk:
        printed = desk.ask(heads)["annex"].anchor
        with behind(path) as raw:
            last = raw.execute("SELECT max(number) FROM journal WHERE book = 'annex'").fetchone()[0]
            for table, column in (("stocktake", "entry"), ("journal", "number")):
                lost = raw.execute(f"DELETE FROM {table} WHERE book = 'annex' AND {column} = ?", (last,))
                assert lost.rowcount == 1
        assert verified(desk) == ()
        left = desk.ask(heads)["annex"].anchor
    assert left != printed
    assert int(left.split()[0]) == int(printed.split()[0]) - 1


def flipped(path: Path, rng: random.Random) -> str:
    """Flip a bit of a byte; answers where."""
    content = bytearray(path.read_bytes())
    at, bit = rng.randrange(len(content)), 1 << rng.randrange(8)
    # Most of a small register is free space: half of the flips strike where something stands.
    while rng.random() < 0.5 and not content[at]:
        at = rng.randrange(len(content))
    content[at] ^= bit
    path.write_bytes(content)
    return f"byte {at} bit {bit}"


def what_came_of(path: Path, before: dict[str, list[tuple[object, ...]]]) -> str:
    """Named, refused with words, or nothing changed of what is read; anything else is a fault of ours."""
    try:
        with opened(path) as desk:
            found = verified(desk)
    except CuffdateError as no:
        return f"refused: {no.key}"
    if found:
        return "named"
    return "nothing changed that is read" if contents(path) == before else "UNNOTICED"


def flips(full: Path, place: Path, count: int, seed: int) -> tuple[Counter[str], list[str]]:
    """So many registers with one flipped bit each: what came of them, and what must not come."""
    rng, seen, wrong = random.Random(seed), Counter[str](), list[str]()
    before = contents(full)
    path = place / "r.cuffdate"
    for _ in range(count):
        where = flipped(copied(full, place), rng)
        try:
            what = what_came_of(path, before)
        except Exception as fault:  # noqa: BLE001  # which of them is what the test tells
            what = f"ERROR {type(fault).__name__} {fault}"
        seen[what if not what.startswith("ERROR") else "ERROR"] += 1
        if what == "UNNOTICED" or what.startswith("ERROR") or what == "refused: store.unknown":
            wrong.append(f"{where}: {what}")
    return seen, wrong


@pytest.mark.parametrize(("count", "seed"), [(40, 5), pytest.param(3000, 6, marks=pytest.mark.long)])
def test_flipped_bits(count: int, seed: int, full: Path, place: Path) -> None:
    """I3 I6 I7: named, refused with words, or without any effect."""
    seen, wrong = flips(full, place, count, seed)
    assert wrong == []
    assert seen["named"] > 0
