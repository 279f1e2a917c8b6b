"""Whole sheets as keepers keep them, and what is not a sheet at all."""

from __future__ import annotations

import os
import zipfile
from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

import pytest
import xlsxwriter
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from app.decision.case.pieces import read_piece
from app.intake.register_sheet import RegisterSheet, read_register_sheet
from tests.intake.conftest import ON, CsvReader, fields_of, keys, noted

HEAD = ("Code", "Kind", "Class", "Standard", "Length", "Last test")
Book = Callable[[Callable[[xlsxwriter.Workbook], None]], RegisterSheet]


def electrical(fields: dict[str, object]) -> list[dict[str, object]]:
    records = fields["records"]
    assert isinstance(records, list)
    return [one for one in records if one["what"] == "electrical-test"]


def test_title_rows_any_order_and_wording(read_rows: CsvReader) -> None:
    sheet = read_rows(
        ("Our crib", "", "", ""), ("checked in March", "", "", ""),
        ("Date of last dielectric test", "Asset No", "Glove class", "What it is", "Marked to"),
        ("2026-01-15", "G1", "Cl. 0", "HV gloves", "EN 60903"),
    )  # fmt: skip
    fields = fields_of(sheet, "G1")
    assert (fields["kind"], fields["class"], fields["class_system"]) == ("rubber-gloves", "0", "iec")
    assert electrical(fields)[0]["on"] == date(2026, 1, 15)
    assert electrical(fields)[0]["evidence"] == "sheet-only"


def test_the_words_of_the_format_are_headings_too(read_rows: CsvReader) -> None:
    sheet = read_rows(
        ("code", "kind", "marks", "fixed_leads", "max_input_dc_v", "tip_mm", "threshold_dc_v"),
        ("D1", "two-pole-detector", "CAT III 1000V/CAT IV 600V", "yes", "1500", "2", "12"),
    )
    fields = fields_of(sheet, "D1")
    assert fields["marks"] == [["III", 1000], ["IV", 600]]
    assert (fields["fixed_leads"], fields["max_input_dc_v"], fields["tip_mm"], fields["threshold_dc_v"]) == (
        True,
        1500,
        2,
        12,
    )


def test_evidence_follows_from_what_the_sheet_gives(read_rows: CsvReader) -> None:
    sheet = read_rows(
        ("Code", "Kind", "Class", "Last test", "Lab", "Certificate", "Method", "Test volts", "AC/DC", "Hz", "Dwell s", "mA left", "mA right"),
        ("G1", "rubber gloves", "0", "2026-01-15", "", "", "", "", "", "", "", "", ""),
        ("G2", "rubber gloves", "0", "2026-01-15", "A lab", "77", "EN 60903", "", "", "", "", "", ""),
        ("G3", "rubber gloves", "0", "2026-01-15", "A lab", "78", "", "5000", "AC", "50", "60", "7,5", "8"),
    )  # fmt: skip
    evidence = [electrical(row.fields)[0]["evidence"] for row in sheet.rows]
    assert evidence == ["sheet-only", "stated-pass", "figures"]
    assert electrical(sheet.rows[2].fields)[0]["left_ma"] == 7.5


def test_a_column_of_dates_tells_its_own_order(read_rows: CsvReader) -> None:
    told = read_rows(
        HEAD,
        ("G1", "rubber gloves", "0", "EN", "360", "13/01/26"),
        ("G2", "rubber gloves", "0", "EN", "360", "02/01/26"),
    )
    assert electrical(told.rows[1].fields)[0]["on"] == date(2026, 1, 2)
    untold = read_rows(HEAD, ("G2", "rubber gloves", "0", "EN", "360", "02/01/26"))
    assert keys(untold) == ["sheet.date-ambiguous"]
    assert "G2" in untold.bad_codes


@pytest.mark.parametrize(
    ("row", "key"),
    [
        (("G1", "rubber gloves", "0", "EN", "360", "2026-03-03"), "sheet.date-in-future"),
        (("G1", "rubber gloves", "4", "EN", "280", "2026-01-01"), "sheet.class-length"),
        (("G1", "rubber gloves", "0", "EN", "360", "=TODAY()"), "sheet.formula"),
        (("G1", "rubber gloves", "0", "EN", "360", "last spring"), "sheet.date-unreadable"),
        (("G1", "ruber glvoes", "0", "EN", "360", "2026-01-01"), "sheet.kind-unknown"),
        (("", "rubber gloves", "0", "EN", "360", "2026-01-01"), "sheet.code-missing"),
        (("G1", "rubber gloves", "7", "EN", "360", "2026-01-01"), "sheet.class-unreadable"),
        (("G1", "rubber gloves", "0", "EN", "360", "2026-01-01\x07"), "sheet.control-characters"),
        (("G1", "", "0", "EN", "360", "2026-01-01"), "sheet.kind-missing"),
    ],
)  # fmt: skip
def test_a_bad_row_is_named_and_the_others_are_used(row: tuple[str, ...], key: str, read_rows: CsvReader) -> None:
    sheet = read_rows(HEAD, ("G9", "rubber gloves", "0", "EN", "360", "2026-01-01"), row)
    if key == "sheet.kind-missing":
        # A blank kind is taken from above in a CSV, as of a merged cell.
        assert [one.code for one in sheet.rows] == ["G9", "G1"]
        return
    assert key in keys(sheet)
    assert [one.code for one in sheet.rows] == ["G9"]
    fault = next(one for one in sheet.faults if one.key == key)
    assert fault.place.row == 3


def test_a_code_that_stands_twice_makes_both_rows_bad(read_rows: CsvReader) -> None:
    sheet = read_rows(HEAD, *[(code, "rubber gloves", "0", "EN", "360", "2026-01-01") for code in ("G1", "g1", "G2")])
    assert [one.code for one in sheet.rows] == ["G2"]
    assert {fault.place.row for fault in sheet.faults} == {2, 3}


def test_merged_cells_are_carried_down_and_never_a_date(read_book: Book) -> None:
    def fill(book: xlsxwriter.Workbook) -> None:
        page = book.add_worksheet("Shelf")
        page.write_row(0, 0, ["Kind", "Code", "Class", "Standard", "Last test"])
        page.merge_range(1, 0, 3, 0, "Rubber gloves")
        for index in range(3):
            page.write_row(index + 1, 1, [f"G{index}", "0", "EN 60903"])
        page.merge_range(1, 4, 2, 4, "2026-01-01")

    sheet = read_book(fill)
    assert [one.code for one in sheet.rows] == ["G0", "G2"]
    assert keys(sheet) == ["sheet.merged-not-taken"]


def test_one_sheet_for_each_kind(read_book: Book) -> None:
    def fill(book: xlsxwriter.Workbook) -> None:
        gloves, leads = book.add_worksheet("Rubber gloves"), book.add_worksheet("Test leads")
        day = book.add_format({"num_format": "dd/mm/yy"})
        gloves.write_row(0, 0, ["Code", "Class", "Last test"])
        gloves.write_row(1, 0, ["G1", 0])
        gloves.write_datetime(1, 2, datetime(2026, 1, 5), day)  # noqa: DTZ001  # a spreadsheet's dates know no zone
        leads.write_row(0, 0, ["Code", "CAT rating"])
        leads.write_row(1, 0, ["L1", "CAT III 1000 V"])

    sheet = read_book(fill)
    assert [(one.code, one.fields["kind"]) for one in sheet.rows] == [("G1", "rubber-gloves"), ("L1", "test-leads")]
    assert electrical(sheet.rows[0].fields)[0]["on"] == date(2026, 1, 5)
    assert "sheet.note-kind-of-sheet" in noted(sheet)


def test_a_formula_in_a_workbook_is_named(read_book: Book) -> None:
    def fill(book: xlsxwriter.Workbook) -> None:
        page = book.add_worksheet("Rubber gloves")
        page.write_row(0, 0, ["Code", "Class", "Last test"])
        page.write_row(1, 0, ["G1", 0])
        page.write_formula(1, 2, "=TODAY()", None, 46000)

    assert "sheet.formula" in keys(read_book(fill))


@pytest.mark.parametrize(
    ("name", "content", "key"),
    [
        ("kit.csv", b"", "sheet.file-empty"),
        ("kit.csv", bytes(range(256)), "sheet.file-not-a-sheet"),
        ("kit.csv", b"dear crib\nsee you on Monday\n", "sheet.no-headings"),
        ("kit.csv", "Code,Kind\nG1,gants isol\u00e9s\n".encode("cp1252"), "sheet.encoding-unknown"),
        ("kit.xlsx", b"PK\x03\x04 not really", "sheet.file-damaged"),
        ("kit.csv", b"Code,Kind,Class\n", "sheet.no-rows"),
    ],
)
def test_what_is_no_sheet_is_one_fault_of_the_file(
    name: str, content: bytes, key: str, read_text: Callable[..., RegisterSheet]
) -> None:
    sheet = read_text(content, name=name)
    assert keys(sheet) == [key]
    assert sheet.rows == ()
    assert sheet.faults[0].place.row is None


def test_a_windows_file_is_read_when_its_encoding_is_said(read_text: Callable[..., RegisterSheet]) -> None:
    content = "Code,Kind,Class,Remarks\nG1,rubber gloves,0,caf\u00e9\n".encode("cp1252")
    assert [one.code for one in read_text(content, encoding="cp1252").rows] == ["G1"]


def test_folders_and_pipes_and_nothing(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.csv")
    (tmp_path / "folder.csv").mkdir()
    for name in ("pipe.csv", "folder.csv", "nothing.csv"):
        sheet = read_register_sheet(tmp_path / name, on=ON)
        assert sheet.rows == ()
        assert len(sheet.faults) == 1


def test_a_workbook_that_would_unpack_without_end_is_not_opened(tmp_path: Path) -> None:
    path = tmp_path / "bomb.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/workbook.xml", b"0" * 250_000_000)
    assert keys(read_register_sheet(path, on=ON)) == ["sheet.file-unpacks-too-large"]


@pytest.mark.parametrize("name", ["shelf.xlsx", "shelf.csv"])
def test_the_depots_own_sheet(name: str) -> None:
    sheet = read_register_sheet(Path(__file__).parents[2] / "demo_data" / name, on=ON)
    assert set(sheet.bad_codes) == {"G017", "G044", "G045", "L012"}
    assert len(sheet.rows) == 139
    for row in sheet.rows:
        assert read_piece(row.fields, "").code == row.code
        assert row.crib in ("Workshop crib", "Bus hall crib")


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(
    content=st.one_of(st.binary(max_size=400), st.text(max_size=400).map(str.encode)),
    ending=st.sampled_from([".csv", ".xlsx"]),
)
def test_nothing_whatever_is_raised(content: bytes, ending: str, tmp_path: Path) -> None:
    path = tmp_path / f"noise{ending}"
    path.write_bytes(content)
    read_register_sheet(path, on=ON)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(rows=st.lists(st.lists(st.text(max_size=12), min_size=6, max_size=6), max_size=6))
def test_rows_of_rubbish_are_faults_and_never_errors(rows: list[list[str]], read_rows: CsvReader) -> None:
    sheet = read_rows(HEAD, *rows)
    for row in sheet.rows:
        read_piece(row.fields, "")


def test_caps_said_to_be_unknown_stay_unknown(read_rows: CsvReader) -> None:
    sheet = read_rows(
        ("Code", "Kind", "Cat rating", "Fixed leads", "Tip caps"),
        ("D1", "voltage detector", "CAT III 1000 V", "yes", "unknown"),
    )
    assert fields_of(sheet, "D1")["caps"] == "unknown"
