"""One of several processes that issue and return the same pieces as fast as they can.

`race FILE NUMBER SEED ATTEMPTS CYCLES START`: until it has made so many attempts to issue and so many issues with returns.
The disk is not asked here (synchronous is off): the race is about locks.
"""

from __future__ import annotations

import random
import time
from collections import Counter
from datetime import datetime, timedelta
from pathlib import Path

from tests.fakes import MORNING
from tests.faults.acts import LETTERS, Act, Worker, silently, tell

PIECES = 192
KITS = PIECES // 6
HOTTEST = 4
# Time runs fast, so that the checks of one piece are second acts and no double presses.
FASTER = 400


class FastClock:
    """The machine's own clock, one for all processes, running fast from an hour after the register was made."""

    def __init__(self, start_s: float) -> None:
        self._start_s = start_s

    def __call__(self) -> datetime:
        return MORNING + timedelta(hours=1) + timedelta(seconds=(time.monotonic() - self._start_s) * FASTER)


class Racer:
    """One process's hands. `seen`: how often what happened."""

    def __init__(self, path: Path, number: int, seed: str, start_s: float) -> None:
        self.rng, self.seen = random.Random(f"{seed} {number}"), Counter[str]()
        self.worker = Worker(path, FastClock(start_s), tell=silently)
        self.worker.desk.store._connection.exec_driver_sql("PRAGMA synchronous=OFF")
        self.by = ("P0", "P9")[number % 2]
        self.tried = self.cycles = 0

    def turn(self) -> None:
        """One kit: out, pressed again while it is in hand, back, and looked over for the next."""
        kit = self.rng.randint(1, KITS)
        codes = [f"{one}{kit if self.rng.random() < 0.9 else self.rng.randint(1, HOTTEST)}" for one in LETTERS]
        said = self._issue(codes)
        self.seen[f"issue: {said}"] += 1
        if said == "issued":
            since_s = time.monotonic()
            self.seen[f"again: {self._issue(codes)}"] += 1
            for _ in range(2):
                self._want_anothers()
            until_s = time.monotonic()
            self._give_back(codes)
            tell(held=codes, since_s=since_s, until_s=until_s)
            self.cycles += 1
        if said in ("issued", "refused"):
            for act in self.worker.checks(codes, self.by):
                self.seen[f"check: {self._do(act)}"] += 1

    def _want_anothers(self) -> None:
        """A kit with a piece that somebody has out, who may just be bringing it back."""
        wanted, kit = self.rng.choice(self.worker.out()), self.rng.randint(1, KITS)
        codes = [wanted if one == wanted[0] else f"{one}{kit}" for one in LETTERS]
        said = self._issue(codes)
        self.seen[f"anothers: {said}"] += 1
        if said == "issued":
            self._give_back(codes)
            self.cycles += 1

    def _issue(self, codes: list[str]) -> str:
        self.tried += 1
        said = self._do(self.worker.issue(codes, self.by))
        return said if said != "done" else "issued" if self.worker.is_issued else "refused"

    def _give_back(self, codes: list[str]) -> None:
        # Given back a moment after it was given back before, it is taken for a double press at first.
        while (said := self._do(self.worker.give_back(codes, self.by))) == "entry.twice":
            self.seen["return: entry.twice"] += 1
            time.sleep(0.1)
        self.seen[f"return: {said}"] += 1

    def _do(self, act: Act) -> str:
        while (said := self.worker.do(act)) == "store.busy":
            self.seen["busy"] += 1
        return said


def run(path: Path, number: str, seed: str, attempts: str, cycles: str, start_s: str) -> int:
    """One process of the race; tells for how long which pieces were in its hands, and at the end what it saw."""
    racer = Racer(path, int(number), seed, float(start_s))
    while racer.tried < int(attempts) or racer.cycles < int(cycles):
        racer.turn()
    racer.worker.desk.store.close()
    tell(seen=racer.seen, tried=racer.tried, cycles=racer.cycles)
    return 0
