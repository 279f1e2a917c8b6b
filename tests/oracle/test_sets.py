"""The second judge by rule set: days and figures worked out by hand from the rules and the tables, not by the judge."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from . import judge

TESTED = date(2025, 8, 31)
ON = date(2025, 9, 1)
EARLIER = date(2024, 1, 10)
IN_DATE = "electrical-test-in-date"
# kind, class, fields, sets, last good day; tested on 2025-08-31, judged on 2025-09-01 (F never is then 2025-09-01).
CLOCK = [
    ("rubber-gloves", "0", {"first_issue": EARLIER}, ["us-osha-137"], date(2026, 2, 27)),
    ("rubber-gloves", "0", {"first_issue": "never"}, ["us-osha-137"], date(2026, 2, 28)),
    ("rubber-gloves", "0", {"first_issue": "never"}, ["us-nfpa-70e"], date(2026, 2, 28)),
    ("composite-gloves", "1", {"first_issue": "never"}, ["iec-60903-2014"], date(2026, 2, 28)),
    ("rubber-gloves", "0", {"first_issue": "never"}, ["as-nzs"], date(2026, 2, 28)),
    ("rubber-gloves", "0", {"first_issue": "never"}, ["us-wa-electrical"], date(2026, 2, 27)),
    ("rubber-gloves", "0", {"first_issue": "never"}, ["en-60903-2003"], date(2026, 2, 27)),
    ("rubber-gloves", "0", {"first_issue": "never"}, ["de-dguv"], date(2026, 2, 27)),
    ("rubber-gloves", "0", {"first_issue": "never", "class_system": "jp"}, ["jp-351"], date(2026, 2, 27)),
    ("rubber-gloves", "0", {"first_issue": "never", "class_system": "gb"}, ["gb-17622"], date(2026, 2, 27)),
    ("rubber-gloves", "0", {"first_issue": "never"}, ["us-osha-137", "de-dguv"], date(2026, 2, 27)),
    ("rubber-gloves", "0", {"first_issue": "never", "material": "natural"}, ["us-telecom-268"], date(2026, 8, 30)),
    ("rubber-gloves", "0", {"first_issue": TESTED, "material": "natural"}, ["us-telecom-268"], date(2026, 5, 30)),
    ("rubber-gloves", "0", {"first_issue": "never", "material": "synthetic"}, ["us-telecom-268"], date(2027, 2, 27)),
    ("rubber-gloves", "0", {"material": "synthetic"}, ["us-telecom-268"], date(2026, 11, 29)),
    ("rubber-sleeves", "1", {"first_issue": EARLIER}, ["us-osha-137"], date(2026, 8, 30)),
    ("insulating-blanket", "0", {"first_issue": "never"}, ["en-60903-2003"], date(2026, 8, 30)),
    ("rubber-sleeves", "1", {"first_issue": EARLIER}, ["us-wa-electrical"], date(2026, 2, 27)),
    ("line-hose", "2", {}, ["us-wa-electrical"], date(2026, 2, 27)),
    ("insulating-matting", "1", {"first_issue": "never"}, ["de-dguv"], date(2026, 8, 30)),
    ("rubber-gloves", "0", {"first_issue": EARLIER, "maker_interval_months": 3}, ["de-dguv"], date(2025, 11, 29)),
]
NOT_ASKED = [
    ("line-hose", "0", "us-osha-137"),
    ("insulating-cover", "2", "iec-60903-2014"),
    ("insulating-matting", "2", "us-osha-137"),
    ("insulating-matting", "0", "iec-60903-2014"),
    ("dielectric-footwear", "0", "en-60903-2003"),
]


def outcome(rule: str, piece: dict[str, Any], sets: list[str], **more: Any) -> dict[str, Any]:
    case: dict[str, Any] = {"id": "S", "level": "finding", "rule_sets": sets, "on": ON, "pieces": [piece], **more}
    case["expect"] = {"findings": [{"rule": rule, "subject": "E1"}]}
    return next(f for f in judge(case)["findings"] if f["rule"] == rule)


def piece(kind: str, goods_class: str, *records: dict[str, Any], **fields: Any) -> dict[str, Any]:
    return {"code": "E1", "kind": kind, "class": goods_class, "class_system": "iec", **fields, "records": list(records)}


@pytest.mark.parametrize(("kind", "goods_class", "fields", "sets", "last_good"), CLOCK)
def test_clock(kind: str, goods_class: str, fields: dict[str, Any], sets: list[str], last_good: date) -> None:
    tested = {"what": "electrical-test", "on": TESTED, "result": "passed"}
    found = outcome(IN_DATE, piece(kind, goods_class, tested, **fields), sets)
    assert (found["outcome"], found["good_until"]) == ("met", last_good)


@pytest.mark.parametrize(("kind", "goods_class", "name"), NOT_ASKED)
def test_no_test_is_asked_but_a_failed_one_refuses(kind: str, goods_class: str, name: str) -> None:
    assert outcome(IN_DATE, piece(kind, goods_class), [name])["outcome"] == "met"
    failed = {"what": "electrical-test", "on": TESTED, "result": "failed"}
    assert outcome(IN_DATE, piece(kind, goods_class, failed), [name])["outcome"] == "not-met"
    assert outcome("not-held", piece(kind, goods_class, failed), [name])["outcome"] == "not-met"


def test_material_unknown_cannot_be_told_and_is_over_after_the_longest() -> None:
    for tested, expected in ((TESTED, "cannot-tell"), (date(2024, 1, 1), "not-met")):
        record = {"what": "electrical-test", "on": tested, "result": "passed"}
        assert outcome(IN_DATE, piece("rubber-gloves", "0", record), ["us-telecom-268"])["outcome"] == expected


@pytest.mark.parametrize(
    ("name", "current", "milliamperes", "hertz", "expected"),
    [
        ("us-osha-137", "ac", 12.0, 60, "met"),
        ("us-osha-137", "ac", 12.1, 60, "not-met"),
        ("us-osha-137", "ac", 10.1, 50, "not-met"),
        ("iec-60903-2014", "ac", 14.0, 50, "met"),
        ("iec-60903-2014", "ac", 14.1, 60, "not-met"),
        ("us-osha-137", "dc", 1.0, 60, "met"),
        ("iec-60903-2014", "dc", 1.0, 60, "not-met"),
    ],
)
def test_figures_by_table(name: str, current: str, milliamperes: float, hertz: int, expected: str) -> None:
    test = {"what": "electrical-test", "on": TESTED, "evidence": "figures", "occasion": "in-service", "dwell_s": 60}
    test |= {"kind_of_current": current, "frequency_hz": hertz, "left_ma": milliamperes, "right_ma": 1.0}
    test["test_v"] = 5000 if current == "ac" else 20000
    found = outcome("electrical-test-counts", piece("rubber-gloves", "0", test, length_mm=360), [name])
    assert found["outcome"] == expected


@pytest.mark.parametrize(
    ("kind", "fields", "name", "supply", "volts", "expected"),
    [
        ("rubber-gloves", {"class_system": "gb"}, "gb-17622", "ac-single-phase", 380, "met"),
        ("rubber-gloves", {"class_system": "gb"}, "gb-17622", "ac-single-phase", 381, "not-met"),
        ("rubber-gloves", {"class_system": "gb"}, "gb-17622", "isolated-dc", 100, "cannot-tell"),
        ("rubber-gloves", {"class_system": "jp"}, "jp-351", "ac-single-phase", 100, "cannot-tell"),
        ("rubber-gloves", {}, "gb-17622", "ac-single-phase", 100, "cannot-tell"),
        ("rubber-sleeves", {}, "us-osha-137", "isolated-dc", 1500, "met"),
        ("rubber-sleeves", {}, "us-osha-137", "isolated-dc", 1501, "not-met"),
        ("dielectric-footwear", {"dc_tested": True}, "de-dguv", "isolated-dc", 800, "met"),
        ("dielectric-footwear", {"dc_tested": False}, "us-osha-137", "isolated-dc", 100, "not-met"),
        ("dielectric-footwear", {"dc_tested": False}, "us-osha-137", "ac-single-phase", 1000, "met"),
    ],
)
def test_class_limits(kind: str, fields: dict[str, Any], name: str, supply: str, volts: int, expected: str) -> None:
    job = {"circuits": [{"key": "c", "supply": supply, "maker_max_v": volts}]}
    found = outcome("insulation-class-stands-voltage", piece(kind, "0", **fields), [name], job=job)
    assert found["outcome"] == expected
