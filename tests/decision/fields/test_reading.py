"""Readers of single values, and what the site may and may not say."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, time
from decimal import Decimal

import pytest

from app.decision.case.case import read_cases
from app.decision.case.pieces import read_piece, read_record
from app.decision.case.site import read_site
from app.decision.case.world import read_circuit, read_person
from app.decision.domain.calendar import Day
from app.decision.domain.errors import BadInput
from app.decision.domain.record import ElectricalTest
from app.decision.domain.voltage import Cells
from app.decision.fields.pieces import FIELDS
from app.decision.fields.reading import (
    Unreadable,
    any_day,
    clock_time,
    exact_day,
    one_of,
    scaled,
    text,
    whole,
    words_of,
)
from tests import build

MIDNIGHT = datetime(2026, 3, 2, tzinfo=UTC)


@pytest.mark.parametrize(
    ("reader", "value", "read"),
    [
        (scaled(3), 1, 1000), (scaled(3), 0.001, 1), (scaled(3), 914.76, 914_760), (scaled(3), Decimal("1.5"), 1500),
        (scaled(0), 5000, 5000), (scaled(2, most=50), 50, 5000), (scaled(0, least=-500), -500, -500), (scaled(3), 0, 0),
        (whole, 0, 0), (whole, 12, 12), (text, " a ", "a"), (one_of("0", "00"), 0, "0"), (one_of("I"), " I ", "I"),
        (words_of("a", "b"), ["b", "a"], ("b", "a")), (words_of(), [" any "], ("any",)),
        (exact_day, date(2026, 3, 2), date(2026, 3, 2)), (exact_day, "2026-03-02", date(2026, 3, 2)),
        (any_day, "2026-03", Day(date(2026, 3, 1), date(2026, 3, 31))),
        (clock_time, "06:30", time(6, 30)), (clock_time, time(6, 30, tzinfo=UTC), time(6, 30)),
    ],
)  # fmt: skip
def test_a_value_is_read(reader: Callable[[object], object], value: object, read: object) -> None:
    assert reader(value) == read


@pytest.mark.parametrize(
    ("reader", "value", "expected"),
    [
        (scaled(3), "1", "not-a-number"), (scaled(3), True, "not-a-number"), (scaled(3), None, "not-a-number"),
        (scaled(3), 0.0001, "too-fine"), (scaled(3), float("inf"), "too-fine"), (scaled(3), float("nan"), "too-fine"),
        (scaled(3), Decimal("sNaN"), "not-a-number"),
        (scaled(3), -0.001, "out-of-range"), (scaled(3), 1_000_000_001, "out-of-range"),
        (scaled(2, most=50), 50.01, "out-of-range"), (scaled(0, least=-500), -501, "out-of-range"),
        (scaled(0, least=None, most=5), -6, "out-of-range"),
        (whole, -1, "not-a-whole-number"), (whole, 1.0, "not-a-whole-number"), (whole, False, "not-a-whole-number"),
        (text, "", "not-words"), (text, "  ", "not-words"), (text, 7, "not-words"),
        (one_of("a"), "b", "unknown-word"), (one_of("1"), True, "unknown-word"), (one_of("1"), 1.0, "unknown-word"),
        (words_of("a"), "a", "not-a-list"), (words_of("a"), ["b"], "unknown-word"), (words_of(), [7], "not-words"),
        (exact_day, "2026-03", "not-an-exact-day"), (exact_day, "soon", "not-a-day"), (exact_day, MIDNIGHT, "not-a-day"),
        (any_day, MIDNIGHT, "not-a-day"), (any_day, "2026-W99", "not-a-day"), (any_day, 7, "not-a-day"),
        (any_day, "9999-12", "not-a-day"),
        (clock_time, "late", "not-a-time"), (clock_time, 7, "not-a-time"),
    ],
)  # fmt: skip
def test_a_value_that_cannot_be_taken_says_what_it_should_be(
    reader: Callable[[object], object], value: object, expected: str
) -> None:
    with pytest.raises(Unreadable) as told:
        reader(value)
    assert told.value.expected == expected


def test_figures_come_in_our_units() -> None:
    piece = read_piece(
        {"code": "G1", "kind": "rubber-gloves", "length_mm": 360.5, "size": 9.5, "max_input_dc_v": 1500,
         "current_a": 0.4, "arc_rating_cal": 12.5, "voltage_mark": {"ac_v": 1000}, "marks": [["III", 600]],
         "fuse": {"v": 1000, "ac_only": True, "kind": "hbc"}}, "",
    )  # fmt: skip
    assert (piece.length_um, piece.size_c, piece.max_input_dc_mv) == (360_500, 950, 1_500_000)
    assert (piece.current_ma, piece.arc_rating_mcal) == (400, 12_500)
    assert piece.voltage_mark is not None
    assert (piece.voltage_mark.ac_mv, piece.voltage_mark.dc_mv) == (1_000_000, None)
    assert piece.marks is not None
    assert piece.marks[0].mv == 600_000
    assert piece.fuse is not None
    assert (piece.fuse.mv, piece.fuse.is_ac_only, piece.fuse.kind) == (1_000_000, True, "hbc")


def test_a_record_comes_in_our_units() -> None:
    record = read_record(
        {"what": "electrical-test", "on": "2026-01", "at": "10:00", "frequency_hz": 16.7, "left_ma": 9.5, "test_v": 5000},
        "",
    )  # fmt: skip
    assert isinstance(record, ElectricalTest)
    assert (record.frequency_mhz, record.left_ua, record.test_v) == (16_700, 9_500, 5000)
    assert (record.on, record.at) == (Day.parse("2026-01"), time(10))


def test_nothing_left_out_is_filled_in() -> None:
    piece = read_piece({"code": "G1", "kind": "rubber-gloves"}, "")
    assert (piece.first_issue, piece.custody, piece.records) == ("unknown", "crib", ())
    unset = {"insulation_class", "class_system", "length_um", "marks", "fixed_leads", "caps", "fuse", "dc_tested"}
    assert {name for name in unset if getattr(piece, name) is None} == unset


def test_modules_times_cells_are_cells_in_series() -> None:
    def cells(**keys: int | str) -> Cells | None:
        return read_circuit({"key": "t", "supply": "isolated-dc", "cells": {"chemistry": "nmc", **keys}}, "").cells

    assert cells(modules=9, series_each=12) == Cells(108, "nmc")
    assert cells(modules=9, series_each=12, series=108) == Cells(108, "nmc")
    assert cells(modules=9) == Cells(None, "nmc")
    assert cells(series_each=12, series=7) == Cells(7, "nmc")


def test_a_maximum_of_no_volts_is_no_cell() -> None:
    with pytest.raises(BadInput) as told:
        read_circuit({"key": "t", "supply": "isolated-dc", "cells": {"chemistry": "nmc", "max_v": 0}}, "")
    assert told.value.key == "case.out-of-range"


def test_the_site_as_shipped_and_changed() -> None:
    shipped = read_site({}, "")
    assert (shipped.warning_days, shipped.tip_profile, shipped.figures_required) == (30, "gs38", True)
    assert (shipped.second_person_measure, shipped.second_person_isolate) == (True, False)
    assert shipped.confirmed_in_print == frozenset()
    assert read_site({"confirmed_in_print": "all"}, "").confirmed_in_print is None
    assert read_site({"confirmed_in_print": ["a"]}, "").confirmed_in_print == frozenset({"a"})
    assert read_site({"altitude_m": -400}, "").altitude_m == -400
    # What names the depot or its calendar is no rule.
    assert (
        read_site({"timezone": "Europe/Oslo", "demo_day": date(2026, 3, 2), "rule_sets": ["us-osha-137"]}, "")
        == shipped
    )


def test_a_person_may_go_without_a_code_and_sizes_are_hundredths() -> None:
    person = read_person({"glove_sizes": [9, 9.5], "role_words": "keeper"}, "")
    assert (person.code, person.glove_sizes_c) == ("", (900, 950))


HEAD = "[[case]]\nid='a'\nsource='b'\nconfidence='H'\nlevel='finding'\non=2026-01-02\n"


@pytest.mark.parametrize(
    ("written", "key", "thing", "near"),
    [
        (HEAD + "[case.job]\ntsk='measure-only'\n[case.expect]\n", "case.unknown-key", "tsk", "task"),
        (HEAD + "[case.job]\ntask='measure'\n[case.expect]\n", "case.unknown-word", "task = measure", "measure-only"),
        (HEAD + "[case.person]\nscope=['live']\n[case.expect]\n", "case.unknown-key", "scope", "scopes"),
        (HEAD + "[case.expect]\nfinding=[]\n", "case.unknown-key", "finding", "findings"),
        (HEAD + "[[case.expect.findings]]\nrule='air-test'\noutcome='met'\n", "case.unknown-word", "rule = air-test",
         "air-test-done"),
        (HEAD + "[[case.expect.findings]]\nrule='air-test-done'\n", "case.key-missing", "outcome", None),
        (HEAD + "[case.expect]\nfindings=7\n", "case.not-a-list", "findings", None),
        (HEAD + "expect=7\n", "case.not-a-table", "expect", None),
        (HEAD + "pieces=7\n[case.expect]\n", "case.not-a-list", "pieces", None),
        (HEAD + "rule_sets=['us-osha']\n[case.expect]\n", "case.unknown-word", "rule_sets = ['us-osha']", None),
        ("[[case]]\nid='a'\n", "case.key-missing", "source", None),
        # No rule set at all would leave nothing to judge by.
        (HEAD + "rule_sets=[]\n[case.expect]\n", "case.unknown-word", "rule_sets = []", None),
        (HEAD + "site={rule_sets=[]}\n[case.expect]\n", "case.unknown-word", "rule_sets = []", None),
    ],
)  # fmt: skip
def test_a_mistake_names_the_place_and_the_nearest_word(written: str, key: str, thing: str, near: str | None) -> None:
    with pytest.raises(BadInput) as told:
        read_cases(written, "mine.toml")
    assert (told.value.key, told.value.thing, told.value.file) == (key, thing, "mine.toml")
    assert "case a" in told.value.place
    if near is not None:
        assert told.value.values["nearest"] == near


def test_a_good_file_is_read_whole() -> None:
    (case,) = read_cases(
        HEAD + "[case.job]\nincident_energy_cal=8.5\nwith=[['M1','W1']]\nplace='wet'\n"
        "[[case.expect.findings]]\nrule='place-dry'\noutcome='not-met'\ncaution=true\n", "",
    )  # fmt: skip
    assert case.rule_sets == ("us-osha-137",)
    assert (case.job.incident_energy_mcal, case.job.with_leads, case.job.place) == (8500, (("M1", "W1"),), "wet")
    assert case.expected[0].caution


def test_until_may_be_the_first_day_itself() -> None:
    assert build.facts(build.world(until=build.DAY)).until == build.DAY


def test_every_figure_is_kept_in_thousandths_of_the_unit_in_its_key() -> None:
    units = ("_v", "_mm", "_cal", "_a")
    keys = [key for key in FIELDS if key.endswith(units)]
    assert len(keys) >= 13
    for key in keys:
        assert FIELDS[key].sort.read(1) == 1000, key
        assert FIELDS[key].sort.read(0.001) == 1, key
    assert FIELDS["size"].sort.read(20) == 2000
    with pytest.raises(Unreadable):
        FIELDS["size"].sort.read(20.01)


@pytest.mark.parametrize(("altitude", "is_possible"), [(-500, True), (-501, False), (20_000, True), (20_001, False)])
def test_altitudes_that_are_possible(altitude: int, is_possible: bool) -> None:
    if is_possible:
        assert read_site({"altitude_m": altitude}, "").altitude_m == altitude
    else:
        with pytest.raises(BadInput):
            read_site({"altitude_m": altitude}, "")


def test_an_electrical_test_of_which_little_is_said() -> None:
    record = read_record({"what": "electrical-test"}, "")
    assert isinstance(record, ElectricalTest)
    assert (record.soaked, record.breakdown, record.confirmed_seen) == (False, False, False)
    assert record.certificate_names_piece
    assert (record.on, record.at, record.result, record.evidence, record.test_v) == (None,) * 5
