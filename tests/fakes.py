"""Stand-ins: a clock that says what it is told, and a desk on a real file with people, a system and the good kit."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from app.decision.judging.answers import KitQuestion
from app.register.engine import open_store
from app.register.migrate import create
from app.usecases.add_person import add_person
from app.usecases.add_piece import add_piece
from app.usecases.add_system import add_system
from app.usecases.desk import Desk
from app.usecases.set_rule import set_rule
from tests.build import DAY, world

MORNING = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
KIT = ("G1", "L1", "D1", "U1", "B1", "K1")


class FixedClock:
    """Says one moment, a second later each time it is asked, as acts follow each other."""

    def __init__(self, moment: datetime = MORNING) -> None:
        self.moment = moment

    def __call__(self) -> datetime:
        self.moment += timedelta(seconds=1)
        return self.moment

    def at(self, day: date, hour: int = 8) -> None:
        self.moment = datetime(day.year, day.month, day.day, hour, tzinfo=UTC)


def desk_on(path: Path, clock: FixedClock | None = None) -> Desk:
    """A desk on the register at `path`, made if there is none."""
    if not path.exists():
        create(path)
    return Desk(open_store(path), clock or FixedClock(), UTC)


def stocked(path: Path, clock: FixedClock | None = None) -> Desk:
    """The good world of tests.build in a register: keeper P0, technician P1, officer P9, a bus, six pieces.

    Entered once by the acts of the program and copied from then on, with the clock put to where those acts left it; a
    clock that stands elsewhere, or a register that is there already, has the acts done anew.
    """
    told = clock or FixedClock()
    if told.moment != MORNING or path.exists():
        return _entered(desk_on(path, told))
    made, told.moment = _ready()
    path.write_bytes(made)
    return desk_on(path, told)


@cache
def _ready() -> tuple[bytes, datetime]:
    with TemporaryDirectory() as folder:
        path, clock = Path(folder) / "ready.cuffdate", FixedClock()
        _entered(desk_on(path, clock)).store.close()
        return path.read_bytes(), clock.moment


def _entered(desk: Desk) -> Desk:
    add_person(desk, "P0", {"code": "P0", "role_words": "keeper"})
    case = world()
    add_person(desk, "P0", {**case["person"], "role_words": "technician"})
    add_person(desk, "P0", {"code": "P9", "role_words": "safety officer"})
    add_system(desk, "P0", {"code": "BUS", "name": "Bus", "circuits": case["job"]["circuits"]})
    set_rule(desk, "P9", {"altitude_m": 140})
    # A test whose result stands needs no figures: the officer lets stated passes count.
    for piece in case["pieces"]:
        add_piece(desk, "P0", piece)
    return desk


def question(**changes: Any) -> KitQuestion:
    """The kit of the good world for one day."""
    asked: Mapping[str, Any] = {
        "system": "BUS", "circuits": (), "task": "isolate-and-prove-dead", "person": "P1", "kit": KIT, "on": DAY,
        "until": DAY, **changes,
    }  # fmt: skip
    return KitQuestion(**asked)
