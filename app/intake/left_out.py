"""Rows of a sheet as they stand, for whoever has to put them right."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path

from app.intake.sheet_columns import lay_out
from app.intake.table_file import read_table

Cells = tuple[str, ...]


def left_out_rows(
    path: Path, places: Collection[tuple[str, int]], encoding: str | None = None
) -> dict[str, tuple[Cells, list[tuple[int, Cells]]]]:
    """Sheet -> (headings, [(row counted from 1, cells)]) of the rows at these places, cells as text."""
    found: dict[str, tuple[Cells, list[tuple[int, Cells]]]] = {}
    for sheet in read_table(path, encoding=encoding).sheets:
        layout = lay_out(sheet)
        wanted = sorted(row for name, row in places if name == sheet.name)
        if layout is None or not wanted:
            continue
        heads = tuple(_text(cell) for cell in sheet.rows[layout.heading_row])
        rows = [(row, tuple(_text(cell) for cell in sheet.rows[row - 1])) for row in wanted if row <= len(sheet.rows)]
        found[sheet.name] = (heads, [(row, (*cells, *("",) * (len(heads) - len(cells)))) for row, cells in rows])
    return found


def _text(cell: object) -> str:
    return "" if cell is None else str(cell)
