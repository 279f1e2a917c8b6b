"""A report before it is paper: headings, paragraphs and tables of plain words, for screen, CSV and print alike."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under column headings; every cell is ready words."""

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Section:
    """A heading with lines, a table, or both. `is_ordered`: the lines are steps."""

    heading: str
    lines: tuple[str, ...] = ()
    table: Table | None = None
    is_ordered: bool = False


@dataclass(frozen=True, slots=True)
class Document:
    """A title, a line below it, sections, and the cautions every print carries."""

    title: str
    subtitle: str
    sections: tuple[Section, ...]
    cautions: tuple[str, ...] = ()
