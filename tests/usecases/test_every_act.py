"""What holds of every act alike: its line says who, when and about what; nobody unknown enters anything, nor in a demo."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import pytest

import app.usecases as room
from app.decision.domain.entries import Name
from app.register.reads.lines import line
from app.usecases.add_crib import add_crib
from app.usecases.desk import Desk
from app.usecases.load_register import close_to_entries
from app.usecases.log_electrical_test import log_electrical_test
from app.usecases.withdraw_piece import withdraw_piece
from tests.build import DAY
from tests.fakes import FixedClock, desk_on
from tests.faults.checks import verified
from tests.usecases.acts import ABOUT_A_PIECE, EVERY, FIGURES
from tests.usecases.conftest import Refused


@pytest.mark.parametrize("name", EVERY)
def test_the_line_says_who_when_and_about_what(name: str, path: Path, clock: FixedClock) -> None:
    act, desk = EVERY[name], desk_on(path, clock)
    if act.before is not None:
        act.before(desk)
    before = {book: int(anchor.split()[0]) for book, anchor in desk.anchors().items()}
    began = clock.moment
    act.does(desk, "P0", "L1")
    after = {book: int(anchor.split()[0]) for book, anchor in desk.anchors().items()}
    found = [
        desk.ask(partial(line, name=Name(book, number)))
        for book in after
        for number in range(before.get(book, 0) + 1, after[book] + 1)
    ]
    lines = [one for one in found if one is not None]
    assert len(lines) == len(found)
    assert lines
    assert {one.actor for one in lines} == {"P0"}
    assert len({one.at for one in lines}) == 1
    assert all(began < one.at <= clock.moment for one in lines)
    wanted = (act.book, act.kind, act.subject, act.what)
    assert wanted in {(one.name.book, one.kind, one.subject, one.content.get("what", "")) for one in lines}
    assert verified(desk) == ()
    desk.store.close()


def test_nobody_unknown_enters_anything_and_the_nearest_is_named(desk: Desk, refused: Refused) -> None:
    for name, act in EVERY.items():
        told = refused(lambda act=act: act.does(desk, "P00", "L1"))  # type: ignore[misc]
        assert (name, told.key, told.thing, told.values["nearest"]) == (name, "by.unknown", "P00", "P0")


def test_a_demo_register_takes_no_entry(desk: Desk, refused: Refused) -> None:
    close_to_entries(desk, "P9", DAY)
    for name, act in EVERY.items():
        told = refused(lambda act=act: act.does(desk, "P0", "L1"))  # type: ignore[misc]
        assert (name, told.key, told.thing) == (name, "demo.no-entries", "2026-03-02")


def test_a_piece_nobody_knows_is_named_with_the_nearest(desk: Desk, refused: Refused) -> None:
    add_crib(desk, "P0", "other")
    for name, act in ABOUT_A_PIECE.items():
        told = refused(lambda act=act: act.does(desk, "P0", "L11"))  # type: ignore[misc]
        assert (name, told.key, told.thing, told.values["nearest"]) == (name, "store.unknown-piece", "L11", "L1")


@pytest.mark.parametrize("name", [name for name in ABOUT_A_PIECE if name not in ("release", "recall")])
def test_nothing_more_is_entered_about_what_is_withdrawn(name: str, desk: Desk, refused: Refused) -> None:
    act = ABOUT_A_PIECE[name]
    if act.before is not None:
        act.before(desk)
    withdraw_piece(desk, "P9", ["L1"], "worn through")
    told = refused(lambda: act.does(desk, "P0", "L1"))
    assert (told.key, told.thing) == ("entry.withdrawn", "L1")


def test_nor_are_tests_and_recalls_of_it(desk: Desk, refused: Refused) -> None:
    withdraw_piece(desk, "P9", ["G1"], "worn through")
    assert refused(lambda: log_electrical_test(desk, "P0", "G1", FIGURES)).key == "entry.withdrawn"
    assert refused(lambda: EVERY["recall"].does(desk, "P0", "G1")).key == "recall.nothing-fits"
    assert refused(lambda: EVERY["release"].does(desk, "P0", "G1")).key == "release.not-held"


def test_no_way_to_enter_something_is_left_out_here() -> None:
    """Whatever opens a unit for writing is among the acts above, or loads many of them at once."""
    folder = Path(room.__path__[0])
    writing = {one.stem for one in folder.glob("*.py") if "desk.write(" in one.read_text(encoding="utf-8")}
    acts = Path(__file__).with_name("acts.py").read_text(encoding="utf-8")
    missing = {name for name in writing if f"from app.usecases.{name} import" not in acts}
    assert missing == {"make_pair"}  # two pieces become a third: tests/usecases/test_pair_anew.py
