"""What can be wrong with a sheet, and where: keys and values, never a finished sentence.

The sentence of every key stands in `app.words.intake_sentences`; `values` holds each field that
its text names (`thing`, `sheet`, `row`, `column`, `heading`, `found`, ...).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct

if TYPE_CHECKING:
    from collections.abc import Mapping

SHOWN_CHARACTERS = 60


class Place(Struct, frozen=True):
    """Where in a file: sheet name, row (counted from 1) and column letters, as spreadsheets show them."""

    sheet: str
    row: int | None = None
    column: str | None = None


class Fault(Struct, frozen=True):
    """Something that stops a row, or the whole file when `place.row` is None or `thing` is the file."""

    key: str
    values: dict[str, object]
    place: Place
    thing: str


class Note(Struct, frozen=True):
    """How something was read, or why it was left unread; stops nothing, but is to be shown."""

    key: str
    values: dict[str, object]
    place: Place


class CellFault(Exception):
    """A cell that cannot be read: the key of the sentence and the values that it needs."""

    def __init__(self, key: str, values: Mapping[str, object] | None = None) -> None:
        """Keep key and values; the caller adds the place."""
        super().__init__(key)
        self.key = key
        self.values: dict[str, object] = dict(values or {})


class FileFault(Exception):
    """A file that cannot be read at all: the key of the sentence and the values that it needs."""

    def __init__(self, key: str, values: Mapping[str, object] | None = None) -> None:
        """Keep key and values; the caller adds the file's name."""
        super().__init__(key)
        self.key = key
        self.values: dict[str, object] = dict(values or {})


def shown(text: object) -> str:
    """`text` on one line, short, and without characters that a screen would obey instead of show."""
    plain = "".join(c if c.isprintable() else "\u00b7" for c in str(text))
    return plain if len(plain) <= SHOWN_CHARACTERS else plain[: SHOWN_CHARACTERS - 1] + "\u2026"


def column_letters(index: int) -> str:
    """Letters of the column at `index` (from 0): A, B, ... Z, AA."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
