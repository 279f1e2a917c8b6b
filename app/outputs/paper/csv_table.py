"""A document's tables as CSV; a cell that a spreadsheet would run as a formula is made plain text."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from datetime import date

from app.outputs.document import Cell, Document

_RUNS = ("=", "+", "-", "@", "\t", "\r")


def render(document: Document) -> str:
    """All tables of the document, one after the other."""
    tables = [section.table for section in document.sections if section.table is not None]
    return "".join(
        render_rows(table.columns, ([_kept(cell) for cell in row] for row in table.rows)) for table in tables
    )


def render_rows(heads: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    """Rows under their headings."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([neutral(cell) for cell in heads])
    writer.writerows([neutral(cell) for cell in row] for row in rows)
    return out.getvalue()


def _kept(cell: Cell) -> str:
    """A day as ISO, whatever the language: sheets read it so; everything else as people do."""
    return cell.value.isoformat() if isinstance(cell.value, date) else cell.words


def neutral(cell: str) -> str:
    """The cell with an apostrophe before it where a spreadsheet would take it for a formula."""
    return f"'{cell}" if cell.startswith(_RUNS) else cell
