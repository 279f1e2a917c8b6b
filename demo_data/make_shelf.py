"""Write the demo register of Quarry Lane Depot: shelf.xlsx, shelf.csv and checks.toml.

Run ``python demo_data/make_shelf.py`` from the project folder; with ``--check`` nothing is written
and the exit code is 1 if a file differs from what would be written or disagrees with expected.toml.
The spelling of dates, the colours of bags and the like come from one seeded generator, so that the
same bytes come out each time. XLSX bytes also depend on the zlib that packed them; the check
therefore compares the unpacked parts of that file.
"""

from __future__ import annotations

import argparse
import csv
import io
import random
import sys
import zipfile
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias, TypeVar

import shelf_check
import shelf_pieces as pieces
import xlsxwriter
from shelf_columns import DATE_KEYS, NUMBER_KEYS, SHEETS, TABLES

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

HERE = Path(__file__).resolve().parent
DEMO_DAY = date(2026, 3, 2)
SEED = 20260302
CRIBS = {"W": "Workshop crib", "B": "Bus hall crib"}
# The depot's list (depot.toml) holds the first two; the third is not on it.
LABS = {"N": "Northgate Test House", "F": "Fellside Dielectrics", "T": "Tarn Row Laboratory"}
TEST_VOLTS = {"00": 2500, "0": 5000, "1": 10000, "2": 20000}
# Proof-test current at 60 Hz by glove length: facts table T2, used only to invent likely readings.
CURRENT_MA = {
    "00": {280: 8, 360: 12},
    "0": {280: 8, 360: 12, 410: 14, 460: 16},
    "1": {360: 14, 410: 16, 460: 18},
    "2": {360: 16, 410: 18, 460: 20},
}
FAILED = {"G020": "17,8"}
FREE_REMARKS = (
    "cuff written over in ink",
    'wearer says "tight"; swap?',
    "spare",
    "new bag ordered",
    "came with the second-hand cabinet",
)

Choice = TypeVar("Choice")
Cell: TypeAlias = str | int | date
Piece: TypeAlias = dict[str, Cell]


class Keeper:
    """The keeper's hand: one seeded generator behind every whim of spelling."""

    def __init__(self) -> None:
        """Start the generator and the laboratories' certificate counters afresh."""
        self._random = random.Random(SEED)
        self._certificates = {"N": 1180, "F": 402, "T": 77}

    def pick(self, choices: Sequence[Choice]) -> Choice:
        """Return one of the choices; random() alone keeps its sequence over Python versions."""
        return choices[int(self._random.random() * len(choices))]

    def dated(self, text: str) -> Cell:
        """Return a day or month in one of the keeper's ways; words and weeks stay as they are."""
        if len(text) == len("2025-03") and text[:4].isdigit():
            return datetime.strptime(text + "-01", "%Y-%m-%d").strftime("%b %Y")
        try:
            day = date.fromisoformat(text) if "W" not in text else None
        except ValueError:
            day = None
        if day is None:
            return text
        ways: tuple[Cell, ...] = (day, day, text, f"{day.day}.{day.month}.{day.year}")
        return self.pick(ways)

    def certificate(self, lab: str, test: str) -> str:
        """Return the next certificate number of a laboratory, in its own style."""
        self._certificates[lab] += 1 + int(self._random.random() * 9)
        number, year = self._certificates[lab], test[:4]
        styles = {"N": f"NTH-{year[2:]}-{number}", "F": f"FD/{year}/{number}"}
        return styles.get(lab, f"TR {number}-{year}")

    def class_words(self, glove_class: str) -> str:
        """Return a class as the keeper writes it: bare, or behind a word."""
        return self.pick(("Cl. ", "class ", "Class ", "")) + glove_class

    def milliamps(self, limit_ma: float) -> str:
        """Return a likely reading in mA with a decimal comma, well under the limit."""
        return comma(round(limit_ma * (0.45 + 0.3 * self._random.random()), 1))


def comma(value: float) -> str:
    """Return a number as text with a decimal comma, without a needless ',0'."""
    return f"{value:g}".replace(".", ",")


def tested(row: dict[str, str], keeper: Keeper) -> Piece:
    """Return the columns of the last electrical test, as much of it as the evidence has."""
    lab, evidence = row["lab"], row["evidence"]
    if evidence not in ("figures", "stated"):
        return {}
    failed = row["code"] in FAILED
    out: Piece = {
        "lab": LABS[lab],
        "certificate": keeper.certificate(lab, row["test"]),
        "method": "ASTM F496" if row["standard"] == "ASTM D120" else "EN 60903",
        "result": "FAILED" if failed else keeper.pick(("passed", "passed", "pass")),
    }
    if evidence == "stated":
        return out
    never = row["first"] in ("never", "new")
    hz = keeper.pick((50, 60))
    limit = CURRENT_MA[row["class"]][int(row["length"])] * hz / 60
    out |= {
        "occasion": "new" if never else "retest",
        "volts": TEST_VOLTS[row["class"]],
        "current": "AC",
        "hz": hz,
        "dwell": 180 if never else keeper.pick((60, 60, 90, 120)),
        "left": keeper.milliamps(limit),
        "right": FAILED.get(row["code"], keeper.milliamps(limit)),
    }
    return out


def next_test(row: dict[str, str], keeper: Keeper) -> str:
    """Return the keeper's own guess at the next test: often wrong, never used by the program."""
    if len(row["test"]) != len("2025-03-02"):
        return ""
    day = date.fromisoformat(row["test"])
    months = keeper.pick((6, 6, 12, 9))
    return shelf_check.add_months(day, months).isoformat()


def entered(sheet: str, kind: str, row: dict[str, str], keeper: Keeper) -> Piece:
    """Return one piece as the keeper enters it: column key -> cell."""
    columns, _ = SHEETS[sheet]
    cells: Piece = {key: value for key, value in row.items() if key in columns}
    cells["kind"] = kind
    cells["crib"] = CRIBS[row["crib"]]
    cells["bag"] = keeper.pick(("blue", "blue", "grey", "none", "yellow"))
    cells["peg"] = keeper.pick(("1", "2", "3", "4"))
    cells["remarks"] = keeper.pick(("",) * 12 + FREE_REMARKS)
    if row["code"].startswith("G"):
        cells |= tested(row, keeper)
        cells["class"] = keeper.class_words(row["class"])
        cells["batch"] = f"{row['type']}{row['class']}-{keeper.pick(('2338', '2402', '2411'))}"
        cells["length"] = keeper.pick((f"{row['length']} mm", row["length"]))
        cells["next"] = next_test(row, keeper)
    if "cut" in row:
        cells["cut"] = keeper.class_words(row["cut"])
    if row["code"] in FAILED:
        cells["remarks"] = "came back from the test house with a red sticker"
    for key in DATE_KEYS:
        cells[key] = keeper.dated(str(cells.get(key, "")))
    for key in NUMBER_KEYS:
        if text := str(cells.get(key, "")):
            cells[key] = int(text)
    return {key: cells.get(key, "") for key in columns}


def shelf() -> dict[str, list[Piece]]:
    """Return the pieces sheet by sheet, in the keeper's order."""
    keeper = Keeper()
    out: dict[str, list[Piece]] = {sheet: [] for sheet in SHEETS}
    states = {row["code"]: row for row in pieces.rows(pieces.STATES)}
    for sheet, kind, table in TABLES:
        for row in pieces.rows(table):
            state = states.get(row["code"], {"state": "in crib"})
            out[sheet].append(entered(sheet, kind, row | state, keeper))
    # By crib on the first sheet, because there the crib is one merged cell per group.
    out["Gloves"].sort(key=lambda piece: piece["crib"] != CRIBS["W"])
    return out


def write_sheet(sheet: Worksheet, name: str, found: list[Piece], look: dict[str, Format]) -> None:
    """Write one sheet: two title rows, an empty one, headings, then the pieces."""
    columns, merged = SHEETS[name]
    sheet.write_string(0, 0, f"Quarry Lane Depot - {name.lower()}", look["title"])
    sheet.write_string(1, 0, "kept by the crib keeper, last gone through at the end of February")
    for column, heading in enumerate(columns.values()):
        sheet.write_string(shelf_check.HEADING_ROW - 1, column, heading, look["bold"])
    for number, piece in enumerate(found, shelf_check.HEADING_ROW):
        for column, (key, cell) in enumerate(piece.items()):
            if key == merged or cell == "":
                continue
            if isinstance(cell, date):
                sheet.write_datetime(number, column, datetime(*cell.timetuple()[:3]), look["day"])
            elif isinstance(cell, int):
                sheet.write_number(number, column, cell)
            else:
                sheet.write_string(number, column, cell)
    if merged:
        at = list(columns).index(merged)
        for first, last, word in runs(piece[merged] for piece in found):
            top, end = shelf_check.HEADING_ROW + first, shelf_check.HEADING_ROW + last
            sheet.merge_range(top, at, end, at, str(word), look["group"])


def runs(words: Iterable[Cell]) -> list[tuple[int, int, Cell]]:
    """Return (first, last, word) for each run of equal neighbours, counted from 0."""
    out: list[tuple[int, int, Cell]] = []
    for number, word in enumerate(words):
        if out and out[-1][2] == word:
            out[-1] = (out[-1][0], number, word)
        else:
            out.append((number, number, word))
    return out


def xlsx_bytes(found: dict[str, list[Piece]]) -> bytes:
    """Return the workbook, dated on the demo day so that it comes out alike each time."""
    buffer = io.BytesIO()
    book = xlsxwriter.Workbook(buffer, {"in_memory": True})
    made = datetime(DEMO_DAY.year, DEMO_DAY.month, DEMO_DAY.day)
    book.set_properties({"title": "Quarry Lane Depot, shelf", "created": made})
    look = {
        "title": book.add_format({"bold": True, "font_size": 14}),
        "bold": book.add_format({"bold": True}),
        "day": book.add_format({"num_format": "dd/mm/yyyy"}),
        "group": book.add_format({"bold": True, "valign": "top"}),
    }
    for name, listed in found.items():
        write_sheet(book.add_worksheet(name), name, listed, look)
    book.close()
    return buffer.getvalue()


def csv_text(found: dict[str, list[Piece]]) -> str:
    """Return every piece as one flat table, semicolons between, a title line on top."""
    headings: dict[str, str] = {}
    for columns, _ in SHEETS.values():
        for key, heading in columns.items():
            headings.setdefault(key, heading)
    buffer = io.StringIO()
    writer = csv.writer(buffer, delimiter=";", lineterminator="\n")
    writer.writerow(["Quarry Lane Depot - all the shelves in one list", *[""] * (len(headings) - 1)])
    writer.writerow(headings.values())
    for listed in found.values():
        for piece in listed:
            cells = [piece.get(key, "") for key in headings]
            writer.writerow(c.isoformat() if isinstance(c, date) else c for c in cells)
    return buffer.getvalue()


def checks_text() -> str:
    """Return the records of the demo morning as TOML, one piece a minute from ten past seven."""
    blocks = ["# Checks of the morning of 2026-03-02. Written by make_shelf.py.\n"]
    clock = datetime(DEMO_DAY.year, DEMO_DAY.month, DEMO_DAY.day, 7, 10)
    for row in pieces.rows(pieces.CHECKED):
        at = clock.strftime("%H:%M")
        head = f'\n[[records]]\npiece = "{row["code"]}"\non = {DEMO_DAY}\nat = "{at}"\n'
        look = f'{head}what = "inspection"\ndefects = []\n'
        letter = row["code"][0]
        if letter == "G":
            inflated = 'left = "passed"\nright = "passed"\ninflation = 1.25\n'
            blocks.append(f'{head}what = "air-test"\n{inflated}')
            look += f"clearance_mm = {row['clearance']}\n"
        if row["caps"]:
            look += f'caps = "{row["caps"]}"\n'
        if letter == "N":
            look += 'jack = "voltage"\n'
        blocks.append(look)
        if letter in "DU":
            blocks.append(f'{head}what = "self-test"\nresult = "passed"\n')
        clock += timedelta(minutes=1)
    return "".join(blocks)


def unpacked(data: bytes) -> dict[str, bytes]:
    """Return the parts of a workbook by name."""
    with zipfile.ZipFile(io.BytesIO(data)) as book:
        return {name: book.read(name) for name in book.namelist()}


def main() -> int:
    """Write the three files, or compare them; return the process's exit code."""
    parser = argparse.ArgumentParser(description="Write the demo register of Quarry Lane Depot.")
    parser.add_argument("--check", action="store_true", help="write nothing, compare")
    found = shelf()
    made = {
        "shelf.xlsx": xlsx_bytes(found),
        "shelf.csv": csv_text(found).encode(),
        "checks.toml": checks_text().encode(),
    }
    faults = []
    if parser.parse_args().check:
        for name, data in made.items():
            stored = (HERE / name).read_bytes()
            alike = unpacked(stored) == unpacked(data) if name.endswith("x") else stored == data
            faults += [] if alike else [f"{name} differs from what would be written"]
    else:
        for name, data in made.items():
            (HERE / name).write_bytes(data)
    faults += shelf_check.faults(HERE)
    sys.stdout.write("".join(f"{fault}\n" for fault in faults) or shelf_check.counts(HERE))
    return 1 if faults else 0


if __name__ == "__main__":
    raise SystemExit(main())
