from __future__ import annotations

import pytest

from app.decision.kinds import kinds
from app.intake.headings import find_heading_row, guess, known
from app.intake.piece_columns import PARSERS, column_for


@pytest.mark.parametrize(
    ("heading", "field", "how"),
    [
        ("Code", "code", "exact"),
        ("Glove #", "code", "exact"),
        ("Asset No.", "code", "exact"),
        ("LAST TEST", "tested_on", "exact"),
        ("Date tested", "tested_on", "exact"),
        ("Test voltage (kV)", "test_v", "exact"),
        ("length_mm", "length_mm", "exact"),
        ("max_input_dc_v", "max_input_dc", "exact"),
        ("In-service since", "first_issue", "exact"),
        ("Measurment category", "marks", "likely"),
        ("Previous test", "previous_on", "exact"),
        ("Next test due", None, "exact"),
        ("Maker", None, "exact"),
        ("Batch", "batch", "exact"),
        ("Lot no.", "batch", "exact"),
        ("Moon phase", None, "unknown"),
        ("", None, "unknown"),
    ],
)
def test_headings_in_any_wording(heading: str, field: str | None, how: str) -> None:
    found = guess(heading)
    assert (found.field, found.how) == (field, how)


def test_units_and_currents_stand_in_headings() -> None:
    assert guess("Length (mm)").unit == "mm"
    assert guess("Length in").unit == "in"
    assert guess("Dwell (min)").unit == "min"
    assert guess("LH mA").unit == "ma"
    assert guess("Threshold DC (V)").current == "dc"


def test_title_rows_are_passed_over() -> None:
    rows = (("Quarry Lane Depot", None), ("register", "2026"), (), ("Code", "Kind", "Class"), ("G1", "gloves", "0"))
    assert find_heading_row(rows) == 3
    assert find_heading_row((("G1", "gloves", "0"),)) is None


def test_due_columns_are_known_and_unused() -> None:
    assert guess("Due date").is_due
    assert guess("Next calibration").is_due
    assert not guess("Last calibration").is_due


@pytest.mark.parametrize(
    "heading",
    [
        "class",
        "type",
        "categories",
        "marks",
        "size",
        "caps",
        "fuse",
        "tip_mm",
        "leather_mm",
        "cut_for_class",
        "output_dc_v",
        "threshold_ac_v",
        "arc_rating_cal",
        "hood",
        "maker_interval_months",
        "first_issue",
        "custody",
        "max_altitude_m",
        "current_a",
        "fixed_leads",
        "dc_tested",
        "material",
        "class_system",
        "voltage_mark",
        "marks_cap_off",
        "window_rating_cal",
        "fabric_rating_cal",
        "balaclava",
        "max_input_ac_v",
        "leather",
        "code",
        "kind",
    ],
)
def test_keys_of_the_case_format_are_headings(heading: str) -> None:
    assert guess(heading).field is not None


def test_every_column_of_every_kind_can_be_read() -> None:
    for field in set(known().values()):
        if field in ("code", "serial", "kind", "type_or_kind", "due", "about", "reason"):
            continue
        names = {column_for(kind, field, "CAT III 600 V") for kind in kinds()} - {None}
        assert names, field
        assert all(name in PARSERS or name == "status" for name in names), field
