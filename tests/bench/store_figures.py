"""The store's figures: each question and each write against raw sqlite3 doing the same on a register of the same bytes.

A floor does nothing but the statements: what it writes was made beforehand, what it reads it throws away. A figure
without a budget is told all the same, so that nobody takes the disk's share or the judging's share for the program's.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from app.store.engine import prepare
from app.store.reads.due import ShelfRow, overdue_rows
from app.store.reads.pieces import pieces
from app.store.unit import shape
from app.store.verify import SLICE, chain_damage, row_damage
from app.store.writes.standings import COLUMNS, standing_upsert
from app.usecases.add_piece import put_pieces
from app.usecases.desk import Desk
from app.usecases.log_check import log_check
from tests.bench.figures import Figure, in_turn, paired
from tests.bench.store_files import AIR_TEST, BY, CRIB, DAY, code_of, copy_of, desk_at, make_register, some_pieces

SIZES = (1_000, 10_000)
CHECKS = 60
LOADED = 500
Rows = list[tuple[Any, ...]]


def store_figures(sizes: Iterable[int]) -> Iterator[Figure]:
    """Every figure of the store for registers of these many pieces."""
    for size in sizes:
        with TemporaryDirectory() as folder:
            path = Path(folder) / "register"
            make_register(path, size)
            for measure in (check_recorded, overdue, piece_as_value, bulk_load, verified):
                yield from measure(path, size)


def raw_on(path: Path, *, is_durable: bool = True) -> sqlite3.Connection:
    """The driver alone, with the settings of every register."""
    connection = sqlite3.connect(path, isolation_level=None)
    prepare(connection, is_durable=is_durable)
    return connection


def check_recorded(path: Path, size: int) -> Iterator[Figure]:
    """One air test from the use case to the file, against its line, row and standing written by the driver alone."""
    for is_durable in (True, False):
        ours, floor = copy_of(path, "ours"), copy_of(path, "floor")
        desk = desk_at(ours, is_durable=is_durable)
        with closing(desk.store), closing(raw_on(ours)) as seen, closing(raw_on(floor, is_durable=is_durable)) as raw:
            codes = [code_of(number * size // CHECKS // 10 * 10) for number in range(CHECKS)]
            seconds = paired(
                [
                    (lambda code=code: log_check(desk, BY, "air-test", code, AIR_TEST), lambda code=code: _made(seen, code), lambda made: _put(raw, made))
                    for code in codes
                ]
            )
        name = "one check recorded" if is_durable else "one check recorded, not waiting for the disk"
        yield Figure(f"{name}, {size:,} pieces", "raw line, row and standing", *seconds, 1.6 if is_durable else None)
