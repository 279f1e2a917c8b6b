from __future__ import annotations

import csv
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path

import pytest
import xlsxwriter

from app.intake.faults import Fault, Note
from app.intake.register_sheet import RegisterSheet, read_register_sheet
from app.words.saying import say

ON = date(2026, 3, 2)
Row = Sequence[object]
CsvReader = Callable[..., RegisterSheet]


def checked(sheet: RegisterSheet) -> RegisterSheet:
    """Every fault and note has a sentence, and every sentence has its values."""
    told: list[Fault | Note] = [*sheet.faults, *sheet.notes]
    for one in told:
        assert say(one.key, one.values)
    good = {row.code for row in sheet.rows}
    assert not good & set(sheet.bad_codes)
    return sheet


def keys(sheet: RegisterSheet) -> list[str]:
    return [fault.key for fault in sheet.faults]


def noted(sheet: RegisterSheet) -> set[str]:
    return {note.key for note in sheet.notes}


def fields_of(sheet: RegisterSheet, code: str) -> dict[str, object]:
    assert keys(sheet) == []
    return next(row.fields for row in sheet.rows if row.code == code)


@pytest.fixture
def read_rows(tmp_path: Path) -> CsvReader:
    """Rows -> a CSV file -> what was read from it."""

    def read(*rows: Row, delimiter: str = ",", name: str = "kit.csv") -> RegisterSheet:
        path = tmp_path / name
        with path.open("w", newline="", encoding="utf-8") as stream:
            csv.writer(stream, delimiter=delimiter).writerows(rows)
        return checked(read_register_sheet(path, on=ON))

    return read


@pytest.fixture
def read_text(tmp_path: Path) -> Callable[..., RegisterSheet]:
    def read(content: str | bytes, *, name: str = "kit.csv", encoding: str | None = None) -> RegisterSheet:
        path = tmp_path / name
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return checked(read_register_sheet(path, on=ON, encoding=encoding))

    return read


@pytest.fixture
def read_book(tmp_path: Path) -> Callable[..., RegisterSheet]:
    """A function that fills an XlsxWriter workbook -> what was read from it."""

    def read(fill: Callable[[xlsxwriter.Workbook], None]) -> RegisterSheet:
        path = tmp_path / "kit.xlsx"
        book = xlsxwriter.Workbook(str(path))
        fill(book)
        book.close()
        return checked(read_register_sheet(path, on=ON))

    return read
