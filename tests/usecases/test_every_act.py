"""What holds of every act alike: its line says who, when and about what; nobody unknown enters anything, nor in a demo."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any

import pytest

import app.usecases as room
from app.decision.domain.entries import Name
from app.decision.domain.record import Hold
from app.register.engine import Connection, Store
from app.register.reads.lines import line
from app.register.unit import Unit
from app.register.writes.rows import record_row
from app.usecases.add_crib import add_crib
from app.usecases.books import the_site
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


class _InAct(FixedClock):
    """A clock that notes whether it was asked while the register was locked."""

    store: Store | None = None

    def __call__(self) -> datetime:
        if self.store is not None:
            driver: Any = self.store._connection.connection.driver_connection
            self.locked.append(driver.in_transaction)
        return super().__call__()

    def begin(self, desk: Desk) -> None:
        self.store, self.locked = desk.store, list[bool]()


#: What may find anything anywhere takes every book; the others leave the book of a crib they are not about alone.
EVERYWHERE = {"correction"}
#: With two cribs these have to name one.
CRIB_UNNAMED = {"stocktake", "piece"}


@pytest.mark.parametrize("name", EVERY)
def test_books_are_declared_first_and_the_clock_is_read_behind_them(
    name: str, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    clock = _InAct()
    act, desk = EVERY[name], desk_on(path, clock)
    if name not in CRIB_UNNAMED:
        add_crib(desk, "P9", "third")
    if act.before is not None:
        act.before(desk)
    taken: list[set[str]] = []
    asked: list[object] = []
    kept, ask = Unit.__init__, Store.ask

    def begun(unit: Unit, connection: Connection, actor: str, now: datetime, books: Iterable[str]) -> None:
        taken.append(set(books))
        kept(unit, connection, actor, now, taken[-1])

    def noted(store: Store, question: Callable[[Connection], object]) -> object:
        asked.append(question)
        return ask(store, question)

    monkeypatch.setattr(Unit, "__init__", begun)
    monkeypatch.setattr(Store, "ask", noted)
    clock.begin(desk)
    act.does(desk, "P0", "L1")
    assert clock.locked
    assert all(clock.locked)
    # Whatever an act asks it asks in its unit, which begins with its books; the correction here looks up its entry first.
    assert len(asked) == (name == "correction")
    (books,) = taken
    assert act.book in books
    assert ("third" in books) == (name in EVERYWHERE)
    desk.store.close()


def test_an_act_writes_in_no_book_it_has_not_declared(desk: Desk) -> None:
    before = desk.anchors()
    with pytest.raises(KeyError, match="main"), desk.write("P0", books=the_site) as unit:
        unit.add("main", "record", "L1", record_row("L1", Hold(why="suspect")))
    assert desk.anchors() == before


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
