"""Sorting and filtering 100,000 rows of the window's model, against `sorted()` and a list comprehension on them."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from PySide6.QtCore import Qt

from app.window.rows_model import Column, RowsModel
from tests.bench.figures import Figure, in_turn

ROWS = 100_000
Row = tuple[str, str, int]


def row_figures() -> Iterator[Figure]:
    """Sort by words, sort by a figure, filter by a word, filter by two."""
    rows: tuple[Row, ...] = tuple(
        (
            f"X{number * 7919 % ROWS:06d}",
            f"rubber insulating gloves class {number % 5} crib {number % 11}",
            number % 997,
        )
        for number in range(ROWS)
    )
    model: RowsModel[Row] = RowsModel(
        (
            Column("Code", lambda row: row[0]),
            Column("Due", lambda row: str(row[2]), lambda row: row[2], is_figure=True),
        ),
        lambda row: row[0],
        lambda row: f"{row[0]} {row[1]}",
    )
    model.set_rows(rows)
    texts = [f"{row[0]} {row[1]}".casefold() for row in rows]
    for column, name in ((0, "words"), (1, "figures")):
        seconds = in_turn(partial(_sorted, model, column), partial(_floor, rows, column), runs=7)
        yield Figure(f"sort of {ROWS:,} rows by {name}", "sorted() with the same key", *seconds, 3)
    model.sort(-1)
    for words in ("class 3", "x0012"):
        seconds = in_turn(
            lambda words=words: model.set_filter(words),  # type: ignore[misc]
            lambda words=words: [row for row, text in zip(rows, texts, strict=True) if words in text],  # type: ignore[misc]
            runs=7,
        )
        model.set_filter("")
        yield Figure(f'filter of {ROWS:,} rows by "{words}"', "a list comprehension on the same rows", *seconds, 3)


def _sorted(model: RowsModel[Row], column: int) -> None:
    model.sort(-1)
    model.sort(column, Qt.SortOrder.AscendingOrder)


def _floor(rows: tuple[Row, ...], column: int) -> list[Row]:
    return sorted(rows, key=lambda row: row[0] if column == 0 else row[2])
