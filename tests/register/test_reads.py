"""Every field of a piece and of every sort of record comes back from the file as it went in."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time
from pathlib import Path

import msgspec
import pytest

from app.decision.domain.calendar import Day
from app.decision.domain.chain import Fuse, Mark
from app.decision.domain.entries import AnyEntry, Name
from app.decision.domain.piece import FirstIssue, Piece, VoltageMark
from app.decision.domain.record import (
    AirTest,
    Calibration,
    ElectricalTest,
    Event,
    HandOver,
    Hold,
    Inspection,
    Issue,
    Withdrawal,
)
from app.register.engine import Store, open_store
from app.register.migrate import create
from app.register.reads.order import in_order
from app.register.reads.pieces import SORTS, pieces
from app.register.unit import Unit
from app.register.writes.rows import piece_row, record_row
from app.register.writes.statuses import new_piece, put_statuses

FULL = Piece(
    code="G1", kind="rubber-gloves", label="two words", batch="lot 7", custody="P1", is_lost=False, first_issue="never",
    insulation_class="0", class_system="iec", type="I", categories=("R", "C"), length_um=360_000, size_c=950,
    hand="pair", dc_tested=False, material="natural", voltage_mark=VoltageMark(1_000_000, 1_500_000),
    marks=(Mark("III", 1_000_000), Mark("IV", 600_000)), marks_cap_off=(), fixed_leads=True, max_input_ac_mv=0,
    max_input_dc_mv=1, current_ma=10_000, tip_um=2_000, caps="present", fuse=Fuse(600_000, None, "hbc"),
    max_altitude_m=2000, threshold_dc_mv=12_000, threshold_ac_mv=12_000, leather_um=1_000, leather="goat",
    cut_for_class="0", arc_rating_mcal=8_000, hood=False, balaclava=True, fabric_rating_mcal=9_000,
    window_rating_mcal=8_500, output_dc_mv=690_000, output_ac_mv=690_000, maker_interval_months=0, serial="S-0042", model="M4",
    marked_until=date(2027, 5, 31), expires_on=date(2028, 1, 1), inspect_months=6, laundered=0, capped_tip_um=4_000,
    secures=3, made_on=Day.parse("2025-03"), end_of_life=date(2031, 2, 28), owner_until=date(2026, 6, 30),
)  # fmt: skip
DAY = Day.of(date(2026, 3, 2))
RECORDS: tuple[AnyEntry, ...] = (
    ElectricalTest(
        on=DAY, at=time(7, 5, 9, 12), result="failed", evidence="figures", occasion="acceptance", test_v=5000,
        kind_of_current="ac", frequency_mhz=0, dwell_s=0, left_ua=0, right_ua=7_100, soaked=True, breakdown=True,
        after="wet", certificate_names_piece=False, lab="a lab", certificate="0815", method="D120", confirmed_seen=False,
    ),
    ElectricalTest(on=None, result="passed"),
    AirTest(on=DAY, left="passed", right="failed", inflation_c=0, defects=("hole", "cut")),
    Inspection(on=DAY, defects=(), notes=("dirty",), caps="missing", clearance_um=0, jack="volts"),
    Event(on=Day.parse("2026-02"), kind="repaired", place="cuff", repair="patch", remaining_mm=(12, 0)),
    Calibration(on=Day.parse("2026-W08"), result="passed", lab="a lab", certificate="4711"), Hold(on=DAY, why="recall"), HandOver(on=DAY, to="P1"),
    Issue(on=DAY, to="P2"), Withdrawal(on=DAY, cut_through_by="P1"),
)  # fmt: skip


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    create(tmp_path / "r.cuffdate")
    opened = open_store(tmp_path / "r.cuffdate")
    yield opened
    opened.close()


def written(store: Store, piece: Piece, *records: AnyEntry) -> None:
    with store.writing() as connection:
        unit = Unit(connection, "P0", datetime(2026, 3, 2, 8, tzinfo=UTC), ["main"])
        unit.add("main", "piece", piece.code, piece_row(piece, "main", 1))
        put_statuses(connection, [new_piece(piece, "main", 1)])
        for record in records:
            unit.add("main", "record", piece.code, record_row(piece.code, record, Name("b", 1), "why", Name("c", 2)))
        unit.flush()


def test_no_field_of_a_piece_is_left_at_its_default_here() -> None:
    same = [
        one.name for one in msgspec.structs.fields(Piece)
        if one.name not in ("code", "kind", "records", "is_lost") and getattr(FULL, one.name) == one.default
    ]  # fmt: skip
    assert same == []


def test_every_field_of_a_piece_comes_back(store: Store) -> None:
    written(store, FULL)
    kept = store.ask(lambda connection: pieces(connection, ["G1"]))["G1"]
    assert (kept.piece, kept.crib, kept.revision) == (FULL, "main", 1)


@pytest.mark.parametrize("first", ["never", "unknown", DAY, Day.parse("2025-03"), Day.parse("2025-W10")], ids=str)
def test_every_form_of_a_first_issue_comes_back(first: FirstIssue, store: Store) -> None:
    written(store, Piece(code="G1", kind="rubber-gloves", first_issue=first))
    assert store.ask(lambda connection: pieces(connection, ["G1"]))["G1"].piece.first_issue == first


def test_every_field_of_a_record_comes_back(store: Store) -> None:
    written(store, FULL, *RECORDS)
    kept = store.ask(lambda connection: pieces(connection, ["G1"]))["G1"]
    assert tuple(entry.record for entry in kept.entries) == RECORDS
    assert {(entry.strikes, entry.reason, entry.of) for entry in kept.entries} == {(Name("b", 1), "why", Name("c", 2))}


def test_every_sort_comes_back_bare(store: Store) -> None:
    bare = tuple(make(on=DAY) for make in SORTS.values())
    written(store, FULL, *bare)
    kept = store.ask(lambda connection: pieces(connection, ["G1"]))["G1"]
    assert tuple(entry.record for entry in kept.entries) == bare


def test_the_order_of_a_book_outlives_a_clock_set_back() -> None:
    lines = [("a", 1, "10", "first"), ("a", 2, "08", "second"), ("b", 1, "09", "between books")]
    assert in_order(reversed(lines)) == ["between books", "first", "second"]
