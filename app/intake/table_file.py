"""A CSV or XLSX file as plain rows of cells, under limits, with what cannot be trusted marked.

CSV: delimiters comma, semicolon and tab; encoding by byte-order mark, else UTF-8, else the one the
caller names. XLSX: values of visible worksheets. Nothing is interpreted here beyond what the file
format itself says (dates of date cells, whole numbers, numbers shown with leading zeros).
"""

from __future__ import annotations

import codecs
import csv
import io
import re
import stat
from datetime import date, datetime
from typing import TYPE_CHECKING

from msgspec import Struct, field
from python_calamine import CalamineError, CalamineWorkbook, SheetTypeEnum, SheetVisibleEnum

from app.intake.faults import FileFault, shown
from app.intake.workbook_parts import SheetScan, check_extent, repack, scan_workbook

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from python_calamine import CalamineSheet

Cell = str | int | float | date | None
Rows = tuple[tuple[Cell, ...], ...]
Range = tuple[tuple[int, int], tuple[int, int]]

MAX_FILE_BYTES = 20_000_000
MAX_CELL_CHARACTERS = 2_000
ENCODINGS = ("utf-8", "cp1252")

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, ""),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_ZIP = b"PK\x03\x04"
_OLD_WORKBOOK = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_BINARY_STARTS = (b"%PDF", b"\x89PNG", b"\xff\xd8\xff", b"GIF8", b"\x1f\x8b", b"{\\rtf", b"Rar!", b"7z\xbc\xaf")
# Control characters except tab and line ends, and characters that change how others are shown.
_ODD = re.compile(
    r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\xad\u061c\u180e\u200b-\u200f\u202a-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\ud800-\udfff]"
)
_PLAIN_NUMBER = re.compile(r"[+-]?\s*(?:\d+(?:[.,]\d+)?|[.,]\d+)\s*%?")
_DASHES = re.compile(r"[-\u2013\u2014\s]+")
_FORMULA_AT_START = re.compile(r"(?:^|[,;\t\"\r\n])\s*[=+\-@]")
_SNIFFED_CHARACTERS = 20_000


class Sheet(Struct, frozen=True):
    """One sheet: rows of cells, merged ranges and spoiled cells, all counted from (0, 0).

    `spoiled` maps (row, column) to a fault key: a formula, an error value, control characters,
    text past the limit. `merged` holds ((first row, first column), (last row, last column)).
    """

    name: str
    rows: Rows
    merged: tuple[Range, ...] = ()
    spoiled: Mapping[tuple[int, int], str] = field(default_factory=dict)


class Table(Struct, frozen=True):
    """A file that was read: its name, its visible sheets, the names of those left unread, and CSV or not."""

    file: str
    sheets: tuple[Sheet, ...]
    unread: tuple[str, ...] = ()
    is_csv: bool = False


def read_table(path: Path, *, encoding: str | None = None) -> Table:
    """The rows of the CSV or XLSX file at `path`.

    `encoding` is what the caller knows of a CSV without a byte-order mark: "utf-8" (also when None)
    or "cp1252". Raises FileFault for a file that is missing, too large, damaged or of another sort.
    """
    data = _head(path)
    if data.startswith(_ZIP):
        return _read_workbook(path)
    if data.startswith(_OLD_WORKBOOK):
        raise FileFault("sheet.file-old-or-protected")
    try:
        with path.open("rb") as stream:
            whole = stream.read(MAX_FILE_BYTES + 1)
    except OSError as why:
        raise FileFault("sheet.file-unreadable") from why
    return _read_csv(path.name, whole, encoding)


def _head(path: Path) -> bytes:
    try:
        state = path.stat()
        if stat.S_ISDIR(state.st_mode):
            raise FileFault("sheet.file-is-folder")
        # Opening a FIFO would wait for a writer; so only regular files are opened.
        if not stat.S_ISREG(state.st_mode):
            raise FileFault("sheet.file-not-a-file")
        if state.st_size > MAX_FILE_BYTES:
            raise FileFault("sheet.file-too-large", {"limit_mb": MAX_FILE_BYTES // 1_000_000})
        with path.open("rb") as stream:
            data = stream.read(8)
    except FileNotFoundError as why:
        raise FileFault("sheet.file-missing") from why
    except (OSError, ValueError) as why:
        raise FileFault("sheet.file-unreadable") from why
    if not data:
        raise FileFault("sheet.file-empty")
    return data


# --- CSV ---


def _read_csv(name: str, data: bytes, encoding: str | None) -> Table:
    text = _decode(data, encoding)
    if not text.strip():
        raise FileFault("sheet.file-empty")
    rows: list[tuple[Cell, ...]] = []
    width = 0
    try:
        reader = csv.reader(io.StringIO(text, newline=""), dialect=_dialect(text))
        for record in reader:
            rows.append(tuple(record))
            width = max(width, len(record))
            if len(rows) % 1_000 == 0:
                check_extent(len(rows), width, name)
    except csv.Error as why:
        raise FileFault("sheet.file-quotes", {"line": len(rows) + 1}) from why
    check_extent(len(rows), width, name)
    spoiled: dict[tuple[int, int], str] = {}
    _mark_text(rows, spoiled, odd=_ODD.search(text) is not None)
    if _FORMULA_AT_START.search(text):
        _mark_csv_formulas(rows, spoiled)
    return Table(name, (Sheet(name, tuple(rows), (), spoiled),), is_csv=True)


def _decode(data: bytes, encoding: str | None) -> str:
    if data.startswith(_BINARY_STARTS):
        raise FileFault("sheet.file-not-a-sheet")
    codec = next((codec for mark, codec in _MARKS if data.startswith(mark)), None)
    if codec is None:
        codec = (encoding or "utf-8").lower()
        if codec not in ENCODINGS:
            raise FileFault("sheet.encoding-not-offered", {"found": shown(codec), "expected": ", ".join(ENCODINGS)})
        # No text file in these encodings holds a zero byte; pictures, archives and UTF-16 without its mark do.
        if b"\0" in data:
            raise FileFault("sheet.file-not-a-sheet")
    if not codec:
        raise FileFault("sheet.encoding-unknown", {"position": 1})
    try:
        return data.decode(codec)
    except UnicodeDecodeError as why:
        raise FileFault("sheet.encoding-unknown", {"position": why.start + 1}) from why


class _Dialect(csv.Dialect):
    delimiter = ","
    quotechar = '"'
    doublequote = True
    skipinitialspace = True
    lineterminator = "\r\n"
    quoting = csv.QUOTE_MINIMAL
    # Without this a mark that is never closed would swallow every row after it unseen.
    strict = True


def _dialect(text: str) -> type[csv.Dialect]:
    """The delimiter by the sniffer; quoting always as spreadsheets write it.

    The sniffer is given only the delimiters that are read. It fails, or guesses by chance, on one
    column and on free text: then the one found most in the first lines that hold any is taken.
    """
    # Numbers with a decimal comma in a sheet of semicolons mislead the sniffer; tab and semicolon hardly stand in text.
    sample = text[:_SNIFFED_CHARACTERS]
    outside = re.sub(r'"[^"]*"', "", sample)
    lines = [line for line in outside.splitlines() if line.strip()]
    found = next((d for d in "\t;" if lines and sum(d in line for line in lines) * 2 > len(lines)), "")
    if not found:
        try:
            found = csv.Sniffer().sniff(sample, delimiters=",;\t").delimiter
        except csv.Error:
            found = max(",;\t", key=outside.count)
    return type("_Found", (_Dialect,), {"delimiter": found if found in ",;\t" else ","})


def _mark_csv_formulas(rows: list[tuple[Cell, ...]], spoiled: dict[tuple[int, int], str]) -> None:
    for y, row in enumerate(rows):
        for x, cell in enumerate(row):
            if not isinstance(cell, str) or not (begin := cell.lstrip()[:1]) or begin not in "=+-@":
                continue
            plain = cell.strip()
            if not (_PLAIN_NUMBER.fullmatch(plain) or _DASHES.fullmatch(plain)):
                spoiled.setdefault((y, x), "sheet.formula")


def _mark_text(rows: Iterable[tuple[Cell, ...]], spoiled: dict[tuple[int, int], str], *, odd: bool = True) -> None:
    """Mark texts past the limit and, where the file has any (`odd`), texts with control characters."""
    for y, row in enumerate(rows):
        if not odd and sum(map(len, map(str, row))) <= MAX_CELL_CHARACTERS:
            continue
        for x, cell in enumerate(row):
            if isinstance(cell, str):
                if len(cell) > MAX_CELL_CHARACTERS:
                    spoiled[y, x] = "sheet.cell-too-long"
                elif odd and _ODD.search(cell):
                    spoiled[y, x] = "sheet.control-characters"


# --- XLSX ---


def _read_workbook(path: Path) -> Table:
    packed = repack(path)
    scans = scan_workbook(packed)
    sheets: list[Sheet] = []
    unread: list[str] = []
    try:
        with CalamineWorkbook.from_filelike(packed) as book:
            for about in book.sheets_metadata:
                if about.typ != SheetTypeEnum.WorkSheet or about.name not in scans:
                    continue
                if about.visible != SheetVisibleEnum.Visible:
                    unread.append(about.name)
                    continue
                sheets.append(_sheet(book.get_sheet_by_name(about.name), scans[about.name]))
    except (CalamineError, OSError, ValueError, OverflowError) as why:
        raise FileFault("sheet.file-damaged") from why
    except BaseException as why:
        # A panic in the reader's Rust code arrives as a class that is no Exception and cannot be imported.
        if type(why).__name__ == "PanicException":
            raise FileFault("sheet.file-damaged") from why
        raise
    return Table(path.name, tuple(sheets), tuple(unread))


def _sheet(found: CalamineSheet, scan: SheetScan) -> Sheet:
    values = found.to_python(skip_empty_area=False) if found.height else []
    rows = tuple(tuple(_cell(value, (y, x), scan) for x, value in enumerate(row)) for y, row in enumerate(values))
    spoiled: dict[tuple[int, int], str] = dict.fromkeys(scan.errors, "sheet.error-value")
    spoiled.update(dict.fromkeys(scan.formulas, "sheet.formula"))
    _mark_text(rows, spoiled)
    return Sheet(found.name, rows, tuple(found.merged_cell_ranges or ()), spoiled)


def _cell(value: object, at: tuple[int, int], scan: SheetScan) -> Cell:
    if isinstance(value, str):
        return value or None
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return _number(value, scan.padded.get(at))
    if isinstance(value, datetime):
        value = value.date()
    if isinstance(value, date):
        return f"{value.year:04d}-{value.month:02d}" if at in scan.monthly else value
    return str(value) if value is not None else None


def _number(value: float, width: int | None) -> Cell:
    # "00" typed as a number is stored as 0; what the keeper sees is what was meant.
    if value.is_integer():
        return f"{int(value):0{width}d}" if width else int(value)
    return value
