"""Files that somebody broke, by accident or on purpose: always an answer with sentences, never an error."""

from __future__ import annotations

import csv
import io
import random
import zipfile
from collections.abc import Callable

import pytest
import xlsxwriter
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from app.decision.kinds import kinds
from app.intake.headings import known
from app.intake.register_sheet import RegisterSheet
from tests.intake.conftest import CsvReader, keys

Text = Callable[..., RegisterSheet]
Book = Callable[[Callable[[xlsxwriter.Workbook], None]], RegisterSheet]
fuzzed = settings(max_examples=80, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)

BY_FIELD = {field: name for name, field in known().items()}
HEADINGS = [name for field, name in BY_FIELD.items() if field not in ("code", "serial", "kind")]
WORDS = (
    "", " ", "-", "?", "0", "00", "1", "-1", "1,5", "1.000", "9 1/2", "360 mm", "14 in", "2026-01-01", "01/02/26", "Mar 2026",
    "2025-W53", "31.02.2025", "Cl. 0", "class 4", "CAT III 1000V/CAT IV 600V", "CAT V", "1000 V AC / 1500 V DC", "on-hold", "lost",
    "out with P03", "passed", "failed", "never", "new", "yes", '"', "do.", "=1+1", "@x", "I", "II", "RC", "5 kV", "AC", "60",
    "1e400", "9" * 40, "\x00", "\u202e", "\U0001f600", "x" * 300, "1000 V DC HBC", "1 min", "GB/T 17622", "\u0663", "2026-03-03",
)  # fmt: skip
CELL = st.one_of(
    st.sampled_from(WORDS),
    st.sampled_from(tuple(kinds())),
    st.text(max_size=8),
    st.integers().map(str),
    st.dates().map(str),
)


@fuzzed
@given(data=st.data())
def test_every_column_takes_whatever_stands_in_it(data: st.DataObject, read_rows: CsvReader) -> None:
    heads = data.draw(st.lists(st.sampled_from(HEADINGS), min_size=2, max_size=10, unique=True))
    row = st.tuples(
        st.sampled_from(["A1", "A2", "A3", ""]), st.sampled_from([*tuple(kinds()), "glofe", ""]), *[CELL for _ in heads]
    )
    rows = data.draw(st.lists(row, max_size=5))
    sheet = read_rows(("Code", "Kind", *heads), *rows, delimiter=data.draw(st.sampled_from(",;\t")))
    for one in sheet.rows:
        assert one.piece.code == one.code
        assert one.code not in sheet.bad_codes


@fuzzed
@given(
    content=st.text(
        alphabet=st.sampled_from("\r\n\t ,;\"'=+-@#CodeKindrubberglovs0123456789.\x00\x07\u202e\xe9"), max_size=300
    )
)
def test_csv_of_any_marks(content: str, read_text: Text) -> None:
    read_text(content)
    read_text("Code,Kind,Class\r\n" + content)
    read_text(content.encode("cp1252", "replace"), encoding="cp1252")


def _book() -> bytes:
    stream = io.BytesIO()
    book = xlsxwriter.Workbook(stream, {"in_memory": True})
    page = book.add_worksheet("Rubber gloves")
    page.write_row(0, 0, ["Code", "Class", "Last test", "Size"])
    for row in range(1, 6):
        page.write_row(row, 0, [f"G{row}", row % 4, "2026-01-01", 9.5])
    page.merge_range(6, 1, 8, 1, "1")
    page.write_formula(9, 2, "=TODAY()", None, 46000)
    book.close()
    return stream.getvalue()


@pytest.fixture(scope="module")
def parts() -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(_book())) as book:
        return {name: book.read(name) for name in book.namelist()}


def packed(parts: dict[str, bytes]) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as book:
        for name, content in parts.items():
            book.writestr(name, content)
    return stream.getvalue()


@pytest.mark.parametrize("seed", range(40))
def test_workbooks_with_bytes_changed(seed: int, parts: dict[str, bytes], read_text: Text) -> None:
    chance = random.Random(seed)
    whole = bytearray(_book())
    for _ in range(chance.choice((1, 3, 20))):
        whole[chance.randrange(len(whole))] = chance.randrange(256)
    read_text(bytes(whole), name="bytes.xlsx")
    read_text(bytes(whole[: chance.randrange(len(whole))]), name="short.xlsx")
    # Inside a part too, where the checksum of the archive no longer shields the reader.
    name = chance.choice([one for one in parts if one.endswith((".xml", ".rels"))])
    inside = bytearray(parts[name])
    for _ in range(chance.choice((1, 3, 20))):
        inside[chance.randrange(len(inside))] = chance.choice(b'0123456789<>/"=AZ \x00\xff')
    read_text(packed({**parts, name: bytes(inside)}), name="inside.xlsx")
    read_text(packed({one: content for one, content in parts.items() if one != name}), name="without.xlsx")


def test_an_unchanged_workbook_is_read(parts: dict[str, bytes], read_text: Text) -> None:
    assert [row.code for row in read_text(packed(parts), name="whole.xlsx").rows] == ["G1", "G2", "G3", "G4", "G5"]


SHEET = "xl/worksheets/sheet1.xml"


def _sheet_xml(cells: str) -> bytes:
    return (
        '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>'
        f"{cells}</sheetData></worksheet>"
    ).encode()


@pytest.mark.parametrize(
    ("xml", "key"),
    [
        (b'<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]><worksheet>&b;</worksheet>', "sheet.file-damaged"),
        (b'<!DOCTYPE x SYSTEM "file:///etc/passwd"><worksheet/>', "sheet.file-damaged"),
        (_sheet_xml('<row r="1048576"><c r="A1048576"><v>1</v></c></row>'), "sheet.too-many-rows"),
        (_sheet_xml('<row r="1"><c r="XFD1"><v>1</v></c></row>'), "sheet.too-many-columns"),
        (_sheet_xml('<row r="90000"><c r="GA90000"><v>1</v></c></row>'), "sheet.too-many-cells"),
        (
            _sheet_xml('<row r="1"><c r="A1"><f t="array" ref="A1:XFD1048576">1</f><v>1</v></c></row>'),
            "sheet.too-many-rows",
        ),
        (b"<worksheet><sheetData>", "sheet.file-damaged"),
    ],
)
def test_entities_far_cells_and_endless_formulas(
    xml: bytes, key: str, parts: dict[str, bytes], read_text: Text
) -> None:
    sheet = read_text(packed({**parts, SHEET: xml}), name="planted.xlsx")
    assert keys(sheet) == [key]
    assert sheet.rows == ()
    assert sheet.faults[0].place.row is None


def test_a_size_that_is_lied_about(parts: dict[str, bytes], read_text: Text) -> None:
    """The archive says that a part is small; the bytes say otherwise."""
    honest = packed({**parts, SHEET: b" " * 3_000_000})
    lying = honest.replace((3_000_000).to_bytes(4, "little"), (100).to_bytes(4, "little"))
    assert lying != honest
    assert keys(read_text(lying, name="lying.xlsx")) == ["sheet.file-damaged"]


def test_archives_that_are_no_workbook(parts: dict[str, bytes], read_text: Text) -> None:
    assert keys(read_text(packed({"readme.txt": b"hello"}), name="other.xlsx")) == ["sheet.file-not-a-sheet"]
    assert keys(
        read_text(packed({"xl/workbook.xml": b"", **{f"a{n}": b"" for n in range(2_001)}}), name="many.xlsx")
    ) == ["sheet.file-unpacks-too-large"]
    assert keys(read_text(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, name="old.xls")) == [
        "sheet.file-old-or-protected"
    ]


def test_files_past_the_limits(read_text: Text) -> None:
    assert keys(read_text("Code,Kind\n" + "a" * 20_000_001)) == ["sheet.file-too-large"]
    assert keys(read_text("Code,Kind\n" + "," * 250 + "\n")) == ["sheet.too-many-columns"]
    assert keys(read_text("Code,Kind\n" * 100_001)) == ["sheet.too-many-rows"]
    assert keys(read_text('Code,Kind\nG1,"rubber gloves\nG2,rubber gloves\n')) == ["sheet.file-quotes"]


@pytest.mark.parametrize("character", ["\x01", "\x07", "\x1b", "\x7f", "\x9b", "\u200b", "\u202e", "\u2066", "\ufffb"])
@pytest.mark.parametrize("at", range(4))
def test_characters_that_cannot_be_seen(character: str, at: int, read_rows: CsvReader) -> None:
    row = ["G1", "rubber gloves", "0", "10"]
    row[at] += character
    sheet = read_rows(("Code", "Kind", "Class", "Size"), row, ("G2", "rubber gloves", "0", "10"))
    assert keys(sheet) == ["sheet.control-characters"]
    assert [one.code for one in sheet.rows] == ["G2"]
    assert all(
        value.isprintable() for fault in sheet.faults for value in fault.values.values() if isinstance(value, str)
    )


def test_one_merge_over_everything_carries_no_code_and_no_date(read_book: Book) -> None:
    def fill(book: xlsxwriter.Workbook) -> None:
        page = book.add_worksheet("Rubber gloves")
        page.write_row(0, 0, ["Code", "Class", "Last test", "Result"])
        page.merge_range(1, 0, 2, 0, "G1")
        page.write_row(1, 1, ["0", "2026-01-01", "passed"])
        page.write_row(2, 1, ["0", "2026-01-01", "passed"])
        page.write_row(3, 0, ["G3", "0"])
        page.merge_range(3, 2, 4, 2, "2026-01-01")
        page.merge_range(3, 3, 4, 3, "passed")
        page.write_row(4, 0, ["G4", "0"])

    sheet = read_book(fill)
    assert [row.code for row in sheet.rows] == ["G1", "G3"]
    assert keys(sheet) == ["sheet.merged-not-taken"] * 3


def test_the_same_file_is_read_in_the_same_way(read_text: Text) -> None:
    out = io.StringIO()
    csv.writer(out).writerows([("Code", "Kind", "Class"), *((f"G{n}", "rubber gloves", n % 7) for n in range(50))])
    first, second = read_text(out.getvalue()), read_text(out.getvalue())
    assert first == second
