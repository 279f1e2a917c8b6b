"""Rows of one sheet, one after the other: a piece for each row without fault, a fault for each doubt."""

from __future__ import annotations

from collections import Counter
from datetime import date
from typing import TYPE_CHECKING

from msgspec import Struct

from app.decision.case.pieces import read_piece
from app.decision.domain.errors import BadInput
from app.decision.domain.piece import Piece
from app.intake.cells import CellFault, is_blank, is_unknown, text_of
from app.intake.day_cells import earliest
from app.intake.faults import Fault, Note, Place, column_letters, shown
from app.intake.headings import heading_text
from app.intake.kind_words import class_in, kind_of, known_kind
from app.intake.piece_columns import DATES, PARSERS, RUBBER, column_for
from app.intake.piece_row import PieceRow, Status, status
from app.intake.sheet_columns import Carrier

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.intake.sheet_columns import Column, Layout
    from app.intake.table_file import Cell, Sheet

# A cell that is read holds a word, a number or a date; longer text would only cost time in the readers of forms.
_READ_CHARACTERS = 200
_ANSWERS_NEEDED = frozenset(
    {"caps", "fuse_kind", "status", "result", "previous_result", "calibration_result", "quantity"}
)
# What the reader of pieces says of a value -> the sheet's own sentence.
_REFUSED = {
    "case.too-fine": "sheet.value-too-fine",
    "case.not-a-whole-number": "sheet.value-too-fine",
    "case.out-of-range": "sheet.value-out-of-range",
}


class SheetRow(Struct, frozen=True):
    """One good row: its place, its code, and the piece, both in the keys of a worked case and as read from them."""

    place: Place
    code: str
    fields: dict[str, object]
    piece: Piece
    crib: str = ""


def place_values(place: Place, heading: str = "") -> dict[str, object]:
    """What every sentence about a place may name."""
    return {"sheet": shown(place.sheet), "row": place.row, "column": place.column or "", "heading": shown(heading)}


def _code_text(cell: Cell) -> str:
    if isinstance(cell, date):
        raise CellFault("sheet.code-is-date", {"found": str(cell)})
    if is_blank(cell) or is_unknown(cell):
        raise CellFault("sheet.code-missing")
    if isinstance(cell, str) and (len(cell) > _READ_CHARACTERS or "\n" in cell.strip()):
        raise CellFault("sheet.code-unreadable", {"found": shown(cell)})
    return text_of(cell)


def _names_kind(cell: Cell) -> bool:
    return not is_blank(cell) and known_kind(text_of(cell)) is not None


def _short(cell: Cell) -> Cell:
    if isinstance(cell, str) and len(cell) > _READ_CHARACTERS:
        raise CellFault("sheet.text-too-long", {"limit": _READ_CHARACTERS})
    return cell


class SheetRows:
    """Reads the rows below the headings; what was found stands in `rows`, `faults`, `notes` and `bad`."""

    def __init__(self, sheet: Sheet, layout: Layout, *, is_csv: bool, on: date) -> None:
        """`on` is the day the sheet is taken in: later days are faults."""
        self.sheet = sheet
        self.layout = layout
        self.is_csv = is_csv
        self.on = on
        self.carrier = Carrier(sheet, layout.columns, is_csv=is_csv)
        self.used = [c for c in layout.columns if c.field and c.field not in ("code", "kind")]
        self.slots = [c if c.field and c.field not in ("code", "kind") else None for c in layout.columns]
        self.code = layout.of("code")
        self.kind = layout.of("kind")
        self.sheet_kind = self._kind_of_sheet()
        self.rows: list[SheetRow] = []
        self.faults: list[Fault] = []
        self.notes: list[Note] = []
        self.bad: list[tuple[str, Place]] = []
        self.counted: Counter[tuple[str, int, str]] = Counter()
        self._now: list[Fault] = []
        self._spoiled_rows = {y for y, _ in sheet.spoiled}
        self._kinds: dict[Cell, tuple[str, str | None]] = {}
        self._asks_result = layout.of("result") is not None

    def read(self) -> None:
        """Read every row; nothing is raised."""
        top = self.layout.heading_row
        for y in sorted(y for y in self._spoiled_rows if y <= top):
            self._spoiled_titles(y)
        for y, row in enumerate(self.sheet.rows[top + 1 :], top + 1):
            if not any(row) and all(cell is None or cell == "" for cell in row):
                continue
            if row == self.sheet.rows[top]:
                self.counted["sheet.note-headings-again", -1, ""] += 1
            else:
                self._row(y, row)
        self._say()

    def _kind_of_sheet(self) -> str | None:
        return known_kind(self.sheet.name) if not self.is_csv else None

    # --- one row ---

    def _row(self, y: int, row: tuple[Cell, ...]) -> None:
        self._now = []
        place = Place(self.sheet.name, y + 1)
        code = self._code(y, row)
        thing = code or f"row {y + 1}"
        if y in self._spoiled_rows:
            self._spoiled_unused(y, thing)
        kind, named = self._kind(y, row, thing)
        values: dict[str, object] = {"class_named": named, "asks_result": self._asks_result}
        volts = self._cells(y, row, thing, kind, values)
        if kind is not None:
            fields = self._fields(code, kind, values, volts, (y, thing))
            piece = None if self._now else self._piece(fields, (y, thing))
            if piece is not None:
                self.rows.append(SheetRow(place, code, fields, piece, str(values.get("crib", ""))))
        if self._now:
            self.faults += self._now
            if code:
                self.bad.append((code, place))

    def _cells(self, y: int, row: tuple[Cell, ...], thing: str, kind: str | None, values: dict[str, object]) -> Cell:
        """Read every cell of the row into `values`; the volts beside a class are answered, for comparing."""
        volts: Cell = None
        is_spoiled = y in self._spoiled_rows
        if len(row) < len(self.slots):
            row += (None,) * (len(self.slots) - len(row))
        for column, found in zip(self.slots, row, strict=False):
            # Most cells of a sheet of many kinds are empty.
            if column is None or not (found or found == 0 or column.is_filled or is_spoiled):
                continue
            cell = self._meant(column, y, row, thing)
            if cell is None or kind is None:
                continue
            if column.field == "voltage_mark" and kind in RUBBER:
                volts = None if is_unknown(cell) else cell
                continue
            self._take(column, kind, cell, values, (y, thing))
        return volts

    def _piece(self, fields: dict[str, object], at: tuple[int, str]) -> Piece | None:
        """The piece that the fields make, None with a fault where a value is none that can be kept."""
        try:
            return read_piece(fields, "")
        except BadInput as why:
            name, _, value = why.thing.partition(" = ")
            # Columns of volts are named without their unit; a mark or fuse of several parts is named by its place.
            volts = name.removesuffix("_v")
            names = (name, volts, volts.removesuffix("_ac").removesuffix("_dc"), f"{why.place}_{volts}", why.place)
            columns = (self._column_read_as(str(fields["kind"]), one) for one in names)
            column = next((one for one in columns if one), None)
            found = shown(value or name)
            self._fault(CellFault(_REFUSED.get(why.key, "sheet.value-refused"), {"found": found}), column, *at)
            return None

    def _fields(
        self, code: str, kind: str, values: dict[str, object], volts: Cell, at: tuple[int, str]
    ) -> dict[str, object]:
        piece = PieceRow(code, kind, values, self.on)
        fields = piece.build()
        if volts is not None:
            piece.compare_class_with_volts(volts)
        for name, why in piece.faults:
            if why.key == "sheet.result-without-date" and self._now:
                # The date itself is at fault in this row and has been named already.
                continue
            self._fault(why, self._column_read_as(kind, name), *at)
        return fields

    def _column_read_as(self, kind: str, name: str) -> Column | None:
        """The column a field came from: its own, or a shared one such as Category or Rating."""
        return self.layout.of(name) or next(
            (c for c in self.used if c.field and column_for(kind, c.field, "cat") == name), None
        )

    def _code(self, y: int, row: tuple[Cell, ...]) -> str:
        if self.code is None:
            return ""
        cell = row[self.code.index] if self.code.index < len(row) else None
        thing = f"row {y + 1}"
        try:
            self._check_spoiled(y, self.code)
            self.carrier.cell(self.code, y, cell)
            return _code_text(cell)
        except CellFault as why:
            self._fault(why, self.code, y, thing)
            return ""

    def _kind(self, y: int, row: tuple[Cell, ...], thing: str) -> tuple[str | None, str | None]:
        """The kind, and the class that its name carries; a blank one is told by the sheet's name."""
        cell = self._meant(self._kind_column(y, row), y, row, thing) if self.kind else None
        if self._now and self.kind and self._now[-1].place.column == self.kind.letters:
            return None, None
        try:
            return self._kind_said(cell)
        except CellFault as why:
            self._fault(why, self.kind, y, thing)
            return None, None

    def _kind_column(self, y: int, row: tuple[Cell, ...]) -> Column:
        """The kind column, or where it is blank in this row another column that names a kind there."""
        assert self.kind is not None
        if not self.layout.other_kinds:
            return self.kind
        is_blank_here = self.kind.index >= len(row) or is_blank(row[self.kind.index])
        if is_blank_here and y not in self.kind.merged:
            for column in self.layout.other_kinds:
                if column.index < len(row) and _names_kind(row[column.index]):
                    return column
        return self.kind

    def _kind_said(self, cell: Cell) -> tuple[str, str | None]:
        if cell in self._kinds:
            return self._kinds[cell]
        if not is_blank(cell) and not is_unknown(cell):
            self._kinds[cell] = kind_of(text_of(cell)), class_in(text_of(cell))
            return self._kinds[cell]
        if self.sheet_kind is None or is_unknown(cell):
            raise CellFault("sheet.kind-missing")
        self.counted["sheet.note-kind-of-sheet", -1, self.sheet_kind] += 1
        return self.sheet_kind, class_in(self.sheet.name)

    def _meant(self, column: Column, y: int, row: tuple[Cell, ...], thing: str) -> Cell:
        """The cell as meant, None where it has a fault."""
        cell = row[column.index] if column.index < len(row) else None
        is_spoiled = y in self._spoiled_rows
        if cell in column.ordinary and not is_spoiled:
            return cell
        try:
            if is_spoiled:
                self._check_spoiled(y, column)
            meant = _short(self.carrier.cell(column, y, cell))
        except CellFault as why:
            self._fault(why, column, y, thing)
            return None
        if meant is cell and cell is not None:
            column.ordinary.add(cell)
        return meant

    def _take(self, column: Column, kind: str, cell: Cell, values: dict[str, object], at: tuple[int, str]) -> None:
        """Read one cell into `values` under the name by which this kind knows the column."""
        # A whole number and its text are different cells, but 1 and 1.0 are one, as they are in a spreadsheet.
        known = column.read.get((kind, cell))
        if known is None:
            known = column.read[kind, cell] = self._read(column, kind, cell)
        name, value = known
        if name is None:
            self.counted["sheet.note-not-for-kind", column.index, kind] += 1
            return
        if not name:
            return
        if isinstance(value, CellFault):
            self._fault(value, column, *at)
            return
        if name in values:
            if values[name] != value:
                self._fault(CellFault("sheet.columns-contradict", {"found": shown(cell)}), column, *at)
            return
        if value is not None:
            values[name] = value
            self._remark(column, name, cell, value)

    def _read(self, column: Column, kind: str, cell: Cell) -> tuple[str | None, object]:
        """Field and value or CellFault; None for the field where this kind has none, "" where nobody knows."""
        name = column_for(kind, column.field or "", cell)
        if name is None:
            return None, None
        if is_unknown(cell) and name not in _ANSWERS_NEEDED:
            return "", None
        try:
            return name, self._value(column, name, cell)
        except CellFault as why:
            return name, why.with_traceback(None)

    def _value(self, column: Column, name: str, cell: Cell) -> object:
        if name == "status":
            return status(cell)
        value = PARSERS[name](cell, column.reading)
        is_day = name in DATES and isinstance(value, (date, str)) and value not in ("never", "unknown")
        if is_day and isinstance(value, (date, str)) and earliest(value) > self.on:
            raise CellFault("sheet.date-in-future", {"found": str(value), "expected": str(self.on)})
        return value

    def _remark(self, column: Column, name: str, cell: Cell, value: object) -> None:
        if (
            name == "class"
            and isinstance(value, dict)
            and value["class"] == "0"
            and (isinstance(cell, int) or self.is_csv)
        ):
            self.counted["sheet.note-class-zero", column.index, ""] += 1
        elif name == "status" and value == Status("computed"):
            self.counted["sheet.note-status-computed", column.index, ""] += 1
        elif name == "first_issue" and value == "unknown":
            self.counted["sheet.note-first-issue-unknown", column.index, ""] += 1

    # --- faults and notes ---

    def _fault(self, why: CellFault, column: Column | None, y: int, thing: str) -> None:
        place = Place(self.sheet.name, y + 1, column.letters if column else None)
        values = {"thing": shown(thing), **place_values(place, column.heading if column else ""), **why.values}
        self._now.append(Fault(why.key, values, place, thing))

    def _check_spoiled(self, y: int, column: Column) -> None:
        key = self.sheet.spoiled.get((y, column.index))
        if key:
            raise CellFault(key)

    def _spoiled_unused(self, y: int, thing: str) -> None:
        """Columns that are not read: in a workbook formulas make due days, in a CSV somebody planted them as text."""
        for column in self.layout.columns:
            key = self.sheet.spoiled.get((y, column.index))
            if key is None or column.field is not None:
                continue
            if self.is_csv and key == "sheet.formula":
                self._fault(CellFault(key), column, y, thing)
            else:
                self.counted["sheet.note-unread-column", column.index, ""] += 1

    def _spoiled_titles(self, y: int) -> None:
        for (row, x), key in self.sheet.spoiled.items():
            if row == y and (self.is_csv or y == self.layout.heading_row):
                place = Place(self.sheet.name, y + 1, column_letters(x))
                thing = f"row {y + 1}"
                heading = heading_text(self.sheet.rows[y][x]) if x < len(self.sheet.rows[y]) else ""
                self.faults.append(Fault(key, {"thing": thing, **place_values(place, heading)}, place, thing))

    def _say(self) -> None:
        columns: Sequence[Column] = self.layout.columns
        keys = {"merged": "sheet.note-merged", "ditto": "sheet.note-ditto", "blank": "sheet.note-blank-filled"}
        for (how, index), count in self.carrier.counted.items():
            self.counted[keys[how], index, ""] += count
        for (key, index, kind), count in self.counted.items():
            column = columns[index] if index >= 0 else None
            values: dict[str, object] = {"sheet": shown(self.sheet.name), "count": count, "kind": kind}
            values |= (
                {"heading": shown(column.heading), "column": column.letters}
                if column
                else {"heading": "", "column": ""}
            )
            self.notes.append(Note(key, values, Place(self.sheet.name, None, column.letters if column else None)))
