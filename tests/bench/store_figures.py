"""The store's figures: each question and each write against raw sqlite3 doing the same on a register of the same bytes.

A floor does nothing but the statements: what it writes was made beforehand, what it reads it throws away. A figure
without a budget is told all the same, so that nobody takes the disk's share or the judging's share for the program's.
"""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import closing
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import Any

from app.decision.domain.piece import Piece
from app.register.engine import Connection, prepare
from app.register.reads.due import overdue_rows
from app.register.reads.pieces import pieces
from app.register.reads.shelf import ShelfRow
from app.register.tables import STATUS
from app.register.unit import Unit, shape
from app.register.verify import SLICE, Damage, chain_damage, row_damage
from app.usecases.add_piece import put_pieces
from app.usecases.books import of_crib
from app.usecases.desk import Desk
from app.usecases.log_check import log_check
from tests.bench.figures import Figure, in_turn
from tests.bench.store_files import BY, CRIB, DAY, SHELF, code_of, copy_of, desk_at, make_register, some_pieces
from tests.fakes import MORNING

SIZES = (1_000, 10_000)
CHECKS = 80
LOADS, LOADED = 11, 500
AIR_TEST = {"left": "passed", "right": "passed", "inflation": 1.2}
HOLE = {"left": "passed", "right": "failed", "inflation": 1.2, "defects": ["hole"]}
Ask = Callable[[Callable[[Connection], object]], object]
Made = dict[str, list[tuple[Any, ...]]]
_OVERDUE = (
    f"SELECT {', '.join(f's.{name}' for name in ShelfRow._fields)} FROM status AS s "
    "JOIN piece AS p ON p.code = s.piece AND p.revision = s.revision "
    "WHERE s.state = 'ready' AND s.due_on <= ? ORDER BY s.due_on, s.piece"
)
_PIECE = "SELECT p.*, s.crib FROM status AS s JOIN piece AS p ON p.code = s.piece AND p.revision = s.revision"


def store_figures(sizes: Iterable[int]) -> Iterator[Figure]:
    """Every figure of the store for registers of these many pieces."""
    for size in sizes:
        with TemporaryDirectory() as folder:
            path = Path(folder) / "register"
            make_register(path, size)
            for measure in (checks_recorded, overdue, piece_as_value, bulk_load, verified):
                for one in measure(path, size):
                    yield one._replace(name=f"{one.name}, {size:,} pieces")


def raw_on(path: Path, *, is_durable: bool = True) -> sqlite3.Connection:
    """The driver alone, with the settings every register has."""
    connection = sqlite3.connect(path, isolation_level=None)
    prepare(connection, is_durable=is_durable)
    return connection


def checks_recorded(path: Path, size: int) -> Iterator[Figure]:
    """One air test from the use case to the file, against its line, row and standing written by the driver alone."""
    gloves = [number for number in range(size) if SHELF[number % len(SHELF)].kind == "rubber-gloves"]
    codes = [code_of(number) for number in gloves[:: len(gloves) // CHECKS][:CHECKS]]
    floor = "raw line, row and standing"
    yield Figure("one check recorded", floor, *_checks_timed(path, codes, AIR_TEST), 1.6)
    # What finds something is judged whole, what finds nothing is not: told apart, so that neither hides the other.
    yield Figure("one check that found a hole recorded", floor, *_checks_timed(path, codes, HOLE), None)
    seconds = _checks_timed(path, codes, AIR_TEST, is_durable=False)
    yield Figure("one check recorded, not waiting for the disk", floor, *seconds, None)


def _checks_timed(
    path: Path, codes: list[str], said: Mapping[str, object], *, is_durable: bool = True
) -> tuple[float, float]:
    ours, floor = copy_of(path, "ours"), copy_of(path, "floor")
    desk = desk_at(ours, is_durable=is_durable)
    with closing(desk.store), closing(raw_on(ours)) as seen, closing(raw_on(floor, is_durable=is_durable)) as raw:
        return _each(
            codes,
            lambda code: log_check(desk, BY, "air-test", code, said),
            lambda code: _made(seen, _last(seen) - 1, [code]),
            lambda made: _put(raw, made),
        )


def _each(
    subjects: Iterable[Any], act: Callable[[Any], object], made: Callable[[Any], Made], floor: Callable[[Made], object]
) -> tuple[float, float]:
    """Medians in seconds of acts and of the floors that write what each made, taken in turn."""
    timed: tuple[list[float], list[float]] = ([], [])
    for subject in subjects:
        timed[0].append(_seconds(act, subject))
        timed[1].append(_seconds(floor, made(subject)))
    return median(timed[0]), median(timed[1])


def _seconds(act: Callable[[Any], object], subject: object) -> float:
    began = time.perf_counter()
    act(subject)
    return time.perf_counter() - began


def _last(seen: sqlite3.Connection) -> int:
    return int(seen.execute("SELECT max(number) FROM journal WHERE book = ?", (CRIB,)).fetchone()[0])


def _made(seen: sqlite3.Connection, before: int, codes: list[str]) -> Made:
    """What stands in the crib's book after that line, with its rows and these pieces' standings, as stored."""
    found: Made = {
        "journal": seen.execute("SELECT * FROM journal WHERE book = ? AND number > ?", (CRIB, before)).fetchall()
    }
    for table in ("piece", "record"):
        found[table] = seen.execute(
            f"SELECT * FROM {table} WHERE book = ? AND entry > ?", (CRIB, before)
        ).fetchall()  # fmt: skip
    found["status"] = [
        seen.execute(f"SELECT {', '.join(STATUS.columns.keys())} FROM status WHERE piece = ?", (code,)).fetchone()
        for code in codes
    ]  # fmt: skip
    return found


def _insert(table: str, columns: Iterable[str]) -> str:
    quoted = [f'"{name}"' for name in columns]
    return f'INSERT INTO "{table}" ({", ".join(quoted)}) VALUES ({", ".join("?" * len(quoted))})'


def _upsert() -> str:
    names = STATUS.columns.keys()
    replaced = ", ".join(f"{name} = excluded.{name}" for name in names if name != "piece")
    return f"{_insert('status', names)} ON CONFLICT (piece) DO UPDATE SET {replaced}"


def _put(raw: sqlite3.Connection, made: Made) -> None:
    raw.execute("BEGIN IMMEDIATE")
    for table in ("journal", "piece", "record"):
        if made[table]:
            raw.executemany(_insert(table, shape(table).columns), made[table])
    raw.executemany(_upsert(), made["status"])
    raw.execute("COMMIT")


def overdue(path: Path, size: int) -> Iterator[Figure]:
    """The overdue list through the store, whole and its first 200, against a raw join of standing and piece."""
    loops, floor = max(1, 10_000 // size), "raw join of standing and piece"
    yield Figure("overdue list", floor, *_overdue_timed(path, None, _OVERDUE, loops), 2)
    yield Figure("first 200 overdue", floor, *_overdue_timed(path, 200, f"{_OVERDUE} LIMIT 200", loops), 1.5)


def _overdue_timed(path: Path, most: int | None, statement: str, loops: int) -> tuple[float, float]:
    desk = desk_at(path)
    with closing(desk.store), closing(raw_on(path)) as raw:
        return in_turn(
            lambda: desk.ask(lambda connection: overdue_rows(connection, DAY, most)),
            lambda: raw.execute(statement, (DAY.isoformat(),)).fetchall(),
            runs=25,
            loops=loops,
        )


def piece_as_value(path: Path, size: int) -> Iterator[Figure]:
    """A piece and its twenty records as a value, one question a piece, against fetching the same rows."""
    codes = [code_of(number) for number in range(0, size, size // 100)]
    desk = desk_at(path)
    with closing(desk.store), closing(raw_on(path)) as raw:

        def ours() -> None:
            for code in codes:
                desk.ask(lambda connection: pieces(connection, [code]))  # noqa: B023  # asked before the next code

        def floor() -> None:
            for code in codes:
                raw.execute(f"{_PIECE} WHERE s.piece = ?", (code,)).fetchall()
                raw.execute("SELECT * FROM record WHERE piece = ? ORDER BY book, entry", (code,)).fetchall()

        seconds = in_turn(ours, floor, runs=25)
        yield Figure("piece with 20 records as a value", "raw fetch of its rows", *seconds, 3)


def bulk_load(path: Path, size: int) -> Iterator[Figure]:
    """New pieces with their records in one transaction: rows and lines alone, then with every standing judged."""
    loads = [list(some_pieces(LOADED, size + number * LOADED)) for number in range(LOADS)]
    name, floor = f"bulk load of {LOADED} pieces", "raw executemany of the same rows, lines and standings"
    yield Figure(f"{name}, not judged", floor, *_loads_timed(path, loads, _rows_and_lines), 1.5)
    yield Figure(f"{name}, standings judged", floor, *_loads_timed(path, loads, _whole), None)


def _loads_timed(
    path: Path, loads: list[list[Piece]], load: Callable[[Desk, list[Piece]], None]
) -> tuple[float, float]:
    ours, floor = copy_of(path, "ours"), copy_of(path, "floor")
    desk = desk_at(ours)
    with closing(desk.store), closing(raw_on(ours)) as seen, closing(raw_on(floor)) as raw:
        return _each(
            loads,
            lambda added: load(desk, added),
            lambda added: _made(seen, _before(seen, added), [piece.code for piece in added]),
            lambda made: _put(raw, made),
        )


def _rows_and_lines(desk: Desk, added: list[Piece]) -> None:
    # The unit by itself, without the desk that judges when a unit ends: what is written is the rest of the load.
    with desk.store.writing() as connection:
        unit = Unit(connection, BY, MORNING, [CRIB])
        put_pieces(desk, unit, [(piece, CRIB) for piece in added])
        unit.flush()


def _whole(desk: Desk, added: list[Piece]) -> None:
    with desk.write(BY, books=of_crib(CRIB)) as unit:
        put_pieces(desk, unit, [(piece, CRIB) for piece in added])


def _before(seen: sqlite3.Connection, added: list[Piece]) -> int:
    first = seen.execute("SELECT entry FROM piece WHERE code = ?", (added[0].code,)).fetchone()
    return int(first[0]) - 1


def verified(path: Path, size: int) -> Iterator[Figure]:
    """Every line's hash and number, then every row against its line; both against reading the lines in slices."""
    floor = "raw reading of the lines in slices"
    yield Figure("chain verified", floor, *_looks_timed(path, chain_damage, max(3, 20_000 // size)), 2.2)
    seconds = _looks_timed(path, row_damage, max(1, 5_000 // size))
    yield Figure("rows held against their lines", floor, *seconds, None)


def _looks_timed(path: Path, look: Callable[[Ask], Iterator[Damage]], runs: int) -> tuple[float, float]:
    desk = desk_at(path)
    with closing(desk.store), closing(raw_on(path)) as raw:
        return in_turn(lambda: _whole_or_fail(list(look(desk.ask))), lambda: _read_lines(raw), runs=runs)


def _whole_or_fail(damage: list[Damage]) -> None:
    if damage:
        raise ValueError(damage[:3])


def _read_lines(raw: sqlite3.Connection) -> None:
    for (book,) in raw.execute("SELECT DISTINCT book FROM journal ORDER BY book").fetchall():
        number = 0
        while True:
            raw.execute("BEGIN")
            lines = raw.execute(
                "SELECT number, at, actor, kind, subject, revision, content, previous, hash FROM journal "
                f"WHERE book = ? AND number > ? ORDER BY number LIMIT {SLICE}",
                (book, number),
            ).fetchall()
            raw.execute("ROLLBACK")
            if not lines:
                break
            number = lines[-1][0]
