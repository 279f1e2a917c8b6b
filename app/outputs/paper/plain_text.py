"""A document as plain text for a terminal: wrapped, headings on lines of their own, tables in columns."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

from app.outputs.document import Document, Section, Table

WIDTH = 100
_WIDEST = 52


def render(document: Document) -> str:
    """The whole document, ending in its cautions."""
    lines = [document.title, *_wrapped(document.subtitle), ""]
    for section in document.sections:
        lines += [*_section(section), ""]
    lines += [line for caution in document.cautions for line in _wrapped(caution)]
    return "\n".join(lines).rstrip() + "\n"


def _section(section: Section) -> Iterable[str]:
    if section.heading:
        yield section.heading
    for number, line in enumerate(section.lines, start=1):
        mark = f"{number}. " if section.is_ordered else "" if section.is_plain else "- "
        yield from textwrap.wrap(clean(line), WIDTH, initial_indent=mark, subsequent_indent=" " * len(mark))
    if section.table is not None:
        yield from _table(section.table)


def clean(words: str) -> str:
    """Words on one line, without characters a terminal would obey instead of show."""
    return "".join(letter if letter.isprintable() else "\u00b7" for letter in words)


def _wrapped(words: str) -> list[str]:
    return textwrap.wrap(clean(words), WIDTH) or [""]


def _table(table: Table) -> Iterable[str]:
    rows = [tuple(clean(cell) for cell in row) for row in (table.columns, *table.words())]
    used = [index for index in range(len(table.columns)) if any(row[index] for row in rows[1:])]
    widths = {index: min(_WIDEST, max(len(row[index]) for row in rows)) for index in used}
    for number, row in enumerate(rows):
        cells = {index: textwrap.wrap(row[index], widths[index]) or [""] for index in used}
        for line in range(max(len(cell) for cell in cells.values())):
            parts = [(cells[index][line] if line < len(cells[index]) else "").ljust(widths[index]) for index in used]
            yield "  ".join(parts).rstrip()
        if number == 0:
            yield "  ".join("-" * widths[index] for index in used)
