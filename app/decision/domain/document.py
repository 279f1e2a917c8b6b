"""A report before it is paper: headings, paragraphs and tables of plain words, for screen, CSV and print alike."""

from __future__ import annotations

from msgspec import Struct


class Table(Struct, frozen=True):
    """Rows under column headings; every cell is ready words."""

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


class Section(Struct, frozen=True):
    """A heading with lines, a table, or both. `is_ordered`: the lines are steps."""

    heading: str
    lines: tuple[str, ...] = ()
    table: Table | None = None
    is_ordered: bool = False


class Document(Struct, frozen=True):
    """A title, a line below it, sections, and the cautions every print carries."""

    title: str
    subtitle: str
    sections: tuple[Section, ...]
    cautions: tuple[str, ...] = ()
