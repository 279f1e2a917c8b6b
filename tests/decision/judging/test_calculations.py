"""Calculations: what they answer, and where they refuse to answer."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from msgspec.structs import replace

from app.decision.domain.errors import BadInput
from app.decision.fields.reading import read_table
from app.decision.fields.words import CALCULATIONS
from app.decision.judging.calculation import Answer, Law
from app.decision.judging.catalogues import calculations, catalogues

LAW = Law(catalogues().rule_sets, catalogues().house)


def work(what: str, law: Law = LAW, **ask: Any) -> Answer:
    calculation = calculations()[what]
    return calculation.work(read_table(ask, calculation.takes, {}, ""), law)


def test_every_calculation_stands_under_a_word_of_the_format() -> None:
    assert set(calculations()) <= set(CALCULATIONS)
    assert all(key == one.key for key, one in calculations().items())


@pytest.mark.parametrize(
    ("what", "ask", "value", "unit"),
    [
        ("class-limit-v", {"class": "00", "supply": "ac-single-phase"}, 500, "V"),
        ("class-limit-v", {"class": "00", "supply": "inverter-output"}, 750, "V"),
        ("class-limit-v", {"class": "4", "class_system": "iec"}, 54_000, "V"),
        ("retest-test-v", {"class": "0", "kind_of_current": "dc"}, 20_000, "V"),
        ("retest-test-v", {"class": "0"}, 5000, "V"),
        ("leakage-limit-ma", {"class": "0", "length_mm": 360}, 12, "mA"),
        ("leakage-limit-ma", {"class": "0", "length_mm": 360, "hz": 50}, 10, "mA"),
        ("leakage-limit-ma", {"class": "0", "length_mm": 360, "soaked": True}, 14, "mA"),
        ("clearance-mm", {"class": "2"}, 51, "mm"),
        ("clearance-mm", {"class": "0", "table": "astm-f496"}, 13, "mm"),
        ("clearance-mm", {"class": "0", "clearance_table": "astm-f496"}, 13, "mm"),
        ("chain-offers", {"members": [{"marks": [["III", 1000]]}, {"marks": [["IV", 600]]}]}, 600, "V"),
        ("chain-offers", {"members": [{"marks": [["III", 1000]]}], "category": "IV"}, 0, "V"),
        ("chain-offers", {"members": [{"current_a": 10}, {"current_a": 0.4}], "quantity": "current"}, 0.4, "A"),
        ("voltage-class", {"v": 60}, "A", None),
        ("voltage-class", {"v": 60, "supply": "ac-single-phase"}, "B", None),
        ("working-voltage", {"cells": {"series": 198, "chemistry": "nmc", "max_v": 4.2}}, 831.6, "V"),
        ("required-voltage", {"cells": {"series": 198, "chemistry": "nmc", "max_v": 4.2}}, 914.76, "V"),
        ("required-voltage", {"maker_max_v": 400, "margin_percent": 20}, 480, "V"),
        ("impulse-v", {"category": "III", "volts": 600}, 6000, "V"),
        ("impulse-v", {"category": "IV", "volts": 600.001}, 12_000, "V"),
        ("retest-due", {"test_on": "2025-08-04", "first_issue": "2025-09-15"}, date(2026, 3, 15), None),
        ("retest-due", {"test_on": "2025-08-04"}, date(2026, 2, 4), None),
        ("retest-due", {"test_on": "2025-08-04", "maker_interval_months": 3}, date(2025, 11, 4), None),
        ("retest-due", {"test_on": "2025-08-04", "first_issue": "2026-08-01", "clock": "issue-only"},
         date(2027, 2, 1), None),
        ("retest-due", {"test_on": "2025-08-04", "kind": "leather-protectors"}, "none", None),
    ],
)  # fmt: skip
def test_an_answer(what: str, ask: dict[str, Any], value: object, unit: str | None) -> None:
    answer = work(what, **ask)
    assert answer.value == pytest.approx(value) if isinstance(value, float) else answer.value == value
    assert answer.unit == unit


@pytest.mark.parametrize(
    ("what", "ask", "key"),
    [
        ("class-limit-v", {}, "calculation.no-limit"),
        ("class-limit-v", {"class": "0", "class_system": "jp"}, "calculation.no-limit"),
        ("retest-test-v", {"class": "0", "class_system": "gb"}, "calculation.no-limit"),
        ("retest-test-v", {}, "calculation.no-limit"),
        ("leakage-limit-ma", {"class": "1", "length_mm": 280}, "calculation.no-limit"),
        ("leakage-limit-ma", {"class": "00", "length_mm": 360, "table": "gb"}, "calculation.no-limit"),
        ("leakage-limit-ma", {"class": "0"}, "calculation.no-limit"),
        ("clearance-mm", {}, "calculation.no-limit"),
        ("chain-offers", {}, "calculation.figure-missing"),
        ("chain-offers", {"members": [{"code": "W1"}]}, "calculation.figure-missing"),
        ("chain-offers", {"members": [{"current_a": 10}, {}], "quantity": "current"}, "calculation.figure-missing"),
        ("voltage-class", {}, "calculation.figure-missing"),
        ("working-voltage", {"nominal_v": 355}, "calculation.no-working-voltage"),
        ("required-voltage", {"reading_v": 355}, "calculation.no-working-voltage"),
        ("impulse-v", {"volts": 1500.001}, "calculation.outside-table"),
        ("impulse-v", {"volts": 0}, "calculation.outside-table"),
        ("impulse-v", {}, "calculation.outside-table"),
        ("retest-due", {}, "calculation.figure-missing"),
        (
            "retest-due",
            {"kind": "insulating-matting", "test_on": "2026-01-15", "rule_set": "jp-351"},
            "calculation.kind-not-covered",
        ),
    ],
)
def test_no_answer(what: str, ask: dict[str, Any], key: str) -> None:
    with pytest.raises(BadInput) as told:
        work(what, **ask)
    assert told.value.key == key


@pytest.mark.parametrize(
    ("what", "ask", "has_caution"),
    [
        ("impulse-v", {"volts": 100}, True), ("impulse-v", {"volts": 101}, False), ("impulse-v", {"volts": 1000}, False),
        ("impulse-v", {"volts": 1001}, True),
        ("working-voltage", {"cells": {"series": 9, "chemistry": "unknown-lithium"}}, True),
        ("working-voltage", {"cells": {"series": 9, "chemistry": "nmc"}}, False),
        ("required-voltage", {"maker_max_v": 400}, False),
    ],
)  # fmt: skip
def test_what_should_be_known_beside_it(what: str, ask: dict[str, Any], has_caution: bool) -> None:
    assert bool(work(what, **ask).caution) is has_caution


def test_a_table_no_set_of_the_law_holds() -> None:
    with pytest.raises(BadInput) as told:
        work("leakage-limit-ma", Law({}, LAW.house), **{"class": "0", "length_mm": 360})
    assert told.value.thing == "table = us"


def test_a_limit_the_law_loses_is_no_default() -> None:
    known = LAW.rule_sets["us-osha-137"]
    holed = Law({known.key: replace(known, limits={})}, LAW.house)
    for what in ("class-limit-v", "retest-test-v"):
        with pytest.raises(BadInput):
            work(what, holed, **{"class": "0"})
