"""The long numbers as a table: `python -m tests.faults.report` prints Markdown for docs/reports."""

from __future__ import annotations

import platform
import sqlite3
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import NamedTuple

from tests.faults import acts, test_damage, test_disk_faults, test_kill, test_power_cut, test_race
from tests.faults.checks import copied, on_memory
from tests.faults.forks import Forks
from tests.faults.race import KITS
from tests.faults.shim import Shim, why_not
from tests.migrations import revisions, test_migrate


class Ground(NamedTuple):
    """What every part stands on: registers made once, processes that fork, and a folder."""

    forks: Forks
    woken: Shim
    made: Path
    folder: Path

    @contextmanager
    def place(self) -> Iterator[Path]:
        with tempfile.TemporaryDirectory(dir=self.folder) as inner:
            yield Path(inner)


class Row(NamedTuple):
    """One line of the table. `rounds`: how often; `seen`: what came of them; `wrong`: what must not come."""

    what: str
    rounds: int
    seen: Counter[str]
    wrong: list[str]


Part = Callable[[Ground], Iterator[Row]]


def _kills(ground: Ground) -> Iterator[Row]:
    with ground.place() as place:
        wrong, seen = test_kill.swept(ground.forks, ground.made, place, 60)
    yield Row("kill -9 at random moments of a day's work", 60, seen, wrong)
    for act in ("issue", "transfer", "hold", "log"):
        with ground.place() as place:
            wrong = test_kill.killed_everywhere(ground.woken, ground.made, place, act)
            calls = sum(one.is_dir() for one in place.iterdir()) - 1
        yield Row(f"kill -9 before every file call of one act: {act}", calls, Counter(), wrong)


def _cuts(ground: Ground) -> Iterator[Row]:
    wrong, total = list[str](), 0
    for seed in range(2, 6):
        with ground.place() as place:
            found, count = test_power_cut.cut(ground.woken, ground.made, place, seed, 40, 400)
        wrong, total = wrong + found, total + count
    yield Row("power cut within a day's work, states of the disk", total, Counter(), wrong)


def _faults(ground: Ground) -> Iterator[Row]:
    for act, step in (("issue", 1), ("transfer", 5), ("log", 5)):
        with ground.place() as place:
            wrong, seen = test_disk_faults.swept(ground.woken, ground.made, place, act, step)
        which = "every" if step == 1 else f"every {step}th"
        yield Row(f"{which} failing or short call of one act: {act}", seen.total(), seen, wrong)


def _migrations(ground: Ground) -> Iterator[Row]:
    for name, body in (("adds a column", revisions.ADDS), ("rebuilds a table", revisions.REBUILDS)):
        with ground.place() as place:
            wrong, seen = test_migrate.killed(ground.woken, ground.made, place, body, 1)
        yield Row(f"migration that {name}, killed at every write", seen.total(), seen, wrong)
        with ground.place() as place:
            wrong, seen = test_migrate.power_cut(ground.woken, ground.made, place, body, 300)
        yield Row(f"migration that {name}, power cut", seen.total(), seen, wrong)


def _damage(ground: Ground) -> Iterator[Row]:
    with ground.place() as place:
        full = copied(ground.made, place)
        test_damage.fill(full)
        wrong, total = list[str](), 0
        for table in test_damage.TABLES:
            missed, count = test_damage.unnamed(copied(full, place / table), table)
            wrong, total = wrong + missed, total + count
        yield Row(f"one changed value in each column of {len(test_damage.TABLES)} tables", total, Counter(), wrong)
        seen, wrong = test_damage.flips(full, place / "flips", 3000, 6)
        yield Row("one flipped bit in the file", seen.total(), seen, wrong)


def _race(ground: Ground) -> Iterator[Row]:
    with ground.place() as place:
        crowded = place / "r.cuffdate"
        acts.two_cribs(crowded, KITS)
        wrong, seen = test_race.raced(ground.forks, crowded, 10_000, 2_000)
    yield Row("race of 8 processes after 192 pieces, attempts to issue", seen["tried"], seen, wrong)


PARTS: tuple[Part, ...] = (_kills, _cuts, _faults, _migrations, _damage, _race)


def _line(row: Row, took_s: float) -> str:
    seen = ", ".join(f"{what}: {count:,}" for what, count in sorted(row.seen.items())) or "-"
    wrong = f"**{len(row.wrong)}**, first: {row.wrong[0][:200]}" if row.wrong else "nothing"
    return f"| {row.what} | {row.rounds:,} | {seen} | {wrong} | {took_s:.0f} s |"


def main() -> int:
    """Print the table; answers 1 where something was found that must not be."""
    if why_not():
        print(why_not())
        return 1
    print(f"Python {platform.python_version()}, SQLite {sqlite3.sqlite_version}, {platform.system()}\n")
    print("| what | rounds | what came of them | what must not come | took |\n|---|---:|---|---|---:|", flush=True)
    worst = 0
    with ExitStack() as stack:
        home = Path(stack.enter_context(tempfile.TemporaryDirectory()))
        folder = stack.enter_context(on_memory(home / "work"))
        built = Shim.build(home)
        forks, sleeping = stack.enter_context(Forks()), stack.enter_context(Forks(built.preloaded))
        made = home / "made.cuffdate"
        acts.two_cribs(made)
        ground = Ground(forks, Shim(built.preloaded, built.home, sleeping.run), made, folder)
        for part in PARTS:
            began_s = time.monotonic()
            for row in part(ground):
                print(_line(row, time.monotonic() - began_s), flush=True)
                worst, began_s = worst or int(bool(row.wrong)), time.monotonic()
    return worst


if __name__ == "__main__":
    sys.exit(main())
