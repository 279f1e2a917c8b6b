"""What the cells of an XLSX file do not tell through the sheet reader: formulas, error values, formats.

The reader hands over values only. A formula, an error value, a number shown with leading zeros
("00" stored as 0) and a date shown without its day ("Mar-26" stored as the 1st) are seen in the XML.
The XML is also measured before the reader gets it: the reader holds a sheet as one full rectangle,
so that two far-apart cells could ask it for more memory than there is.
"""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from typing import TYPE_CHECKING
from xml.parsers import expat

from msgspec import Struct, field

from app.intake.faults import FileFault

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

MAX_UNPACKED_BYTES = 200_000_000
MAX_MEMBERS = 2_000
MAX_ROWS = 100_000
MAX_COLUMNS = 200
MAX_AREA = 4_000_000

_ENCRYPTED = 0x1
_REFERENCE = re.compile(r"\$?([A-Z]{1,3})\$?([0-9]{1,7})")
_BUILTIN_MONTHLY = {17: "mmm-yy"}
_ZERO_PADDED = re.compile(r"0{2,}")
_LITERAL = re.compile(r'\[[^\]]*\]|"[^"]*"|\\.|_.|\*.')
_KEPT_SUFFIXES = (".xml", ".rels")


class SheetScan(Struct):
    """What the XML of one sheet shows; cells are (row, column) from 0."""

    formulas: set[tuple[int, int]] = field(default_factory=set)
    errors: set[tuple[int, int]] = field(default_factory=set)
    padded: dict[tuple[int, int], int] = field(default_factory=dict)
    monthly: set[tuple[int, int]] = field(default_factory=set)
    rows: int = 0
    columns: int = 0


class _Formats(Struct):
    padded: dict[str, int] = field(default_factory=dict)
    monthly: set[str] = field(default_factory=set)


def repack(path: Path) -> io.BytesIO:
    """The XML members of the XLSX at `path`, unpacked under the size limit and packed anew without compression.

    Sizes written in a zip are claims; only bytes that were counted here reach the sheet reader.
    Raises FileFault when it is too large, protected, damaged or no XLSX.
    """
    out = io.BytesIO()
    try:
        with zipfile.ZipFile(path) as packed, zipfile.ZipFile(out, "w") as plain:
            members = [m for m in packed.infolist() if not m.is_dir()]
            _check_members(members)
            for member in members:
                if member.filename.lower().endswith(_KEPT_SUFFIXES):
                    plain.writestr(member.filename, packed.read(member))
    except FileFault:
        raise
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, NotImplementedError, RuntimeError) as why:
        raise FileFault("sheet.file-damaged") from why
    out.seek(0)
    return out


def _check_members(members: list[zipfile.ZipInfo]) -> None:
    if len(members) > MAX_MEMBERS or sum(m.file_size for m in members) > MAX_UNPACKED_BYTES:
        raise FileFault("sheet.file-unpacks-too-large", {"limit_mb": MAX_UNPACKED_BYTES // 1_000_000})
    if any(m.flag_bits & _ENCRYPTED for m in members):
        raise FileFault("sheet.file-protected")
    names = [m.filename for m in members]
    if "xl/workbook.xml" not in names:
        raise FileFault("sheet.file-not-a-sheet")
    if len(names) != len(set(names)):
        raise FileFault("sheet.file-damaged")


def scan_workbook(packed: io.BytesIO) -> dict[str, SheetScan]:
    """Sheet name -> what its XML shows. Raises FileFault on damaged XML and on sheets past the limits."""
    with zipfile.ZipFile(packed) as parts:
        names = set(parts.namelist())

        def read(name: str) -> bytes:
            return parts.read(name) if name in names else b""

        targets = _targets(read("xl/_rels/workbook.xml.rels"))
        formats = _formats(read("xl/styles.xml"))
        scans: dict[str, SheetScan] = {}
        for name, relation in _sheets(read("xl/workbook.xml")):
            part = targets.get(relation, "")
            if "worksheets/" in part:
                scans[name] = _scan_sheet(read(part), formats, name)
    packed.seek(0)
    return scans


def _parse(data: bytes, start: Callable[[str, dict[str, str]], None]) -> None:
    """Run `start` over every opening tag; document types, and with them entities, are refused."""

    def refuse(*_: object) -> None:
        raise FileFault("sheet.file-damaged")

    if not data:
        return
    parser = expat.ParserCreate()
    parser.StartElementHandler = start
    parser.StartDoctypeDeclHandler = refuse
    try:
        parser.Parse(data, True)
    except (expat.ExpatError, ValueError, LookupError) as why:
        raise FileFault("sheet.file-damaged") from why


def _local(name: str) -> str:
    return name.rpartition(":")[2]


def _sheets(data: bytes) -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []

    def start(name: str, attributes: dict[str, str]) -> None:
        if _local(name) == "sheet":
            relation = next((v for k, v in attributes.items() if _local(k) == "id" and ":" in k), "")
            found.append((attributes.get("name", ""), relation))

    _parse(data, start)
    return found


def _targets(data: bytes) -> dict[str, str]:
    found: dict[str, str] = {}

    def start(name: str, attributes: dict[str, str]) -> None:
        if _local(name) == "Relationship":
            target = attributes.get("Target", "")
            found[attributes.get("Id", "")] = target[1:] if target.startswith("/") else f"xl/{target}"

    _parse(data, start)
    return found


def _formats(data: bytes) -> _Formats:
    codes: dict[str, str] = {str(number): code for number, code in _BUILTIN_MONTHLY.items()}
    formats = _Formats()
    state = {"in_cells": False, "at": 0}

    def start(name: str, attributes: dict[str, str]) -> None:
        tag = _local(name)
        if tag == "numFmt":
            codes[attributes.get("numFmtId", "")] = attributes.get("formatCode", "")
        elif tag in ("cellXfs", "cellStyleXfs", "cellStyles", "dxfs"):
            state["in_cells"] = tag == "cellXfs"
        elif tag == "xf" and state["in_cells"]:
            _sort_format(str(state["at"]), codes.get(attributes.get("numFmtId", ""), ""), formats)
            state["at"] += 1

    _parse(data, start)
    return formats


def _sort_format(style: str, code: str, formats: _Formats) -> None:
    plain = _LITERAL.sub("", code.split(";", maxsplit=1)[0]).lower()
    if _ZERO_PADDED.fullmatch(plain):
        formats.padded[style] = len(plain)
    elif "m" in plain and "y" in plain and not set("dhs") & set(plain):
        formats.monthly.add(style)


def _cell_at(reference: str) -> tuple[int, int] | None:
    match = _REFERENCE.fullmatch(reference)
    if match is None:
        return None
    column = 0
    for letter in match[1]:
        column = column * 26 + ord(letter) - 64
    return int(match[2]) - 1, column - 1


class _SheetReader:
    """Opening tags of one sheet, in order."""

    def __init__(self, formats: _Formats, name: str) -> None:
        self.scan = SheetScan()
        self.formats = formats
        self.name = name
        self.at = (0, -1)
        self.row = -1

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        tag = _local(tag)
        if tag == "c":
            self._cell(attributes)
        elif tag in ("v", "is"):
            self._measure(*self.at)
        elif tag == "f":
            self._measure(*self.at)
            self.scan.formulas.add(self.at)
            self._array(attributes.get("ref", ""), attributes.get("t", ""))
        elif tag == "row":
            number = attributes.get("r", "")
            self.row = int(number) - 1 if number.isascii() and number.isdigit() else self.row + 1
            self.at = (self.row, -1)

    def _cell(self, attributes: dict[str, str]) -> None:
        # A cell without a reference stands beside the one before it.
        self.at = _cell_at(attributes.get("r", "")) or (self.row, self.at[1] + 1)
        if attributes.get("t") == "e":
            self.scan.errors.add(self.at)
        style = attributes.get("s", "")
        if style in self.formats.padded:
            self.scan.padded[self.at] = self.formats.padded[style]
        elif style in self.formats.monthly:
            self.scan.monthly.add(self.at)

    def _measure(self, row: int, column: int) -> None:
        scan = self.scan
        scan.rows, scan.columns = max(scan.rows, row + 1), max(scan.columns, column + 1)
        if scan.rows > MAX_ROWS or scan.columns > MAX_COLUMNS or scan.rows * scan.columns > MAX_AREA:
            check_extent(scan.rows, scan.columns, self.name)

    def _array(self, reference: str, kind: str) -> None:
        """One array formula fills many cells, and only the first carries it."""
        first, _, last = reference.partition(":")
        begin, end = _cell_at(first), _cell_at(last)
        if kind not in ("array", "dataTable") or begin is None or end is None:
            return
        self._measure(*end)
        for row in range(begin[0], end[0] + 1):
            self.scan.formulas.update((row, column) for column in range(begin[1], end[1] + 1))


def check_extent(rows: int, columns: int, sheet: str) -> None:
    """Raise FileFault when a sheet of `rows` times `columns` is past what is read."""
    if rows > MAX_ROWS:
        raise FileFault("sheet.too-many-rows", {"sheet": sheet, "limit": MAX_ROWS})
    if columns > MAX_COLUMNS:
        raise FileFault("sheet.too-many-columns", {"sheet": sheet, "limit": MAX_COLUMNS})
    if rows * columns > MAX_AREA:
        raise FileFault("sheet.too-many-cells", {"sheet": sheet, "limit": MAX_AREA})


def _scan_sheet(data: bytes, formats: _Formats, name: str) -> SheetScan:
    reader = _SheetReader(formats, name)
    _parse(data, reader.start)
    return reader.scan
