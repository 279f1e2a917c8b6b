"""Cells of one row that do not agree, and what speaks against a piece: never lost on the way."""

from __future__ import annotations

import pytest

from tests.intake.conftest import CsvReader, fields_of, keys, noted

GLOVES = "rubber gloves"


def kinds_of_records(fields: dict[str, object]) -> list[tuple[object, object]]:
    found = fields["records"]
    assert isinstance(found, list)
    return [(one["what"], one.get("result", one.get("why"))) for one in found]


@pytest.mark.parametrize(
    ("head", "row", "key"),
    [
        (("Kind", "Class"), ("HV gloves class 00", "0"), "sheet.class-contradicts"),
        (("Kind", "Class", "Rubber type"), (GLOVES, "0 type I", "II"), "sheet.type-contradicts"),
        (("Kind", "Class", "Voltage"), (GLOVES, "0", "500 V"), "sheet.class-volts-disagree"),
        (("Kind", "Class", "Voltage"), (GLOVES, "0", "plenty"), "sheet.volts-unreadable"),
        (("Kind", "Voltage", "AC volts"), ("VDE pliers", "1000 V AC", "500"), "sheet.volts-contradict"),
        (("Kind", "Voltage"), ("VDE pliers", "1000 V"), "sheet.volts-current-missing"),
        (("Kind", "Class", "First issue", "Holder"), (GLOVES, "0", "never", "P3"), "sheet.never-but-out"),
        (("Kind", "Class", "Status", "Holder"), (GLOVES, "0", "out with P4", "P3"), "sheet.custody-contradicts"),
        (("Kind", "Class", "Status"), (GLOVES, "0", "out"), "sheet.out-with-nobody"),
        (("Kind", "Class", "Result"), (GLOVES, "0", "failed"), "sheet.result-without-date"),
        (("Kind", "Class", "Test volts"), (GLOVES, "0", "5 kV"), "sheet.result-without-date"),
        (("Kind", "Class", "Previous result"), (GLOVES, "0", "failed"), "sheet.result-without-date"),
        (("Kind", "Cal result"), ("DMM", "failed"), "sheet.result-without-date"),
        (("Kind", "Class", "Qty"), (GLOVES, "0", "4"), "sheet.quantity"),
        (
            ("Kind", "Class", "Last test", "Test volts", "AC/DC"),
            (GLOVES, "0", "2026-01-15", "5 kV DC", "AC"),
            "sheet.current-contradicts",
        ),
    ],
)
def test_contradictions_are_named(head: tuple[str, ...], row: tuple[str, ...], key: str, read_rows: CsvReader) -> None:
    sheet = read_rows(("Code", *head), ("G1", *row), ("M9", "DMM", *[""] * (len(head) - 1)))
    assert keys(sheet) == [key]
    assert [one.code for one in sheet.rows] == ["M9"]
    assert list(sheet.bad_codes) == ["G1"]
    assert sheet.faults[0].place.row == 2


@pytest.mark.parametrize("volts", ["1000 V", "1500", "1000 V AC / 1500 V DC", "?", ""])
def test_volts_that_agree_with_the_class_are_no_mark_of_their_own(volts: str, read_rows: CsvReader) -> None:
    fields = fields_of(read_rows(("Code", "Kind", "Class", "Voltage"), ("G1", GLOVES, "0", volts)), "G1")
    assert "voltage_mark" not in fields
    assert fields["class"] == "0"


def test_class_volts_are_not_compared_under_another_class_system(read_rows: CsvReader) -> None:
    head = ("Code", "Kind", "Class", "Standard", "Voltage")
    assert keys(read_rows(head, ("G1", GLOVES, "0", "GB/T 17622", "380 V"))) == []
    assert keys(read_rows(head, ("G1", GLOVES, "0", "EN 60903", "380 V"))) == ["sheet.class-volts-disagree"]


@pytest.mark.parametrize(
    ("head", "row", "records"),
    [
        # A failed result that no test and no calibration carries is a hold.
        (("Kind", "Last test", "Result"), ("DMM", "2026-01-05", "fail"), [("hold", "failed")]),
        (("Kind", "Calibrated", "Result"), ("DMM", "2026-01-05", "fail"), [("calibration", "failed")]),
        (
            ("Kind", "Calibrated", "Cal result", "Result"),
            ("DMM", "2026-01-05", "pass", "fail"),
            [("calibration", "passed"), ("hold", "failed")],
        ),
        (("Kind", "Cal result"), ("test leads", "failed"), [("hold", "failed")]),
        (("Kind", "Inspected", "Result"), ("leather overs", "2026-01-05", "fail"), [("hold", "failed")]),
        (("Kind", "Inspected", "Result"), ("leather overs", "2026-01-05", "pass"), [("inspection", None)]),
        (
            ("Kind", "Previous test", "Previous result", "Last test", "Result"),
            (GLOVES, "2025-07-01", "fail", "2026-01-05", "pass"),
            [("electrical-test", "failed"), ("electrical-test", "passed")],
        ),
        (
            ("Kind", "Last test or calibration"),
            ("DMM", "2026-01-05"),
            [("calibration", "passed")],
        ),
        (("Kind", "Last test or calibration"), (GLOVES, "2026-01-05"), [("electrical-test", "passed")]),
    ],
)
def test_what_speaks_against_a_piece_is_kept(
    head: tuple[str, ...], row: tuple[str, ...], records: list[tuple[str, object]], read_rows: CsvReader
) -> None:
    fields = fields_of(read_rows(("Code", *head), ("K1", *row)), "K1")
    assert kinds_of_records(fields) == records


def test_a_test_date_says_nothing_of_a_meters_calibration(read_rows: CsvReader) -> None:
    sheet = read_rows(("Code", "Kind", "Last test"), ("M1", "DMM", "2026-01-05"))
    assert fields_of(sheet, "M1")["records"] == []
    assert "sheet.note-not-for-kind" in noted(sheet)


def test_figures_alone_stay_beside_a_pass(read_rows: CsvReader) -> None:
    head = ("Code", "Kind", "Class", "Last test", "LH mA", "Occasion")
    fields = fields_of(read_rows(head, ("G1", GLOVES, "0", "2026-01-05", "25", "retest")), "G1")
    found = fields["records"]
    assert isinstance(found, list)
    assert (found[0]["left_ma"], found[0]["evidence"], found[0]["occasion"]) == (25, "sheet-only", "in-service")


def test_two_columns_for_one_thing_are_asked_about(read_rows: CsvReader) -> None:
    sheet = read_rows(("Code", "Kind", "Class", "Glove class"), ("G1", GLOVES, "0", "00"))
    assert keys(sheet) == ["sheet.heading-twice"]


def test_ditto_marks_for_words_and_never_for_days(read_rows: CsvReader) -> None:
    head = ("Code", "Kind", "Class", "Last test")
    sheet = read_rows(head, ("G1", GLOVES, "00", "2026-01-05"), ("G2", '"', "as above", ""), ("G3", "do.", "do", "do"))
    assert keys(sheet) == ["sheet.ditto-not-taken"]
    assert [(one.code, one.fields["class"]) for one in sheet.rows] == [("G1", "00"), ("G2", "00")]
    assert "sheet.note-ditto" in noted(sheet)


def test_a_ditto_mark_under_nothing(read_rows: CsvReader) -> None:
    assert keys(read_rows(("Code", "Kind", "Class"), ("G1", GLOVES, "ditto"))) == ["sheet.ditto-nothing-above"]
    apart = read_rows(("Code", "Kind", "Class"), ("G1", GLOVES, "0"), ("", "", ""), ("G2", GLOVES, '"'))
    assert keys(apart) == ["sheet.ditto-nothing-above"]
