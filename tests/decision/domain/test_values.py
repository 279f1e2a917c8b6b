"""Values of the trade: calendar, catalogue, case reading, electrical tests, chains, verdict."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from datetime import date, time
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import fields

from app.decision.case.case import read_case, read_cases
from app.decision.case.pieces import read_piece, read_record
from app.decision.case.site import read_site
from app.decision.case.world import read_circuit
from app.decision.domain.calendar import Day, add_months
from app.decision.domain.catalogue import declared, declared_under
from app.decision.domain.chain import Member, offers
from app.decision.domain.declarations import Kind
from app.decision.domain.errors import BadInput, CuffdateError, ProgramFault
from app.decision.domain.finding import Demand
from app.decision.domain.piece import Piece
from app.decision.domain.voltage import Cells, series_range
from app.decision.fields.pieces import FIELDS
from app.decision.fields.reading import Unreadable, clock_time, exact_day, nearest, scaled
from tests import build


def test_months_are_clamped_and_never_roll_over() -> None:
    assert add_months(date(2024, 2, 29), 12) == date(2025, 2, 28)
    assert add_months(date(2025, 8, 31), 6) == date(2026, 2, 28)


def test_vague_days() -> None:
    assert Day.parse("2025-W01") == Day(date(2024, 12, 30), date(2025, 1, 5))
    assert Day.parse("2024-02").last == date(2024, 2, 29)
    assert not Day.parse("2025-03").is_exact
    assert str(Day.parse("2025-03")) == "2025-03-01 to 2025-03-31"
    for wrong in ("2025", "1.3.2025", "2025-13", "2025-W54", "20250301"):
        with pytest.raises(ValueError):  # noqa: PT011  # the standard library's own words differ by version
            Day.parse(wrong)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    package = tmp_path / "declarations_for_a_test"
    package.mkdir()
    (package / "__init__.py").touch()
    monkeypatch.syspath_prepend(tmp_path)
    yield package
    for name in [name for name in sys.modules if name.startswith(package.name)]:
        del sys.modules[name]


KIND = "from app.decision.domain.declarations import Kind\nKIND = Kind(key='a-kind', role=None, fields=frozenset())\n"


def test_a_catalogue_is_what_lies_in_the_folder(folder: Path) -> None:
    (folder / "one.py").write_text(KIND)
    (folder / "inner").mkdir()
    (folder / "inner" / "__init__.py").touch()
    assert list(declared(folder.name, "KIND", Kind)) == ["a-kind"]


@pytest.mark.parametrize("text", ["", "KIND = 'a string'\n"])
def test_a_module_without_its_constant_is_a_fault(folder: Path, text: str) -> None:
    (folder / "one.py").write_text(text)
    with pytest.raises(ProgramFault, match=r"constant-missing.*one"):
        declared(folder.name, "KIND", Kind)


def test_a_key_twice_is_a_fault(folder: Path) -> None:
    (folder / "one.py").write_text(KIND)
    (folder / "two.py").write_text(KIND)
    with pytest.raises(ProgramFault, match=r"key-twice.*two"):
        declared(folder.name, "KIND", Kind)


def test_one_declaration_is_found_by_the_file_named_after_its_key(folder: Path) -> None:
    (folder / "a_kind.py").write_text(KIND)
    (folder / "another.py").write_text("import no_such_module_anywhere\n")
    found = declared_under(folder.name, "a-kind", "KIND", Kind)
    assert found is not None
    assert found.key == "a-kind"
    assert declared_under(folder.name, "no-kind", "KIND", Kind) is None


def test_a_file_that_declares_another_key_is_none_of_this_one(folder: Path) -> None:
    (folder / "one.py").write_text(KIND)
    assert declared_under(folder.name, "one", "KIND", Kind) is None


def test_an_import_error_flies(folder: Path) -> None:
    (folder / "one.py").write_text("import no_such_module_anywhere\n")
    with pytest.raises(ImportError):
        declared(folder.name, "KIND", Kind)


def test_every_field_of_a_piece_has_a_key() -> None:
    assert {field.name for field in FIELDS.values()} == {one.name for one in fields(Piece)} - {"records"}


BAD_PIECES: list[tuple[dict[str, Any], str]] = [
    ({"kind": "rubber-gloves"}, "case.key-missing"),
    ({"code": "G1", "kind": "rubber-glove"}, "case.unknown-word"),
    ({"code": "G1", "kind": "rubber-gloves", "lenght_mm": 1}, "case.unknown-key"),
    ({"code": "G1", "kind": "rubber-gloves", "length_mm": "long"}, "case.not-a-number"),
    ({"code": "G1", "kind": "rubber-gloves", "length_mm": 0.0001}, "case.too-fine"),
    ({"code": "G1", "kind": "rubber-gloves", "length_mm": float("nan")}, "case.too-fine"),
    ({"code": "G1", "kind": "rubber-gloves", "length_mm": -1}, "case.out-of-range"),
    ({"code": "G1", "kind": "rubber-gloves", "hood": 1}, "case.not-yes-no"),
    ({"code": "G1", "kind": "rubber-gloves", "max_altitude_m": 1.5}, "case.not-a-whole-number"),
    ({"code": "G1", "kind": "rubber-gloves", "marks": 7}, "case.not-marks"),
    ({"code": "G1", "kind": "rubber-gloves", "marks": [["III"]]}, "case.not-marks"),
    ({"code": "G1", "kind": "rubber-gloves", "voltage_mark": 7}, "case.not-a-table-value"),
    ({"code": "G1", "kind": "rubber-gloves", "fuse": 7}, "case.not-a-table-value"),
    ({"code": "G1", "kind": "rubber-gloves", "categories": "R"}, "case.not-a-list"),
    ({"code": " ", "kind": "rubber-gloves"}, "case.not-words"),
    ({"code": "G1", "kind": "rubber-gloves", "first_issue": "soon"}, "case.not-a-day"),
    ({"code": "G1", "kind": "rubber-gloves", "first_issue": 7}, "case.not-a-day"),
    ({"code": "G1", "kind": "rubber-gloves", "records": [7]}, "case.not-a-table"),
    ({"code": "G1", "kind": "rubber-gloves", "records": 7}, "case.not-a-list"),
    ({"code": "G1", "kind": "rubber-gloves", "records": [{"what": "airtest", "on": "2026-01-01"}]}, "case.unknown-word"),
    ({"code": "G1", "kind": "rubber-gloves", "records": [{"what": "air-test"}]}, "case.key-missing"),
    ({"code": "G1", "kind": "rubber-gloves", "records": [{"what": "return", "on": "2026-01-01", "at": "late"}]}, "case.not-a-time"),
    (
        {"code": "G1", "kind": "rubber-gloves", "records": [
            {"what": "event", "kind": "repaired", "on": "2026-01-01", "remaining_mm": 7}]},
        "case.not-a-list",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("table", "key"), BAD_PIECES)
def test_a_bad_piece_names_key_and_place(table: dict[str, Any], key: str) -> None:
    with pytest.raises(BadInput) as told:
        read_piece(table, "row 7")
    assert told.value.key == key
    assert "row 7" in told.value.place or told.value.place in ("voltage_mark", "fuse")


def test_the_nearest_key_is_named() -> None:
    with pytest.raises(BadInput) as told:
        read_piece({"code": "G1", "kind": "rubber-gloves", "lenght_mm": 1}, "")
    assert told.value.values["nearest"] == "length_mm"
    assert nearest("zzzzz", ["abc"]) == ""


BAD_CASES: list[tuple[str, str]] = [
    ("x = 1", "case.unknown-key"),
    ("", "case.none"),
    ("[[case]\n", "file.not-toml"),
    ("case = 1", "case.not-a-list"),
    ("[[case]]\nid='a'\nsource='b'\nconfidence='H'\nlevel='finding'\n[case.expect]\n", "case.key-missing"),
    (
        "[[case]]\nid='a'\nsource='b'\nconfidence='H'\nlevel='decision'\non=2026-01-01\n[case.expect]\n",
        "case.key-missing",
    ),
    (
        "[[case]]\nid='a'\nsource='b'\nconfidence='H'\nlevel='finding'\non=2026-01-02\nuntil=2026-01-01\n[case.expect]\n",
        "case.until-before-on",
    ),
    (
        "[[case]]\nid='a'\nsource='b'\nconfidence='H'\nlevel='finding'\non=2026-01-02\n[case.job]\nwith=['M1']\n[case.expect]\n",
        "case.not-pairs",
    ),
    ("[[case]]\nid='a'\nsource='b'\nconfidence='H'\nlevel='finding'\non=2026-01\n[case.expect]\n", "file.not-toml"),
    (
        "[[case]]\nid='a'\nsource='b'\nconfidence='H'\nlevel='finding'\non='2026-01'\n[case.expect]\n",
        "case.not-an-exact-day",
    ),
]


@pytest.mark.parametrize(("text", "key"), BAD_CASES)
def test_a_bad_case_file_is_told(text: str, key: str) -> None:
    with pytest.raises(BadInput) as told:
        read_cases(text, "mine.toml")
    assert (told.value.key, told.value.file) == (key, "mine.toml")


def test_readers_of_days_and_times() -> None:
    assert exact_day(date(2026, 1, 1)) == date(2026, 1, 1)
    assert clock_time(time(7, 30)) == time(7, 30)
    with pytest.raises(Unreadable):
        exact_day(7)
    with pytest.raises(Unreadable):
        scaled(2)(True)  # a yes is no number


@pytest.mark.parametrize(
    ("table", "key"),
    [
        ({"key": "t"}, "case.key-missing"),
        ({"key": "t", "supply": "isolated-dc", "maker_max_v": 0}, "case.out-of-range"),
        ({"key": "t", "supply": "isolated-dc", "cells": 7}, "case.not-a-table-value"),
        ({"key": "t", "supply": "isolated-dc", "cells": {"series": 0, "chemistry": "nmc"}}, "case.out-of-range"),
        (
            {"key": "t", "supply": "isolated-dc",
             "cells": {"series": 9, "modules": 2, "series_each": 5, "chemistry": "nmc"}},
            "case.cells-contradict",
        ),
    ],
)  # fmt: skip
def test_a_bad_circuit_is_told(table: dict[str, Any], key: str) -> None:
    with pytest.raises(BadInput) as told:
        read_circuit(table, "")
    assert told.value.key == key


def test_site_rules() -> None:
    site = read_site(
        {"dielectric_exempt_00_0": {"approved_by": "P9", "reason": "annex E.5"}, "margin_percent": 12.5}, ""
    )
    assert site.dielectric_exempt_00_0 is not None
    assert site.margin_bp == 1250
    assert read_site({"dielectric_exempt_00_0": False}, "").dielectric_exempt_00_0 is None
    for wrong in (
        {"dielectric_exempt_00_0": True},
        {"approvals": [{"key": "x"}]},
        {"warning_days": -1},
        {"margin_percent": 51},
    ):
        with pytest.raises(BadInput):
            read_site(wrong, "")
    with pytest.raises(BadInput):
        read_site({"confirmed_in_print": 7}, "")


def test_glove_sizes_are_a_list() -> None:
    with pytest.raises(BadInput):
        read_case(build.world(person={"code": "P1", "glove_sizes": 10}))


def test_a_test_without_result_does_not_count() -> None:
    pair = build.gloves(records=[{"what": "electrical-test", "on": "2026-01-01", "evidence": "stated-pass"}])
    found = build.verdict(build.world(pieces=[pair]))
    assert "test.no-result" in {one.key for one in found.stops}


def test_a_record_without_a_day_never_speaks_for_a_piece() -> None:
    record = read_record({"what": "electrical-test", "result": "passed"}, "")
    assert record.on is None
    assert record.latest(build.DAY) == build.DAY


def test_unlabelled_categories_offer_nothing() -> None:
    assert offers((), "III") == 0
    assert Member("L1", None, None, "unknown").offer("III", 1) is None


def test_a_reading_gives_the_range_of_series_counts() -> None:
    assert series_range(Cells(None, "nmc", 4200), 300_000) == (72, 120)


def test_errors_and_findings_say_what_they_are_about() -> None:
    fault = CuffdateError("a.key", file="f", place="p", thing="t", more=1)
    assert str(fault) == "a.key [f p t] {'more': 1}"
    assert Demand("r", "s").met("k", measured=(1, 2)).measured == "(1, 2)"
