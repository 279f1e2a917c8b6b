"""One sheet laid out: its heading row, what each column is taken for, and cells as they are meant to be read.

Columns are settled by heading first and by what stands under it where a heading fits two things ("Type" is a kind of
kit or rubber type I and II). Values are carried down only where the sheet says so: a merged cell or a ditto mark, and
in a CSV, which keeps no merged cells, a blank kind or crib; never a date, a code or a result.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec import field as made_by

from app.decision.fields.word_tables import word_set
from app.intake.cells import CellFault, Reading, is_blank, is_unknown, rubber_type, word
from app.intake.day_cells import order_of
from app.intake.faults import FileFault, column_letters
from app.intake.headings import Guess, find_heading_row, guess, heading_text
from app.intake.kind_words import known_kind
from app.intake.piece_columns import DATES, NEVER_FILLED
from app.intake.workbook_parts import MAX_AREA

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from app.intake.table_file import Cell, Sheet

DITTO = word_set("""
" | "" | '' | ' | \u3003 | \u201d | \u201c | \u2033 | -"- | -''- | do | do. | ditto | as above | same | same as above
| see above | as before | \u2191 | ^ | idem
""")
_FILLED_IN_CSV = frozenset({"kind", "crib"})
_STRONGEST_CODES = (
    "code", "kit code", "kit id", "kit no", "barcode", "scan code", "asset", "tag", "label", "id", "equipment",
    "inventory", "register", "piece", "reference", "ref", "item", "glove", "tool", "stock", "our", "no", "number",
)  # fmt: skip


class Column(Struct):
    """One column: place, heading, the field it is read as, and what was already read from it."""

    index: int
    guess: Guess
    field: str | None
    reading: Reading = made_by(default_factory=Reading)
    # (kind, cell) -> (field as this kind knows it, value or CellFault): each different cell is read once.
    read: dict[tuple[str, Cell], tuple[str | None, object]] = made_by(default_factory=dict)
    merged: dict[int, int] = made_by(default_factory=dict)
    # Cells already seen to hold a plain value: no blank, no ditto mark, not too long.
    ordinary: set[Cell] = made_by(default_factory=set)
    # A blank may stand for what is above it.
    is_filled: bool = False
    heading_row: int = 0

    @property
    def letters(self) -> str:
        """The column's letters, as spreadsheets show them."""
        return column_letters(self.index)

    @property
    def heading(self) -> str:
        """The heading as it stands in the sheet, or the letters where it is blank."""
        return self.guess.heading or self.letters


class Layout(Struct):
    """Columns of a sheet, the index of its heading row, and headings that claim one field twice (first, second)."""

    heading_row: int
    columns: list[Column]
    doubled: list[tuple[Column, Column]] = made_by(default_factory=list)
    passed_over: list[tuple[Column, Column]] = made_by(default_factory=list)
    other_kinds: list[Column] = made_by(default_factory=list)

    def of(self, name: str) -> Column | None:
        """The column read as `name`, if there is one."""
        return next((column for column in self.columns if column.field == name), None)


def lay_out(sheet: Sheet) -> Layout | None:
    """The layout of a sheet; None where no row can be its heading row. Raises FileFault on endless merged cells."""
    top = find_heading_row(sheet.rows)
    if top is None:
        return None
    width = max((len(row) for row in sheet.rows), default=0)
    headings = sheet.rows[top]
    columns = []
    for index in range(width):
        found = guess(heading_text(headings[index]) if index < len(headings) else "")
        columns.append(Column(index, found, found.field, heading_row=top))
    layout = Layout(top, columns)
    below = sheet.rows[top + 1 :]
    _settle_types(layout, below)
    _settle_codes(layout)
    _settle_kinds(layout, below)
    _settle_doubles(layout)
    for column in columns:
        order = order_of(values(below, column.index)) if column.field in DATES else Reading().order
        column.reading = Reading(column.guess.unit, column.guess.current, order)
    _settle_merged(sheet, layout)
    return layout


def values(rows: Sequence[tuple[Cell, ...]], index: int) -> Iterator[Cell]:
    """The cells of one column, blanks left out."""
    for row in rows:
        if index < len(row) and not is_blank(row[index]):
            yield row[index]


def _settle_types(layout: Layout, rows: Sequence[tuple[Cell, ...]]) -> None:
    for column in layout.columns:
        if column.field == "type_or_kind":
            found = {
                word(cell) for cell in values(rows, column.index) if word(cell) not in DITTO and not is_unknown(cell)
            }
            column.field = "type" if found and all(_is_type(text) for text in found) else "kind"


def _is_type(text: str) -> bool:
    try:
        rubber_type(text)
    except CellFault:
        return False
    return True


def _settle_codes(layout: Layout) -> None:
    """One code column: the one named most clearly; a serial number only where there is none."""
    codes = [c for c in layout.columns if c.field == "code"] or [c for c in layout.columns if c.field == "serial"]
    if not codes:
        return
    best = min(codes, key=_code_rank)
    for column in layout.columns:
        if column.field in ("code", "serial") and column is not best:
            column.field = None
            layout.passed_over.append((best, column))
    best.field = "code"


def _code_rank(column: Column) -> int:
    plain = column.guess.heading.lower()
    return next((i for i, name in enumerate(_STRONGEST_CODES) if plain.startswith(name)), len(_STRONGEST_CODES))


def _settle_kinds(layout: Layout, rows: Sequence[tuple[Cell, ...]]) -> None:
    """One kind column: the one in which most cells name a kind."""
    kinds = [column for column in layout.columns if column.field == "kind"]
    if len(kinds) < 2:
        return
    best = max(kinds, key=lambda column: _kinds_named(rows, column.index))
    for column in kinds:
        if column is not best:
            column.field = None
            layout.passed_over.append((best, column))
            # A list put together from several has a kind column for each: where one is blank the other speaks.
            layout.other_kinds.append(column)


def _kinds_named(rows: Sequence[tuple[Cell, ...]], index: int) -> int:
    return sum(known_kind(word(cell)) is not None for cell in values(rows[:2_000], index))


def _settle_doubles(layout: Layout) -> None:
    first: dict[str, Column] = {}
    for column in layout.columns:
        if column.field is None:
            continue
        earlier = first.setdefault(column.field, column)
        if earlier is not column:
            layout.doubled.append((earlier, column))
            column.field = None


def _settle_merged(sheet: Sheet, layout: Layout) -> None:
    """For each column, row -> the row whose cell is merged down to it."""
    budget = MAX_AREA
    by_index = {column.index: column for column in layout.columns}
    for (top, left), (bottom, _) in sheet.merged:
        column = by_index.get(left)
        if column is None or column.field is None or top <= layout.heading_row:
            continue
        last = min(bottom, len(sheet.rows) - 1)
        budget -= max(0, last - top)
        if budget < 0:
            raise FileFault("sheet.too-many-cells", {"sheet": sheet.name, "limit": MAX_AREA})
        for row in range(top + 1, last + 1):
            column.merged[row] = top


class Carrier:
    """Cells as meant: merged cells, ditto marks, blank kinds and cribs carried down, row by row from the top."""

    def __init__(self, sheet: Sheet, columns: Iterable[Column], *, is_csv: bool) -> None:
        """`is_csv`: blank kinds and cribs are taken from above, as nothing else is left there of merged cells."""
        self.sheet = sheet
        self.is_csv = is_csv
        for column in columns:
            column.is_filled = bool(column.merged) or (is_csv and column.field in _FILLED_IN_CSV)
        self.carried: dict[tuple[int, int], Cell] = {}
        self.counted: dict[tuple[str, int], int] = {}

    def cell(self, column: Column, y: int, cell: Cell) -> Cell:
        """The cell at row `y` as meant. Raises CellFault where a value would have to be carried and may not be."""
        if is_blank(cell):
            return self._blank(column, y)
        if isinstance(cell, str) and cell.strip().lower() in DITTO:
            if column.field in NEVER_FILLED:
                raise CellFault("sheet.ditto-not-taken")
            above = self._above(column, y)
            if is_blank(above):
                raise CellFault("sheet.ditto-nothing-above")
            return self._carry("ditto", column, y, above)
        return cell

    def _blank(self, column: Column, y: int) -> Cell:
        if y in column.merged:
            return self._merged(column, y, column.merged[y])
        if self.is_csv and column.field in _FILLED_IN_CSV and not is_blank(above := self._above(column, y)):
            return self._carry("blank", column, y, above)
        return None

    def _merged(self, column: Column, y: int, top: int) -> Cell:
        cell = self._stands(top, column.index)
        if (top, column.index) in self.sheet.spoiled:
            raise CellFault(self.sheet.spoiled[top, column.index])
        if is_blank(cell):
            return None
        if column.field in NEVER_FILLED:
            raise CellFault("sheet.merged-not-taken")
        return self._carry("merged", column, y, cell)

    def _above(self, column: Column, y: int) -> Cell:
        """What the row above holds or had carried to it; nothing above the first row or where it is spoiled."""
        at = (y - 1, column.index)
        if y - 1 <= column.heading_row or at in self.sheet.spoiled:
            return None
        if at in self.carried:
            return self.carried[at]
        cell = self._stands(*at)
        return None if isinstance(cell, str) and cell.strip().lower() in DITTO else cell

    def _stands(self, y: int, index: int) -> Cell:
        row = self.sheet.rows[y]
        return row[index] if index < len(row) else None

    def _carry(self, how: str, column: Column, y: int, cell: Cell) -> Cell:
        self.carried[y, column.index] = cell
        at = (how, column.index)
        self.counted[at] = self.counted.get(at, 0) + 1
        return cell
