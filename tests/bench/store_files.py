"""Registers of any size for the figures of the store: pieces of six kinds with twenty records each, made in seconds.

They are written through the use cases themselves, so that what is measured is what a crib would have; only waiting for
the disk is left out while they are made.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import UTC, date, time, timedelta
from pathlib import Path

from msgspec.structs import replace

from app.decision.domain.calendar import Day
from app.decision.domain.piece import Piece
from app.decision.domain.record import AirTest, AnyRecord, ElectricalTest, Inspection, Issue, Return, SelfTest
from app.register.engine import open_store
from app.register.migrate import create
from app.usecases.add_person import add_person
from app.usecases.add_piece import crib_for, put_pieces
from app.usecases.books import every_book
from app.usecases.desk import Desk
from app.usecases.set_rule import set_rule
from tests.build import detector, gloves, piece, plain, protectors, proving_unit
from tests.fakes import MORNING, FixedClock

RECORDS = 20
AT_ONCE = 2_500
BY, CRIB = "P0", "main"
DAY = MORNING.date()
#: The kinds of a crib, in the share they have on its shelf.
SHELF = (
    *(piece(gloves()),) * 4, *(piece(protectors()),) * 2, piece(detector()), piece(proving_unit()),
    piece(plain("B1", "barrier-set")), piece(plain("K1", "lock-off-set")),
)  # fmt: skip
_YEAR = 365
PEOPLE = 25


def code_of(number: int) -> str:
    """The code of the piece of this number, from 0."""
    return f"X{number:06d}"


def some_pieces(count: int, start: int = 0) -> Iterator[Piece]:
    """`count` pieces with twenty records each, of days spread over more than a year: a part of them is overdue."""
    for number in range(start, start + count):
        like = SHELF[number % len(SHELF)]
        last = DAY - timedelta(days=1 + number % _YEAR)
        yield replace(like, code=code_of(number), records=tuple(_records(like, last)))


def _records(like: Piece, last: date) -> Iterator[AnyRecord]:
    """Five rounds of four, a month apart, the newest round ending on `last`: tested, out and back, checked."""
    for round_of in reversed(range(RECORDS // 4)):
        on = Day.of(last - timedelta(days=30 * round_of))
        yield _tested(like, on)
        yield Issue(on=on, at=time(8, 0))
        yield Return(on=on, at=time(16, 0))
        yield _checked(like, on)


def _tested(like: Piece, on: Day) -> AnyRecord:
    if like.kind == "rubber-gloves":
        return ElectricalTest(on=on, at=time(6, 0), result="passed", kind_of_current="dc", lab="LAB1")
    return Inspection(on=on, at=time(7, 0))


def _checked(like: Piece, on: Day) -> AnyRecord:
    if like.kind == "rubber-gloves":
        return AirTest(on=on, at=time(17, 0), left="passed", right="passed", inflation_c=120)
    if like.kind in ("two-pole-detector", "proving-unit"):
        return SelfTest(on=on, at=time(17, 0), result="passed")
    return Inspection(on=on, at=time(17, 0))


def desk_at(path: Path, *, is_durable: bool = True) -> Desk:
    """A desk on the register at `path`, in the evening of the figures' day."""
    clock = FixedClock()
    clock.at(DAY, 18)
    return Desk(open_store(path, is_durable=is_durable), clock, UTC)


def make_register(path: Path, count: int) -> None:
    """A register of `count` pieces at `path`, with a few dozen people."""
    create(path)
    desk = desk_at(path, is_durable=False)
    add_person(desk, BY, {"code": BY, "role_words": "keeper"})
    for number in range(1, PEOPLE):
        add_person(desk, BY, {"code": f"P{number}", "role_words": "technician", "scopes": ["isolate"]})
    set_rule(desk, BY, {"altitude_m": 140})
    for start in range(0, count, AT_ONCE):
        with desk.write(BY, books=every_book) as unit:
            crib_for(unit, "")
            put_pieces(desk, unit, [(one, CRIB) for one in some_pieces(min(AT_ONCE, count - start), start)])
    desk.store.close()


def copy_of(path: Path, name: str) -> Path:
    """The same register, byte for byte, under another name beside it."""
    return Path(shutil.copyfile(path, path.with_name(name)))
