"""Forms in which keepers write, one by one, through the whole reader: cell, row, record."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

import pytest
import xlsxwriter

from app.decision.domain.record import ElectricalTest, Hold
from app.intake.register_sheet import RegisterSheet
from tests.intake.conftest import ON, CsvReader, fields_of, keys, noted

Book = Callable[[Callable[[xlsxwriter.Workbook], None]], RegisterSheet]
Text = Callable[..., RegisterSheet]
GLOVES = "rubber gloves"


def records(fields: dict[str, object], what: str) -> list[dict[str, object]]:
    found = fields["records"]
    assert isinstance(found, list)
    return [one for one in found if one["what"] == what]


@pytest.mark.parametrize(
    ("kind", "written", "field", "expected"),
    [
        (GLOVES, "IEC 60903", "class_system", "iec"),
        (GLOVES, "EN 60903", "class_system", "iec"),
        (GLOVES, "ASTM D120", "class_system", "iec"),
        (GLOVES, "GB/T 17622", "class_system", "gb"),
        ("multimeter", "CAT III 1000V/CAT IV 600V", "marks", [["III", 1000], ["IV", 600]]),
        ("insulated spanner", "1000 V AC / 1500 V DC", "voltage_mark", {"ac_v": 1000, "dc_v": 1500}),
    ],
)
@pytest.mark.parametrize("heading", ["Mark", "Marking"])
def test_a_mark_is_what_is_printed_on_the_kind(
    kind: str, written: str, field: str, expected: object, heading: str, read_rows: CsvReader
) -> None:
    sheet = read_rows(("Code", "Kind", heading), ("A1", kind, written))
    assert fields_of(sheet, "A1")[field] == expected


@pytest.mark.parametrize(
    ("lab", "certificate", "method", "volts", "result", "evidence"),
    [
        ("", "", "", "", "passed", "sheet-only"),
        ("A lab", "77", "", "", "passed", "sheet-only"),
        ("A lab", "77", "IEC 60903", "", "passed", "stated-pass"),
        ("A lab", "77", "", "5 kV", "passed", "stated-pass"),
        ("A lab", "", "IEC 60903", "5 kV", "passed", "sheet-only"),
        ("", "77", "IEC 60903", "5 kV", "passed", "sheet-only"),
        ("A lab", "77", "IEC 60903", "", "failed", "sheet-only"),
        ("A lab", "77", "IEC 60903", "", "", "sheet-only"),
    ],
)
def test_a_pass_is_stated_by_laboratory_certificate_and_method_or_volts(
    lab: str, certificate: str, method: str, volts: str, result: str, evidence: str, read_rows: CsvReader
) -> None:
    sheet = read_rows(
        ("Code", "Kind", "Class", "Last test", "Lab", "Certificate no.", "Method", "Test volts", "Result"),
        ("G1", GLOVES, "0", "2026-01-15", lab, certificate, method, volts, result),
    )
    test = records(fields_of(sheet, "G1"), "electrical-test")[0]
    assert test["evidence"] == evidence
    assert (test.get("laboratory", ""), test.get("certificate", "")) == (lab, certificate)
    assert test["result"] == (result or "passed")


def test_one_figure_missing_makes_no_figures(read_rows: CsvReader) -> None:
    head = ("Code", "Kind", "Class", "Last test", "Test volts", "AC/DC", "Dwell (min)", "LH mA", "RH mA")
    row = ("G1", GLOVES, "0", "2026-01-15", "5000", "AC", "1,5", "7,5", "8")
    whole = records(fields_of(read_rows(head, row), "G1"), "electrical-test")[0]
    assert (whole["evidence"], whole["dwell_s"], whole["left_ma"], whole["right_ma"]) == ("figures", 90, 7.5, 8)
    for missing in range(4, 9):
        cells = ["" if index == missing else cell for index, cell in enumerate(row)]
        part = records(fields_of(read_rows(head, cells), "G1"), "electrical-test")[0]
        assert part["evidence"] == "sheet-only", head[missing]


@pytest.mark.parametrize(
    ("written", "custody", "lost", "records_of"),
    [
        ("in crib", "crib", None, []),
        ("OK", "crib", None, []),
        ("out with P03", "P03", None, []),
        ("with P03", "P03", None, []),
        ("held", "crib", None, ["hold"]),
        ("On hold", "crib", None, ["hold"]),
        ("quarantine", "crib", None, ["hold"]),
        ("Quarantined by the lab", "crib", None, ["hold"]),
        ("withdrawn", "crib", None, ["withdrawal"]),
        ("lost", "crib", True, ["hold"]),
        ("overdue", "crib", None, []),
    ],
)
def test_status_words(
    written: str, custody: str, lost: bool | None, records_of: list[str], read_rows: CsvReader
) -> None:
    fields = fields_of(read_rows(("Code", "Kind", "Class", "Status"), ("G1", GLOVES, "0", written)), "G1")
    assert (fields["custody"], fields.get("lost")) == (custody, lost)
    found = fields["records"]
    assert isinstance(found, list)
    assert [one["what"] for one in found] == records_of
    assert all(one["on"] == ON for one in found)


@pytest.mark.parametrize("written", ["perhaps", "out", "?"])
def test_a_status_that_says_nothing_stops_the_row(written: str, read_rows: CsvReader) -> None:
    sheet = read_rows(("Code", "Kind", "Class", "Status"), ("G1", GLOVES, "0", written))
    assert (sheet.rows, list(sheet.bad_codes)) == ((), ["G1"])


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("2025-02-01", date(2025, 2, 1)),
        ("1.2.2025", date(2025, 2, 1)),
        ("Mar 2025", "2025-03"),
        ("03/2025", "2025-03"),
        ("2025-W10", "2025-W10"),
        ("never", "never"),
        ("New", "never"),
        ("unused", "never"),
        ("?", "unknown"),
        ("", "unknown"),
        ("some time ago", "unknown"),
        ("2025", "unknown"),
    ],
)
@pytest.mark.parametrize("heading", ["In service since", "First issued"])
def test_first_issue(written: str, expected: object, heading: str, read_rows: CsvReader) -> None:
    sheet = read_rows(("Code", "Kind", "Class", heading), ("G1", GLOVES, "0", written))
    assert fields_of(sheet, "G1")["first_issue"] == expected


@pytest.mark.parametrize("heading", ["First issued", "Last test", "Previous test", "Look-over date", "Since"])
@pytest.mark.parametrize("written", ["2026-03-03", "04/2026", "2026-W11", "3.3.26"])
def test_no_date_lies_after_the_day_of_reading(heading: str, written: str, read_rows: CsvReader) -> None:
    sheet = read_rows(("Code", "Kind", "Class", heading), ("G1", GLOVES, "0", written))
    assert (keys(sheet), list(sheet.bad_codes)) == (["sheet.date-in-future"], ["G1"])


def test_the_day_of_reading_itself_is_no_future(read_rows: CsvReader) -> None:
    sheet = read_rows(
        ("Code", "Kind", "Class", "Last test"), ("G1", GLOVES, "0", "2.3.26"), ("G2", GLOVES, "0", "Mar 2026")
    )
    assert [records(row.fields, "electrical-test")[0]["on"] for row in sheet.rows] == [ON, "2026-03"]


def test_calibration_and_yearly_inspection(read_rows: CsvReader) -> None:
    sheet = read_rows(
        ("Code", "Kind", "CAT rating", "Calibrated on", "Calibration result", "Yearly look-over", "Calibration due"),
        ("M1", "multimeter", "CAT III 600V", "2025-11-24", "passed", "12 Jan 2026", "2026-11-24"),
        ("M2", "DMM", "CAT III 600V", "2025-11-24", "fail", "", ""),
    )
    first, second = (row.fields["records"] for row in sheet.rows)
    assert first == [
        {"what": "calibration", "on": date(2025, 11, 24), "result": "passed"},
        {"what": "inspection", "on": date(2026, 1, 12), "defects": []},
    ]
    assert second == [{"what": "calibration", "on": date(2025, 11, 24), "result": "failed"}]


def test_due_columns_are_shown_and_not_used(read_rows: CsvReader) -> None:
    sheet = read_rows(
        ("Code", "Kind", "Class", "Last test", "Next test", "Moon phase"),
        ("G1", GLOVES, "0", "2026-01-01", "2099-01-01", "full"),
    )
    assert "2099" not in str(fields_of(sheet, "G1"))
    assert "sheet.note-due-not-used" in noted(sheet)
    shown = {guess.heading: (guess.field, guess.how) for guess in sheet.columns}
    assert shown["Last test"] == ("tested_on", "exact")
    assert shown["Next test"] == (None, "exact")
    assert shown["Moon phase"] == (None, "unknown")


def test_month_first_columns_and_columns_that_disagree_with_themselves(read_rows: CsvReader) -> None:
    head = ("Code", "Kind", "Class", "Last test", "First issued")
    told = read_rows(head, ("G1", GLOVES, "0", "01/25/26", "13/01/25"), ("G2", GLOVES, "0", "01/02/26", "01/02/25"))
    assert records(told.rows[1].fields, "electrical-test")[0]["on"] == date(2026, 1, 2)
    assert told.rows[1].fields["first_issue"] == date(2025, 2, 1), "each column has its own order"
    assert {"sheet.note-month-first", "sheet.note-day-first"} <= noted(told)
    both = read_rows(
        head,
        ("G1", GLOVES, "0", "01/25/26", ""),
        ("G2", GLOVES, "0", "25/01/26", ""),
        ("G3", GLOVES, "0", "01/02/26", ""),
    )
    assert keys(both) == ["sheet.date-ambiguous"]
    assert list(both.bad_codes) == ["G3"]


@pytest.mark.parametrize(
    ("column", "kind", "written", "key"),
    [
        ("Max altitude", "multimeter", "2000 ft", "sheet.value-too-fine"),
        ("Bare tip mm", "test leads", "1.23456", "sheet.value-too-fine"),
        ("Max input V DC", "multimeter", "99999999999", "sheet.value-out-of-range"),
        ("Maker interval (years)", "multimeter", "0.3", "sheet.value-too-fine"),
        ("Max input", "multimeter", "99999999999 V AC/DC", "sheet.value-out-of-range"),
        ("Voltage mark", "insulated spanner", "99999999999 V AC", "sheet.value-out-of-range"),
        ("Max use AC", "insulated spanner", "1000.00001", "sheet.value-too-fine"),
        ("Fuse V", "multimeter", "99999999999", "sheet.value-out-of-range"),
        ("Fuse", "multimeter", "1000.00001 V DC HBC", "sheet.value-too-fine"),
        ("Arc rating", "face shield", "12.00001 cal", "sheet.value-too-fine"),
    ],
)
def test_a_figure_that_cannot_be_kept_stops_its_row_only(
    column: str, kind: str, written: str, key: str, read_rows: CsvReader
) -> None:
    sheet = read_rows(("Code", "Kind", column), ("A1", kind, written), ("A2", kind, ""))
    assert keys(sheet) == [key]
    assert ([row.code for row in sheet.rows], list(sheet.bad_codes)) == (["A2"], ["A1"])
    assert (sheet.faults[0].place.row, sheet.faults[0].place.column) == (2, "C")


def test_a_figure_of_a_record_that_cannot_be_kept_stops_its_row_only(read_rows: CsvReader) -> None:
    sheet = read_rows(
        ("Code", "Kind", "Class", "Last test", "Dwell s"),
        ("G1", GLOVES, "0", "2026-01-01", "0.5"),
        ("G2", GLOVES, "0", "", ""),
    )
    assert keys(sheet) == ["sheet.value-too-fine"]
    assert sheet.faults[0].place.column == "E"
    assert [row.code for row in sheet.rows] == ["G2"]


def test_rows_carry_the_piece_itself(read_rows: CsvReader) -> None:
    sheet = read_rows(
        ("Code", "Kind", "Class", "Size", "Length", "Last test", "Status"),
        ("G1", GLOVES, "Cl. 0", "9 1/2", "36 cm", "2026-01-01", "held"),
    )
    piece = sheet.rows[0].piece
    assert (piece.code, piece.kind, piece.insulation_class) == ("G1", "rubber-gloves", "0")
    assert (piece.size_c, piece.length_um) == (950, 360_000)
    assert [type(record) for record in piece.records] == [ElectricalTest, Hold]


@pytest.mark.parametrize(
    ("marked", "made"),
    [
        ("00", (280, 360)),
        ("0", (280, 360, 410, 460)),
        ("1", (360, 410, 460)),
        ("3", (360, 410, 460)),
        ("4", (410, 460)),
    ],
)
def test_class_and_length_that_do_not_exist_together(marked: str, made: tuple[int, ...], read_rows: CsvReader) -> None:
    lengths = sorted(
        {
            edge
            for length in (280, 360, 410, 460)
            for edge in (length - 16, length - 15, length, length + 15, length + 16)
        }
    )
    sheet = read_rows(
        ("Code", "Kind", "Class", "Length mm"),
        *((f"G{length}", GLOVES, f"class {marked}", length) for length in lengths),
    )
    good = {f"G{length}" for length in lengths if any(abs(length - one) <= 15 for one in made)}
    assert {row.code for row in sheet.rows} == good
    assert set(sheet.bad_codes) == {f"G{length}" for length in lengths} - good
    assert set(keys(sheet)) == {"sheet.class-length"}


# --- blanks, CSV and workbooks ---


def test_a_csv_fills_kind_and_crib_and_nothing_else(read_rows: CsvReader) -> None:
    sheet = read_rows(
        ("Crib", "Kind", "Code", "Class", "Last test", "Result", "Size"),
        ("North", GLOVES, "G1", "0", "2026-01-01", "passed", "10"),
        ("", "", "G2", "", "", "", ""),
        ("South", "", "G3", "00", "", "", ""),
        ("", "", "", "1", "2026-01-01", "", ""),
    )
    assert [(row.code, row.crib, row.fields["kind"]) for row in sheet.rows] == [
        ("G1", "North", "rubber-gloves"),
        ("G2", "North", "rubber-gloves"),
        ("G3", "South", "rubber-gloves"),
    ]
    assert sheet.rows[1].fields["records"] == []
    assert "class" not in sheet.rows[1].fields
    assert "size" not in sheet.rows[1].fields
    assert keys(sheet) == ["sheet.code-missing"]
    assert "sheet.note-blank-filled" in noted(sheet)


def test_a_short_row_of_a_csv_is_filled_as_well(read_text: Text) -> None:
    sheet = read_text("Code,Kind,Class,Crib\nG1,rubber gloves,0,North\nG2,rubber gloves,0\n")
    assert [row.crib for row in sheet.rows] == ["North", "North"]


def test_workbook_cells_as_the_keeper_sees_them(read_book: Book) -> None:
    def fill(book: xlsxwriter.Workbook) -> None:
        page = book.add_worksheet("Shelf")
        hidden = book.add_worksheet("Old")
        hidden.hide()
        hidden.write_row(0, 0, ["Code", "Kind", "Class"])
        month, padded = book.add_format({"num_format": "mmm-yy"}), book.add_format({"num_format": "00"})
        page.write(0, 0, "All our kit")
        page.write_row(2, 0, ["Crib", "Kind", "Code", "Class", "Last test", "Checked"])
        page.merge_range(3, 0, 5, 0, "North")
        page.merge_range(3, 1, 4, 1, "Rubber gloves")
        page.write_row(3, 2, ["G1"])
        page.write_number(3, 3, 0, padded)
        page.write_datetime(3, 4, datetime(2026, 1, 1), month)  # noqa: DTZ001  # a spreadsheet's dates know no zone
        page.write_row(4, 2, ["G2", 1, "15.1.2026"])
        page.write_row(5, 1, ["Rubber gloves", "G3", "Cl. 2", 46000])

    sheet = read_book(fill)
    assert [(row.code, row.crib, row.fields["class"]) for row in sheet.rows] == [
        ("G1", "North", "00"),
        ("G2", "North", "1"),
    ]
    assert [records(row.fields, "electrical-test")[0]["on"] for row in sheet.rows] == ["2026-01", date(2026, 1, 15)]
    assert keys(sheet) == ["sheet.date-number"]
    assert {"sheet.note-hidden-sheet", "sheet.note-title-rows", "sheet.note-merged"} <= noted(sheet)


def test_formulas_errors_and_characters_in_a_workbook(read_book: Book) -> None:
    def fill(book: xlsxwriter.Workbook) -> None:
        page = book.add_worksheet("Rubber gloves")
        page.write_row(0, 0, ["Code", "Class", "Last test", "Next test"])
        for row, code in enumerate(("G1", "G2", "G3", "G4", "G5"), 1):
            page.write_row(row, 0, [code, 1, "2026-01-01"])
        page.write_formula(1, 2, "=TODAY()", None, 46000)
        page.write_formula(2, 1, "=1/0", None, "#DIV/0!")
        page.write_string(3, 1, "1\u202e")
        page.write_formula(4, 3, "=C5+180", None, 46180)
        page.write_array_formula("B6:B6", "{=1}", None, 1)

    sheet = read_book(fill)
    assert [row.code for row in sheet.rows] == ["G4"], "a formula in a column that is not used stops nothing"
    assert sorted((fault.thing, fault.key) for fault in sheet.faults) == [
        ("G1", "sheet.formula"),
        ("G2", "sheet.formula"),
        ("G3", "sheet.control-characters"),
        ("G5", "sheet.formula"),
    ]


@pytest.mark.parametrize("written", ["=1+1", "+A1", "-A1", "@SUM(A1)", " =HYPERLINK(1)", "=cmd|' /C calc'!A0", "-2+3"])
@pytest.mark.parametrize("heading", ["Size", "Remarks"])
def test_formulas_in_a_csv(written: str, heading: str, read_rows: CsvReader) -> None:
    sheet = read_rows(("Code", "Kind", "Class", heading), ("G1", GLOVES, "0", written), ("G2", GLOVES, "0", ""))
    assert keys(sheet) == ["sheet.formula"]
    assert list(sheet.bad_codes) == ["G1"]


@pytest.mark.parametrize("written", ["-", "--", "\u2014", "-5", "+5", "-1,5 %"])
def test_dashes_and_numbers_are_no_formulas(written: str, read_rows: CsvReader) -> None:
    sheet = read_rows(("Code", "Kind", "Class", "Remarks"), ("G1", GLOVES, "0", written))
    assert [row.code for row in sheet.rows] == ["G1"]


def test_codes_doubled_across_sheets_and_in_bad_rows(read_book: Book) -> None:
    def fill(book: xlsxwriter.Workbook) -> None:
        for name in ("Rubber gloves", "Test leads"):
            page = book.add_worksheet(name)
            page.write_row(0, 0, ["Code", "Last look-over"])
            page.write_row(1, 0, ["A1", "2026-01-01"])
        page.write_row(2, 0, ["A2", "2026-01-01"])
        page.write_row(3, 0, ["A2", "in spring"])
        page.write_row(4, 0, ["A3", "2026-01-01"])

    sheet = read_book(fill)
    assert [row.code for row in sheet.rows] == ["A3"]
    assert set(sheet.bad_codes) == {"A1", "A2"}
    twice = [(f.place.sheet, f.place.row) for f in sheet.faults if f.key == "sheet.code-twice"]
    assert sorted(twice) == [("Rubber gloves", 2), ("Test leads", 2), ("Test leads", 3), ("Test leads", 4)]


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("codec", ["utf-8", "utf-8-sig", "utf-16"])
def test_delimiters_and_encodings(delimiter: str, codec: str, read_text: Text) -> None:
    rows = (("Code", "Kind", "Class", "Size"), ("G1", GLOVES, "0", '"9,5"'))
    sheet = read_text("\r\n".join(delimiter.join(row) for row in rows).encode(codec))
    assert fields_of(sheet, "G1")["size"] == 9.5
