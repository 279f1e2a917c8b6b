"""Small things of the domain that other tests pass by: each was found by a change nobody noticed."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

import pytest
from msgspec.structs import replace

from app.domain.calendar import Day
from app.domain.errors import BadInput
from app.domain.history import History
from app.domain.impulse import ROWS
from app.domain.limits import Approval, Limit, SiteRules
from app.domain.piece import Piece
from app.domain.record import AirTest
from app.domain.voltage import CELL_MAX_MV, CELL_MIN_MV, Circuit, required, stresses
from app.judging.catalogues import catalogues

NOW = date(2026, 3, 2)
SET = catalogues().rule_sets["us-osha-137"]


def test_a_moment_is_read_as_its_day() -> None:
    assert Day.parse(datetime(2026, 3, 2, 23, 59)) == Day.of(NOW)  # noqa: DTZ001 - a day has no zone


def test_an_error_leaves_out_what_it_was_not_told() -> None:
    assert str(BadInput("file.not-toml", file="a.toml", thing="x")) == "file.not-toml [a.toml x] {}"
    assert str(BadInput("case.none")) == "case.none [] {}"


def test_an_air_test_that_found_a_defect_stays_open_as_a_look_over_does() -> None:
    torn = AirTest(on=Day.of(date(2026, 3, 1)), left="passed", right="passed", defects=("hole",))
    piece = Piece(code="G1", kind="rubber-gloves", records=(torn,))
    assert History.of(piece, NOW).open_defects([]) == [torn]


# Facts, meters and systems, 1.2: CAT II, III, IV by volts to earth, up to and with them.
IMPULSES = """
50 500 800 1500
100 800 1500 2500
150 1500 2500 4000
300 2500 4000 6000
600 4000 6000 8000
1000 6000 8000 12000
1250 6000 8000 12000
1500 8000 10000 15000
"""


def test_the_impulse_table_is_the_one_of_the_facts() -> None:
    written = [tuple(int(one) for one in line.split()) for line in IMPULSES.split("\n") if line]
    assert [(volts, *row) for volts, row, _ in ROWS] == written


def test_the_cells_are_those_of_the_facts() -> None:
    """Facts, meters and systems, section 4: volts of a cell empty and full."""
    assert {CELL_MIN_MV[one] for one in ("nmc", "nca", "lco", "lmo")} == {2500}
    assert [CELL_MIN_MV[one] for one in ("lfp", "lto", "nimh")] == [2000, 1500, 900]
    assert {CELL_MAX_MV[one] for one in ("nmc", "nca", "lco", "lmo")} == {4200}
    assert [CELL_MAX_MV[one] for one in ("lfp", "lto", "nimh")] == [3650, 2850, 1600]
    # Unknown: the highest of the high-voltage types, and the lowest of all when cells are counted.
    assert (CELL_MAX_MV["unknown-lithium"], CELL_MIN_MV["unknown-lithium"]) == (4450, 1500)


@pytest.mark.parametrize(("margin", "volts"), [(0, 577.0), (1000, 634.7)])
def test_volts_to_earth_carry_the_margin_on_top(margin: int, volts: float) -> None:
    grid = Circuit(
        key="grid", supply="ac-three-phase", maker_max_mv=1_000_000, phase_to_earth_mv=577_000,
        phase_to_earth_confirmed_by="P9",
    )  # fmt: skip
    needed = required(grid, {"cells": 0, "boosted": 0, "plate": 0, "maker": margin})
    assert needed is not None
    assert [(one.current, one.volts) for one in stresses(grid, needed)] == [("ac", volts)]


def test_an_approval_of_one_site_rule_is_none_of_another() -> None:
    site = SiteRules(approvals=(Approval("tip_profile", "P9", "agreed"), Approval("clearance_table", "P8", "agreed")))
    found: list[Any] = [site.approver(key) for key in ("tip_profile", "clearance_table", "figures_required")]
    assert [one and one.approved_by for one in found] == ["P9", "P8", None]
    assert site.takes_looser("clearance_table")
    assert not site.takes_looser("figures_required")


def test_what_a_table_says_is_not_printed_is_not_borrowed_from_a_figure_beside_it() -> None:
    figure = Limit("us-osha-137/use/dc/3", 1, "mV", "beside it", "S")
    table = SET.tables["rubber-gloves"]
    silent = replace(table, not_printed=frozenset({"use/dc/3"}))
    with_figure = {**SET.limits, "use/dc/3": figure}
    assert replace(SET, limits=with_figure).class_limit("rubber-gloves", "3", "use", "dc") is figure
    asked = replace(SET, limits=with_figure, tables={"rubber-gloves": silent})
    assert asked.class_limit("rubber-gloves", "3", "use", "dc") is None
