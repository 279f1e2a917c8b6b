"""The store's figures: each question and each write against raw sqlite3 doing the same on the same kind of file.

A floor does nothing but the statements: what it writes was made beforehand, what it reads it throws away. A figure
without a budget is told all the same, so that nobody takes the disk's share or the judging's share for the program's.
"""

from __future__ import annotations

import sqlite3
import statistics
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, TypeVar

from app.domain.piece import Piece
from app.store.engine import prepare
from app.store.reads.due import ShelfRow, overdue_rows
from app.store.reads.pieces import pieces
from app.store.unit import shape
from app.store.verify import SLICE, chain_damage, row_damage
from app.store.writes.standings import COLUMNS
from app.usecases.add_piece import put_pieces
from app.usecases.desk import Desk
from app.usecases.log_check import log_check
from tests.bench.figures import Figure, in_turn
from tests.bench.store_files import (
    BY,
    CRIB,
    FIRST_AFTER,
    MORNING,
    copy_of,
    desk_at,
    make_register,
    some_pieces,
)

T = TypeVar("T")
Row = tuple[Any, ...]
SIZES = (1_000, 10_000)
DAY = MORNING.date()
_JOURNAL = ("book", "number", "at", "actor", "kind", "subject", "revision", "content", "previous", "hash")


def store_figures(sizes: Sequence[int]) -> Iterator[Figure]:
    """Every figure of the store for registers of these many pieces."""
    for size in sizes:
        with TemporaryDirectory() as folder:
            path = Path(folder) / "register"
            make_register(path, size)
            for measure in (check_recorded, overdue, piece_as_value, verified, bulk_load):
                yield from measure(path, size)
