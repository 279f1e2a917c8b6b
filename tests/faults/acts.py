"""What processes under test do: real acts through the use cases, each told before ("try") and after ("done").

A line of JSON each. "done" is printed by whoever called the use case once it has answered, so from there on the caller
relies on it. "refused" names the key of a refusal, "trouble" that of a register that could not be written.
"""

from __future__ import annotations

import _sqlite3
import ctypes
import json
import os
import random
import signal
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager
from datetime import UTC, datetime, timedelta
from importlib import import_module
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from app.decision.domain.errors import BadInput, CuffdateError
from app.decision.domain.piece import Piece
from app.intake.faults import Place
from app.intake.register_sheet import SheetRow
from app.register import migrate as migrations
from app.register.engine import open_store
from app.register.locks import FileLock
from app.register.reads.out import out_now
from app.register.unit import Unit
from app.usecases.books import Books
from app.usecases.desk import Desk
from app.usecases.hold_piece import hold_piece
from app.usecases.issue_kit import issue_kit
from app.usecases.load_register import load_sheet
from app.usecases.log_check import inspect_list, log_check
from app.usecases.release_piece import release_piece
from app.usecases.return_kit import return_kit
from app.usecases.transfer_pieces import transfer_pieces
from tests import build
from tests.fakes import MORNING, FixedClock, question, stocked
from tests.faults import planted

LETTERS = "GLDUBK"
KITS = 2
CRIBS = ("main", "annex")
#: the register's first entries are made an hour before anybody works in it
LATER = MORNING + timedelta(hours=1)
# Longer than it takes for an entry made again to be a second act and no double press.
APART = timedelta(seconds=130)


class Act(NamedTuple):
    """One act: its name, the pieces it is about, and the call."""

    name: str
    codes: tuple[str, ...]
    call: Callable[[], object]


def two_cribs(path: Path, kits: int = KITS) -> None:
    """A register with the good kit in crib main, and more like it in turn in crib annex and main."""
    desk = stocked(path)
    rows = [
        SheetRow(Place(""), piece.code, {}, piece, CRIBS[number % 2])
        for number in range(1, kits)
        for piece in _kit(number + 1)
    ]
    load_sheet(desk, "P0", rows)
    desk.store.close()


def _kit(number: int) -> list[Piece]:
    made = [
        build.gloves(f"G{number}"), build.protectors(f"L{number}"), build.detector(f"D{number}"),
        build.proving_unit(f"U{number}"), build.plain(f"B{number}", "barrier-set"),
        build.plain(f"K{number}", "lock-off-set"),
    ]  # fmt: skip
    return [build.piece(one) for one in made]


def load() -> None:
    """Load what is loaded late and do everything once, so that a fork does not pay for it."""
    for name in (
        "alembic.command",
        "alembic.config",
        "alembic.script",
        "app.decision.judging.changes",
        "tests.faults.race",
    ):
        import_module(name)
    with TemporaryDirectory() as folder:
        path = Path(folder) / "warm.cuffdate"
        two_cribs(path)
        worker = Worker(path, FixedClock(LATER), tell=silently)
        for name in ("log", "transfer", "hold", "issue"):
            worker.do(one_act(worker, name))
        worker.desk.store.close()


def tell(**what: object) -> None:
    """One line, whole, past any buffer."""
    os.write(1, (json.dumps(what) + "\n").encode())


def silently(**what: object) -> None:
    """Tell nobody."""


class WatchedDesk(Desk):
    """Remembers what the last act has written, once it is written."""

    names: list[tuple[str, int]]

    @contextmanager
    def write(self, by: str, *, books: Books, setting_up: bool = False) -> Iterator[Unit]:
        with super().write(by, books=books, setting_up=setting_up) as unit:
            yield unit
        self.names = [(name.book, name.number) for name in unit.names]


class Worker:
    """A desk that tells what it does."""

    def __init__(self, path: Path, clock: Callable[[], datetime], tell: Callable[..., None] = tell) -> None:
        self.tell = tell
        self.is_issued = False
        self.desk = WatchedDesk(open_store(path), clock, UTC)

    def do(self, act: Act) -> str:
        """Do it and tell; answers "done", or the key of what stood in the way."""
        self.desk.names = []
        self.tell(**{"try": act.name, "codes": act.codes})
        try:
            answer = act.call()
        except BadInput as no:
            self.tell(refused=no.key, act=act.name)
            return no.key
        except CuffdateError as no:
            self.tell(trouble=no.key, act=act.name, said=str(no))
            return no.key
        self.is_issued = isinstance(answer, tuple) and answer[0].verdict.may_be_issued
        self.tell(done=self.desk.names, act=act.name)
        return "done"

    def issue(self, codes: Sequence[str], by: str = "P0") -> Act:
        today = self.desk.today()
        asked = question(kit=tuple(codes), on=today, until=today)
        return Act("issue", tuple(codes), lambda: issue_kit(self.desk, by, asked))

    def give_back(self, codes: Sequence[str], by: str = "P0") -> Act:
        return Act("return", tuple(codes), lambda: return_kit(self.desk, by, codes, {}))

    def checks(self, codes: Sequence[str], by: str = "P0") -> Iterator[Act]:
        """The checks after which these may be issued again: a list, and tests one by one."""
        looked = tuple(code for code in codes if code[0] != "G")
        if looked:
            yield Act("list", looked, lambda: inspect_list(self.desk, by, looked, {}, {}))
        for code in codes:
            if code[0] in "DU":
                yield self._log("self-test", code, {"result": "passed"}, by)
            if code[0] == "G":
                yield self._log("air-test", code, {"left": "passed", "right": "passed", "inflation": 1.2}, by)

    def _log(self, what: str, code: str, table: dict[str, object], by: str) -> Act:
        return Act("log", (code,), lambda: log_check(self.desk, by, what, code, table))

    def hold(self, codes: Sequence[str]) -> Iterator[Act]:
        """A recall, and the end of it."""
        yield Act("hold", tuple(codes), lambda: hold_piece(self.desk, "P0", codes, "recall"))
        yield Act("release", tuple(codes), lambda: release_piece(self.desk, "P9", codes))

    def transfer(self, codes: Sequence[str], crib: str) -> Act:
        return Act("transfer", tuple(codes), lambda: transfer_pieces(self.desk, "P0", codes, crib))

    def out(self) -> list[str]:
        return sorted(self.desk.ask(out_now))

    def of_crib(self, crib: str) -> list[str]:
        return [
            str(row[0])
            for row in self.desk.ask(
                lambda connection: connection.exec_driver_sql(
                    "SELECT piece FROM status WHERE crib = ? ORDER BY piece", (crib,)
                ).fetchall()
            )
        ]


def _days_work(worker: Worker, rng: random.Random, clock: FixedClock) -> Iterator[Act]:
    """Acts without end, drawn."""
    while True:
        away, draw = worker.out(), rng.random()
        clock.moment += APART
        if away and draw < 0.5:
            yield worker.give_back(rng.sample(away, rng.randint(1, len(away))))
        elif draw < 0.6:
            yield from worker.hold(rng.sample([f"{letter}{n}" for letter in "BK" for n in (1, 2)], 2))
        elif draw < 0.75:
            crib = rng.choice(CRIBS)
            there = [code for code in worker.of_crib(crib) if code not in away]
            if there:
                other = next(one for one in CRIBS if one != crib)
                yield worker.transfer(rng.sample(there, min(len(there), rng.randint(1, 3))), other)
        else:
            codes = [f"{letter}{rng.randint(1, KITS)}" for letter in LETTERS]
            yield from worker.checks(codes)
            yield worker.issue(codes)


def _work(path: Path, seed: str, count: str) -> int:
    """So many acts of a day, drawn by a seed, from where the register stands."""
    clock = FixedClock(_last_moment(path))
    worker = Worker(path, clock)
    for _, act in zip(range(int(count)), _days_work(worker, random.Random(seed), clock), strict=False):
        worker.do(act)
    worker.desk.store.close()
    return 0


def _last_moment(path: Path) -> datetime:
    with closing(sqlite3.connect(path)) as raw:
        return datetime.fromisoformat(raw.execute("SELECT max(at) FROM journal").fetchone()[0]) + timedelta(seconds=1)


def _one(path: Path, name: str) -> int:
    """One act on the register of two cribs as it was made."""
    return _acts(path, name, 1)


def _twice(path: Path, name: str) -> int:
    """The same, and again where there was trouble, by the same desk."""
    return _acts(path, name, 2)


def _acts(path: Path, name: str, most: int) -> int:
    try:
        worker = Worker(path, FixedClock(LATER))
    except CuffdateError as no:
        tell(trouble=no.key, act="open", said=str(no))
        return 0
    act = one_act(worker, name)
    for _ in range(most):
        if not worker.do(act).startswith("store."):
            break
    worker.desk.store.close()
    return 0


def _starve(path: Path, name: str) -> int:
    """One act while the database may take no more memory than it has, and again when it may."""
    worker = Worker(path, FixedClock(LATER))
    act = one_act(worker, name)
    # The limit is the library's own: a pragma could set it and never lift it again.
    limit = ctypes.CDLL(_sqlite3.__file__).sqlite3_hard_heap_limit64
    limit.argtypes, limit.restype = [ctypes.c_int64], ctypes.c_int64
    for most_bytes in (100_000, 0):
        limit(most_bytes)
        worker.do(act)
    worker.desk.store.close()
    return 0


def one_act(worker: Worker, name: str) -> Act:
    """An act by name that the register of two cribs takes as it was made."""
    if name == "issue":
        return worker.issue([f"{letter}{1 + (letter in 'BK')}" for letter in LETTERS])
    if name == "hold":
        return next(worker.hold(["B1", "K2"]))
    if name == "transfer":
        return worker.transfer(["B1", "K1"], "annex")
    if name == "log":
        return next(worker.checks(["U1"]))
    raise ValueError(name)


def _create(path: Path) -> int:
    return _told(lambda: migrations.create(path))


def _migrate(path: Path, scripts: str) -> int:
    return _told(lambda: migrations.migrate(path, Path(scripts)))


def _told(call: Callable[[], object]) -> int:
    try:
        call()
    except CuffdateError as no:
        tell(trouble=no.key, act="file", said=str(no))
    else:
        tell(done=[], act="file")
    return 0


def _open(path: Path) -> int:
    """Open, verify nothing, close: whether somebody may."""
    try:
        store = open_store(path)
    except CuffdateError as no:
        tell(trouble=no.key, act="open", said=str(no))
        return 0
    tell(done=[], act="open", is_read_only=store.is_read_only)
    store.close()
    return 0


def _keep(path: Path) -> int:
    """Have it open until the end comes from outside."""
    store = open_store(path)
    tell(have="open")
    signal.pause()
    store.close()
    return 0


def _rebuild(path: Path) -> int:
    """Have it alone, as whoever migrates it does."""
    with FileLock(path, alone=True):
        tell(have="alone")
        signal.pause()
    return 0


def _exclusive(path: Path) -> int:
    """Write to it without an end."""
    with closing(sqlite3.connect(path, isolation_level=None)) as raw:
        raw.execute("BEGIN EXCLUSIVE")
        tell(have="exclusive")
        signal.pause()
    return 0


def _half(path: Path) -> int:
    """An act that has begun to write into the file itself, and goes no further."""
    with closing(sqlite3.connect(path, isolation_level=None)) as raw:
        raw.execute("PRAGMA cache_size=1")
        raw.execute("BEGIN IMMEDIATE")
        raw.execute("UPDATE status SET state = state || 'x'")
        raw.execute("CREATE TABLE more AS SELECT * FROM journal, piece")
        tell(have="half")
        signal.pause()
    return 0


ACTS: dict[str, Callable[..., int]] = {
    "work": _work, "one": _one, "twice": _twice, "starve": _starve, "create": _create, "migrate": _migrate, "open": _open,
    "keep": _keep, "rebuild": _rebuild, "exclusive": _exclusive, "half": _half,
}  # fmt: skip


def main(argv: Sequence[str]) -> int:
    """`[plant FAULT] WHAT FILE MORE...`; answers the exit status."""
    rest = list(argv)
    if rest[0] == "plant":
        planted.plant(rest[1])
        rest = rest[2:]
    from tests.faults import race

    known = {**ACTS, "race": race.run}
    return known[rest[0]](Path(rest[1]), *rest[2:])
