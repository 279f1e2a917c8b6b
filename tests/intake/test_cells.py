from __future__ import annotations

from collections.abc import Callable
from datetime import date
from decimal import Decimal

import pytest

from app.intake import cells, mark_cells
from app.intake.cells import CellFault
from app.intake.day_cells import DayOrder, day, earliest, order_of
from app.intake.kind_words import kind_of
from app.intake.piece_columns import class_system

UNDECIDED = DayOrder()


def fault(read: Callable[[], object]) -> str:
    with pytest.raises(CellFault) as caught:
        read()
    return caught.value.key


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("2026-03-01", date(2026, 3, 1)),
        ("2026/3/1", date(2026, 3, 1)),
        ("2026-03-01 00:00:00", date(2026, 3, 1)),
        ("2026-03-01T10:15", date(2026, 3, 1)),
        ("1.3.2026", date(2026, 3, 1)),
        ("01.03.26", date(2026, 3, 1)),
        ("25/12/25", date(2025, 12, 25)),
        ("12/25/2025", date(2025, 12, 25)),
        ("03/03/26", date(2026, 3, 3)),
        ("1 Mar 2026", date(2026, 3, 1)),
        ("1-Mar-26", date(2026, 3, 1)),
        ("1st March 2026", date(2026, 3, 1)),
        ("March 1, 2026", date(2026, 3, 1)),
        ("29 Feb 2024", date(2024, 2, 29)),
        ("Mar 2026", "2026-03"),
        ("Sept. 2025", "2025-09"),
        ("Mar-26", "2026-03"),
        ("03/2026", "2026-03"),
        ("3.2026", "2026-03"),
        ("2026-03", "2026-03"),
        ("2025-W10", "2025-W10"),
        ("2025W1", "2025-W01"),
        ("week 10 2025", "2025-W10"),
        ("CW 10/2025", "2025-W10"),
        ("2020-W53", "2020-W53"),
        (date(2026, 1, 31), date(2026, 1, 31)),
    ],
)
def test_dates_in_every_form(written: str | date, expected: object) -> None:
    assert day(written, UNDECIDED) == expected


@pytest.mark.parametrize(
    ("written", "key"),
    [
        ("01/03/26", "sheet.date-ambiguous"),
        ("1-3-2026", "sheet.date-ambiguous"),
        ("26-03-01", "sheet.date-two-digits"),
        ("31.02.2026", "sheet.date-impossible"),
        ("2025-W53", "sheet.date-impossible"),
        ("13/2026", "sheet.date-impossible"),
        ("0.1.2026", "sheet.date-impossible"),
        ("13/13/2026", "sheet.date-impossible"),
        ("spring", "sheet.date-unreadable"),
        ("3/26", "sheet.date-unreadable"),
        ("Q1 2026", "sheet.date-unreadable"),
        (46082, "sheet.date-number"),
        (20260301, "sheet.date-number"),
    ],
)
def test_dates_that_are_asked_about(written: str | int, key: str) -> None:
    assert fault(lambda: day(written, UNDECIDED)) == key


def test_column_decides_the_order_of_day_and_month() -> None:
    assert order_of(["01/03/26", "25/03/26"]).stroked == "day-first"
    assert order_of(["01/03/26", "03/25/26"]).stroked == "month-first"
    assert order_of(["25/03/26", "03/25/26"]).stroked == "unknown"
    assert order_of(["01/03/26", "13-03-26"]).stroked == "unknown", "13-03-26 may begin with the year"
    assert day("01/03/26", DayOrder("day-first")) == date(2026, 3, 1)
    assert day("01/03/26", DayOrder("month-first")) == date(2026, 1, 3)
    assert order_of(["03.25.2026"]).dotted == "month-first"


def test_earliest_day_of_vague_dates() -> None:
    assert earliest("2025-03") == date(2025, 3, 1)
    assert earliest("2025-W10") == date(2025, 3, 3)


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("Cl. 0", {"class": "0"}),
        ("class 00", {"class": "00"}),
        ("0", {"class": "0"}),
        (0, {"class": "0"}),
        ("CLASS-2", {"class": "2"}),
        ("class 0 (red)", {"class": "0"}),
        ("Class 00 Type II", {"class": "00", "type": "II"}),
        ("1 / I", None),
        ("class O", None),
        ("5", None),
        ("0/00", None),
        ("class 0 (beige)", None),
        ("000", None),
    ],
)
def test_classes(written: str | int, expected: dict[str, object] | None) -> None:
    if expected is None:
        assert fault(lambda: cells.insulation_class(written)) == "sheet.class-unreadable"
    else:
        assert cells.insulation_class(written) == expected


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("CAT III 1000V/CAT IV 600V", [["III", 1000], ["IV", 600]]),
        ("CATIII 1000 V", [["III", 1000]]),
        ("CATIII1000V", [["III", 1000]]),
        ("1000V CAT III", [["III", 1000]]),
        ("1000V CAT III / 600V CAT IV", [["III", 1000], ["IV", 600]]),
        ("CAT III 1000V CAT IV 600V", [["III", 1000], ["IV", 600]]),
        ("Cat. III-1 kV", [["III", 1000]]),
        ("CAT 3 600V", [["III", 600]]),
        ("III 690", [["III", 690]]),
        ("CAT III (1000 V AC/DC)", [["III", 1000]]),
        ("CAT I 1000 V", [["I", 1000]]),
        ("CAT V 1000V", "sheet.category-unknown"),
        ("CAT IIII 1000V", "sheet.category-unknown"),
        ("IIII 1000V", "sheet.category-unknown"),
        ("CAT 5 1000V", "sheet.category-unknown"),
        ("CAT lll 1000V", "sheet.category-unknown"),
        ("CAT III", "sheet.category-without-volts"),
        ("CAT III/CAT IV 600V", "sheet.mark-unreadable"),
        ("CAT III 1,000V", "sheet.thousands"),
        ("CAT III 1 000 V", "sheet.mark-unreadable"),
        ("CAT III 1000V/CAT III 600V", "sheet.category-twice"),
        ("CAT III 1000 V AC", "sheet.mark-unreadable"),
        ("good one", "sheet.mark-unreadable"),
    ],
)
def test_category_marks(written: str, expected: object) -> None:
    if isinstance(expected, str):
        assert fault(lambda: mark_cells.category_marks(written)) == expected
    else:
        assert mark_cells.category_marks(written) == expected


@pytest.mark.parametrize(
    ("written", "default", "expected"),
    [
        ("1000 V AC / 1500 V DC", "", {"ac": 1000, "dc": 1500}),
        ("AC 1000 V, DC 1500 V", "", {"ac": 1000, "dc": 1500}),
        ("1000VAC/1500VDC", "", {"ac": 1000, "dc": 1500}),
        ("1000V~ 1500V\u2393", "", {"ac": 1000, "dc": 1500}),
        ("1000/1500 V AC/DC", "", {"ac": 1000, "dc": 1500}),
        ("1 kV AC", "", {"ac": 1000}),
        ("1000 V AC/DC", "", {"ac": 1000, "dc": 1000}),
        ("1500", "dc", {"dc": 1500}),
        (1500, "dc", {"dc": 1500}),
        ("1000 V", "acdc", {"ac": 1000, "dc": 1000}),
        ("1000 V", "", "sheet.volts-current-missing"),
        ("1000 V DC", "ac", "sheet.volts-unreadable"),
        ("1,000 V AC", "", "sheet.thousands"),
        ("1.000 V AC", "", "sheet.thousands"),
        ("high", "", "sheet.volts-unreadable"),
        ("AC", "", "sheet.volts-unreadable"),
        ("1000 V AC / 1500 V AC", "", "sheet.volts-unreadable"),
    ],
)
def test_voltage_marks(written: str | int, default: str, expected: object) -> None:
    if isinstance(expected, str):
        assert fault(lambda: mark_cells.volts_by_current(written, default)) == expected
    else:
        assert mark_cells.volts_by_current(written, default) == expected


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("10", 10),
        (10, 10),
        (9.5, 9.5),
        ("10,5", 10.5),
        ("10.5", 10.5),
        ("9 1/2", 9.5),
        ("9\u00bd", 9.5),
        ("Size 9 \u00bd", 9.5),
        ("10 in", 10),
        ("L", None),
        ("360", None),
        ("9-10", None),
    ],
)
def test_sizes(written: str | float, expected: float | None) -> None:
    if expected is None:
        assert fault(lambda: cells.size(written)) == "sheet.size-unreadable"
    else:
        assert cells.size(written) == expected


def test_size_turned_into_a_date_is_said() -> None:
    assert fault(lambda: cells.size(date(2026, 10, 9))) == "sheet.number-is-date"


@pytest.mark.parametrize(
    ("written", "unit", "expected"),
    [
        ("360", "", 360),
        (360, "", 360),
        ("360mm", "", 360),
        ("36 cm", "", 360),
        ("36,0 cm", "", 360),
        ("0.36 m", "", 360),
        ("14 in", "", 360),
        ('14"', "", 360),
        ("14", "in", 360),
        ("18 inches", "", 460),
        ("15 in", "", 381),
        ("36", "cm", 360),
        ("14", "", "sheet.unit-missing"),
        ("36", "", "sheet.unit-missing"),
        ("36 furlongs", "", "sheet.unit-unknown"),
        ("1.200 mm", "", "sheet.thousands"),
        ("long", "", "sheet.number-unreadable"),
    ],
)
def test_lengths(written: str | int, unit: str, expected: object) -> None:
    if isinstance(expected, str):
        assert fault(lambda: cells.length_mm(written, unit)) == expected
    else:
        assert cells.length_mm(written, unit) == expected


@pytest.mark.parametrize("written", ["1,000", "1.000", "1 000", "12,345.6", "1'000", "1\u2019000"])
def test_thousands_marks_are_refused(written: str) -> None:
    assert fault(lambda: cells.number(written)) == "sheet.thousands"


@pytest.mark.parametrize(
    ("written", "expected"), [("0,175", "0.175"), ("8,2", "8.2"), ("8.25", "8.25"), ("1000", "1000")]
)
def test_decimal_comma_and_point(written: str, expected: str) -> None:
    assert cells.number(written) == Decimal(expected)


@pytest.mark.parametrize("written", ["-5", "+5", "1e3", "\u0663", "1..2", ""])
def test_what_is_no_number(written: str) -> None:
    assert fault(lambda: cells.number(written)) == "sheet.number-unreadable"


def test_yes_no_and_results() -> None:
    assert [cells.yes_no(w) for w in ("yes", "Y", "TRUE", "x", 1, "\u2713")] == [True] * 6
    assert [cells.yes_no(w) for w in ("no", "N", "false", 0, "none")] == [False] * 5
    assert fault(lambda: cells.yes_no("maybe")) == "sheet.word-unknown"
    assert [cells.result(w) for w in ("Pass", "OK", "passed.")] == ["passed"] * 3
    assert [cells.result(w) for w in ("FAIL", "not ok", "rejected")] == ["failed"] * 3
    assert fault(lambda: cells.result("pending")) == "sheet.result-unknown"
    assert fault(lambda: cells.result("?")) == "sheet.result-unknown"


def test_proof_volts() -> None:
    assert cells.proof_volts("5 kV AC") == {"test_v": 5000, "kind_of_current": "ac"}
    assert cells.proof_volts("5000") == {"test_v": 5000}
    assert cells.proof_volts("5", "kv") == {"test_v": 5000}
    assert cells.proof_volts(2.5, "kv") == {"test_v": 2500}
    assert fault(lambda: cells.proof_volts("5")) == "sheet.unit-missing"


def test_fuses() -> None:
    assert mark_cells.fuse("1000 V AC/DC HBC, 440 mA") == {"v": 1000, "kind": "hbc", "ac_only": False}
    assert mark_cells.fuse("HRC 600V AC") == {"v": 600, "kind": "hbc", "ac_only": True}
    assert mark_cells.fuse("250V glass") == {"v": 250, "kind": "glass"}
    assert fault(lambda: mark_cells.fuse("10 A")) == "sheet.fuse-unreadable"


def test_class_systems_and_letters() -> None:
    assert [class_system(w) for w in ("ASTM", "EN 60903", "IEC 60903:2014", "GB/T 17622", "JIS")] == [
        "iec",
        "iec",
        "iec",
        "gb",
        "jp",
    ]
    assert fault(lambda: class_system("house")) == "sheet.word-unknown"
    assert cells.glove_categories("RC") == ["R", "C"]
    assert cells.glove_categories("A / H / Z") == ["A", "H", "Z"]
    assert fault(lambda: cells.glove_categories("RX")) == "sheet.word-unknown"


@pytest.mark.parametrize(
    ("written", "kind"),
    [
        ("HV gloves", "rubber-gloves"),
        ("rubber gloves", "rubber-gloves"),
        ("Class 0 rubber gloves size 10", "rubber-gloves"),
        ("leather overs", "leather-protectors"),
        ("leather gloves", "leather-protectors"),
        ("composite gloves", "composite-gloves"),
        ("rubber sleeves", "rubber-sleeves"),
        ("blanket", "insulating-blanket"),
        ("rubber mat", "insulating-matting"),
        ("dielectric boots", "dielectric-footwear"),
        ("line hose", "line-hose"),
        ("insulating covers", "insulating-cover"),
        ("face shield", "arc-face-shield"),
        ("arc flash visor 12 cal", "arc-face-shield"),
        ("VDE screwdriver", "insulated-tool"),
        ("insulated spanner 10 mm", "insulated-tool"),
        ("torque wrench", "torque-tool"),
        ("DMM", "multimeter"),
        ("voltage tester", "two-pole-detector"),
        ("2-pole tester", "two-pole-detector"),
        ("clamp meter", "clamp-meter"),
        ("insulation tester", "insulation-tester"),
        ("lead set", "test-leads"),
        ("crocs", "tip-or-clip"),
        ("proving unit", "proving-unit"),
        ("hook", "rescue-hook"),
        ("barriers", "barrier-set"),
        ("lock-off kit", "lock-off-set"),
        ("lock-off-set", "lock-off-set"),
    ],
)
def test_words_of_keepers_for_kinds(written: str, kind: str) -> None:
    assert kind_of(written) == kind


@pytest.mark.parametrize(
    ("written", "near"),
    [
        ("glove bag", "rubber-gloves"),
        ("non-contact voltage tester", "two-pole-detector"),
        ("rubber glvoes", "rubber-gloves"),
        ("multimetre", "multimeter"),
    ],
)
def test_unknown_kinds_name_the_nearest(written: str, near: str) -> None:
    with pytest.raises(CellFault) as caught:
        kind_of(written)
    assert caught.value.key == "sheet.kind-unknown"
    assert caught.value.values["expected"] == near


def test_bare_screwdriver_is_no_insulated_tool() -> None:
    assert fault(lambda: kind_of("screwdriver")) == "sheet.kind-unknown"
