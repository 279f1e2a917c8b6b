"""Own column types: what goes in comes out, nothing through a fraction, and they compile on both databases."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta, timezone

import pytest
from sqlalchemy import Table
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.schema import CreateIndex, CreateTable

from app.decision.domain.chain import Fuse, Mark
from app.register.canonical import canonical
from app.register.columns import (
    Canonical,
    ClockTime,
    Instant,
    IsoDay,
    Millivolts,
    OwnType,
    Packed,
    WholeNumber,
    Words,
    YesNo,
)
from app.register.tables import METADATA

BERLIN_WINTER = timezone(timedelta(hours=1))


@pytest.mark.parametrize(
    ("kind", "value", "stored"),
    [
        (IsoDay(), date(2026, 3, 2), "2026-03-02"), (ClockTime(), time(7, 5), "07:05"),
        (ClockTime(), time(7, 5, 9, 120), "07:05:09.000120"), (YesNo(), False, 0), (YesNo(), True, 1),
        (Millivolts(), 0, 0), (WholeNumber(), -(2**63), -(2**63)), (Words(), "\u00c4\u2028", "\u00c4\u2028"),
        (Instant(), datetime(2026, 3, 2, 8, tzinfo=UTC), "2026-03-02T08:00:00.000000Z"),
        (Canonical(tuple[str, ...]), ("a", "b"), '["a","b"]'),
        (Canonical(tuple[Mark, ...]), (Mark("III", 1_000_000),), '[{"category":"III","mv":1000000}]'),
        (Canonical(Fuse), Fuse(600_000, False, "hbc"), '{"is_ac_only":false,"kind":"hbc","mv":600000}'),
    ],
    ids=str,
)  # fmt: skip
def test_what_goes_in_comes_out(kind: OwnType, value: object, stored: object) -> None:
    assert kind.stored(value) == stored
    assert kind.loaded(stored) == value


def test_a_moment_of_another_zone_is_kept_in_utc() -> None:
    assert Instant().stored(datetime(2026, 3, 2, 9, tzinfo=BERLIN_WINTER)) == "2026-03-02T08:00:00.000000Z"


@pytest.mark.parametrize("value", [1.5, True, 2**63, "7"])
def test_a_whole_number_takes_nothing_else(value: object) -> None:
    with pytest.raises(TypeError):
        Millivolts().stored(value)


def test_yes_and_no_are_no_numbers() -> None:
    with pytest.raises(TypeError):
        YesNo().stored(1)


def test_a_large_value_is_packed_and_read_back() -> None:
    value = {"b": [1, 2], "a": "x" * 1000}
    packed = Packed().stored(value)
    assert len(packed) < 100
    assert Packed().loaded(packed) == value


def test_canonical_text_has_one_form() -> None:
    assert canonical({"b": 1, "a": [True, None, "\u00e4"]}) == '{"a":[true,null,"\u00e4"],"b":1}'


@pytest.mark.parametrize("table", METADATA.sorted_tables, ids=lambda table: table.name)
def test_every_table_compiles_on_both(table: Table) -> None:
    here = str(CreateTable(table).compile(dialect=sqlite.dialect()))
    there = str(CreateTable(table).compile(dialect=postgresql.dialect()))  # type: ignore[no-untyped-call]
    assert "STRICT" in here
    assert {word for word in ("REAL", "FLOAT", "NUMERIC", "BIGINT", "VARCHAR") if word in here} == set()
    assert "STRICT" not in there
    assert {word for word in ("REAL", "FLOAT", "NUMERIC", " INTEGER") if word in there} == set()
    for index in table.indexes:
        assert str(CreateIndex(index).compile(dialect=postgresql.dialect()))  # type: ignore[no-untyped-call]
