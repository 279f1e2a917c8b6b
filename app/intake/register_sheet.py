"""A keeper's spreadsheet, CSV or XLSX, as pieces in the keys of a worked case, with every doubt as a named fault.

Nothing is raised: a file that cannot be read gives one fault whose place has no row. A row with any fault gives no
piece; its code stands in `bad_codes`, and so do both rows of a code that stands twice.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct, field

from app.intake.faults import Fault, FileFault, Note, Place, shown
from app.intake.sheet_columns import lay_out
from app.intake.sheet_rows import SheetRow, SheetRows, place_values
from app.intake.table_file import read_table

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date
    from pathlib import Path

    from app.intake.headings import How
    from app.intake.sheet_columns import Column, Layout
    from app.intake.table_file import Sheet, Table

__all__ = ["ColumnGuess", "Fault", "Note", "Place", "RegisterSheet", "SheetRow", "read_register_sheet"]


class ColumnGuess(Struct, frozen=True):
    """What one column was taken for: `field` None is shown as not used, `how` is exact, likely or unknown."""

    sheet: str
    heading: str
    field: str | None
    how: How


class RegisterSheet(Struct, frozen=True):
    """A sheet as read: good rows only, all faults, all codes of bad or doubled rows, and how it was read."""

    file: str
    columns: tuple[ColumnGuess, ...] = ()
    rows: tuple[SheetRow, ...] = ()
    faults: tuple[Fault, ...] = ()
    bad_codes: dict[str, Place] = field(default_factory=dict)
    notes: tuple[Note, ...] = ()


def read_register_sheet(path: Path, *, on: date, encoding: str | None = None) -> RegisterSheet:
    """Read the keeper's file at `path` as of the day `on`; later days in it are faults.

    `encoding`: "cp1252" or "utf-8" for a CSV without a byte-order mark, where the caller knows. Never raises.
    """
    file = shown(path.name)
    try:
        return _Reader(read_table(path, encoding=encoding), on).read()
    except FileFault as why:
        return RegisterSheet(file, faults=(_file_fault(file, file, why.key, why.values),))


def _file_fault(file: str, sheet: str, key: str, values: dict[str, object] | None = None) -> Fault:
    return Fault(key, {"thing": file, "file": file, "sheet": shown(sheet), **(values or {})}, Place(sheet), file)


class _Reader:
    def __init__(self, table: Table, on: date) -> None:
        self.table = table
        self.on = on
        self.file = shown(table.file)
        self.columns: list[ColumnGuess] = []
        self.faults: list[Fault] = []
        self.notes: list[Note] = []
        self.rows: list[SheetRow] = []
        self.bad: list[tuple[str, Place]] = []

    def read(self) -> RegisterSheet:
        for name in self.table.unread:
            self._note("sheet.note-hidden-sheet", name)
        sheets = [
            sheet for sheet in self.table.sheets if any(any(c not in (None, "") for c in row) for row in sheet.rows)
        ]
        if not sheets:
            raise FileFault("sheet.file-empty")
        for sheet in sheets:
            layout = lay_out(sheet)
            if layout is None:
                self.faults.append(_file_fault(self.file, sheet.name, "sheet.no-headings"))
            else:
                self._sheet(sheet, layout)
        if not self.rows and not self.bad and not self.faults:
            self.faults.append(_file_fault(self.file, self.file, "sheet.no-rows"))
        good, bad_codes = self._without_doubles()
        return RegisterSheet(self.file, tuple(self.columns), good, tuple(self.faults), bad_codes, tuple(self.notes))

    def _sheet(self, sheet: Sheet, layout: Layout) -> None:
        self.columns += [ColumnGuess(sheet.name, c.heading, c.field, c.guess.how) for c in layout.columns]
        self._say_columns(sheet, layout)
        found = SheetRows(sheet, layout, is_csv=self.table.is_csv, on=self.on)
        found.read()
        self.rows += found.rows
        self.faults += found.faults
        self.notes += found.notes
        self.bad += found.bad

    def _say_columns(self, sheet: Sheet, layout: Layout) -> None:
        place = Place(sheet.name, layout.heading_row + 1)
        for earlier, later in layout.doubled:
            values = {
                "thing": self.file,
                **place_values(place),
                "heading": shown(later.heading),
                "other": shown(earlier.heading),
            }
            self.faults.append(
                Fault("sheet.heading-twice", values, Place(sheet.name, place.row, later.letters), self.file)
            )
        for chosen, other in layout.passed_over:
            self._note("sheet.note-passed-over", sheet.name, other, other=shown(chosen.heading))
        for column in layout.columns:
            if column.guess.is_due:
                self._note("sheet.note-due-not-used", sheet.name, column)
            if column.field and column.reading.order.stroked != "unknown":
                order = {"day-first": "sheet.note-day-first", "month-first": "sheet.note-month-first"}
                self._note(order[column.reading.order.stroked], sheet.name, column)
        if layout.heading_row:
            self._note("sheet.note-title-rows", sheet.name, count=layout.heading_row)

    def _note(self, key: str, sheet: str, column: Column | None = None, **values: object) -> None:
        place = Place(sheet, None, column.letters if column else None)
        heading = {"heading": shown(column.heading), "column": column.letters} if column else {}
        self.notes.append(Note(key, {"sheet": shown(sheet), **heading, **values}, place))

    def _without_doubles(self) -> tuple[tuple[SheetRow, ...], dict[str, Place]]:
        """Good rows whose code stands once; both rows of a doubled code are bad, also where one already was."""
        places: dict[str, list[tuple[str, Place]]] = {}
        for code, place in [(row.code, row.place) for row in self.rows] + self.bad:
            # Scanners and eyes take G1 and g1 for one label.
            places.setdefault(code.casefold(), []).append((code, place))
        doubled = {key: found for key, found in places.items() if len(found) > 1}
        for found in doubled.values():
            found.sort(key=lambda one: (one[1].sheet, one[1].row or 0))
            for index, (code, place) in enumerate(found):
                other = found[1 if index == 0 else 0][1]
                values = {
                    "thing": code,
                    **place_values(place),
                    "other_row": other.row,
                    "other_sheet": shown(other.sheet),
                }
                self.faults.append(Fault("sheet.code-twice", values, place, code))
        good = tuple(row for row in self.rows if row.code.casefold() not in doubled)
        return good, _first_places([*self.bad, *(one for found in doubled.values() for one in found)])


def _first_places(bad: Iterable[tuple[str, Place]]) -> dict[str, Place]:
    places: dict[str, Place] = {}
    for code, place in bad:
        places.setdefault(code, place)
    return places
