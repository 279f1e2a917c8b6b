"""A glance by the driver alone sees what the opened register shows, and nothing where anything is unusual."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from app.register.glance import Glance, glance_at
from app.usecases.add_alias import add_alias
from app.usecases.add_crib import add_crib
from app.usecases.desk import Desk
from app.usecases.hand_over import hand_over
from app.usecases.hold_piece import hold_piece
from app.usecases.look_at_shelf import Shelf, look_at_shelf
from app.usecases.set_rule import set_rule
from tests.build import DAY
from tests.fakes import FixedClock, desk_on, stocked

MOST = 4


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A register with a hold, something given into keeping, a label, a second crib and a rule of the site."""
    there = tmp_path / "r.cuffdate"
    stocked(there).store.close()
    desk = desk_on(there, FixedClock())
    hold_piece(desk, "P0", ["L1"], "recall")
    hand_over(desk, "P0", ["K1"], "P1")
    add_alias(desk, "P0", "77", "G1")
    add_crib(desk, "P0", "north")
    set_rule(desk, "P0", {"warning_days": 14})
    desk.store.close()
    return there


@pytest.fixture
def desk(path: Path) -> Iterator[Desk]:
    opened = desk_on(path, FixedClock())
    yield opened
    opened.store.close()


def seen(path: Path, most: int | None = None) -> Shelf | None:
    return glance_at(path, FixedClock(), lambda glance: look_at_shelf(glance, most))


@pytest.mark.parametrize("most", [None, MOST])
def test_it_sees_what_the_opened_register_shows(desk: Desk, path: Path, most: int | None) -> None:
    found, opened = seen(path, most), look_at_shelf(desk, most)
    assert found is not None
    assert (found.rows, found.total, found.cribs) == (opened.rows, opened.total, opened.cribs)
    assert found.facts.site == opened.facts.site
    assert len(found.rows) == (most or opened.total)


def changed(path: Path, statement: str) -> None:
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute(statement)


@pytest.mark.parametrize(
    "statement",
    [
        "PRAGMA user_version = 99",
        "PRAGMA application_id = 7",
        "UPDATE derived SET value = 'another' WHERE key = 'rules-digest'",
        "DROP TABLE status",
    ],
)
def test_anything_unusual_is_left_to_the_opening(path: Path, statement: str) -> None:
    assert seen(path) is not None
    changed(path, statement)
    assert seen(path) is None


def test_a_write_cut_short_and_a_file_that_is_not_there_are_left_to_the_opening(path: Path) -> None:
    assert seen(path.with_name("other.cuffdate")) is None
    path.with_name(f"{path.name}-journal").write_bytes(b"half")
    assert seen(path) is None


def test_it_knows_the_day_by_the_sites_zone(desk: Desk, path: Path) -> None:
    set_rule(desk, "P0", {"timezone": "Pacific/Kiritimati"})
    evening = FixedClock()
    evening.at(DAY, 18)
    assert glance_at(path, evening, Glance.today) == DAY + timedelta(days=1)
