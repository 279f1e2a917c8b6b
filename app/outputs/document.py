"""A report before it is paper: headings, paragraphs and tables, for screen, CSV and print alike."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from app.words.saying import day, number

Value = str | int | float | date | None


class Cell(Struct, frozen=True):
    """One cell of a table: the value a writer of sheets keeps as what it is, and the words people read."""

    value: Value
    words: str


class Table(Struct, frozen=True):
    """Rows under column headings."""

    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]

    def words(self) -> tuple[tuple[str, ...], ...]:
        """The rows as people read them."""
        return tuple(tuple(cell.words for cell in row) for row in self.rows)


def row(*values: Value | Cell) -> tuple[Cell, ...]:
    """The cells of these values: a day and a number are said as the language does, what is not known stays empty."""
    return tuple(value if isinstance(value, Cell) else Cell(value, _said(value)) for value in values)


def _said(value: Value) -> str:
    if value is None:
        return ""
    if isinstance(value, date):
        return day(value)
    return value if isinstance(value, str) else number(value)


class Section(Struct, frozen=True):
    """A heading with lines, a table, or both. `is_ordered`: the lines are steps; `is_plain`: each is a paragraph."""

    heading: str
    lines: tuple[str, ...] = ()
    table: Table | None = None
    is_ordered: bool = False
    is_plain: bool = False


class Document(Struct, frozen=True):
    """A title, a line below it, sections, and the cautions every print carries."""

    title: str
    subtitle: str
    sections: tuple[Section, ...]
    cautions: tuple[str, ...] = ()
