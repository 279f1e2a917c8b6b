"""`python -m tests.mutation`: do the tests notice small changes of what decides?

`--sample N` draws N mutants (every file has some), else all are tried, which takes hours; `--seed S` draws others;
`--only PATH` (or the beginning of a mutant's name, again and again) keeps to those; `--into FILE` writes a line for
each as soon as it is known. Tests that fail without any change are left out and named. Exit 1 where fewer than 95 of
100 were noticed.
"""

from __future__ import annotations

import argparse
import platform
import sys
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import NamedTuple

from tests.mutation.mutants import Mutant, all_mutants, drawn, named
from tests.mutation.nearest import stages_of
from tests.mutation.trial import Changed, Tried, tried

WANTED = 95
SEED = 20261126
LEAST_LIMIT = 120.0


class Result(NamedTuple):
    """A mutant and what came of it."""

    mutant: Mutant
    tried: Tried

    @property
    def was_noticed(self) -> bool:
        """Whether any test failed."""
        return bool(self.tried.failed)

    def line(self) -> str:
        """One line of the report."""
        if self.was_noticed:
            return f"killed    {self.mutant.name}  |  {self.tried.failed[0]}"
        return f"survived  {self.mutant.name}" + ("" if self.tried.was_loaded else "  |  never imported")


def failing_anyway(mutants: Sequence[Mutant]) -> tuple[set[str], float]:
    """Tests that fail without a change, and how many seconds all of them took."""
    files = sorted({file for path in {one.path for one in mutants} for stage in stages_of(path) for file in stage})
    began = time.monotonic()
    outcome = tried(None, tuple((file,) for file in files), limit=3600)
    if any(one.startswith("(") for one in outcome.failed):
        raise SystemExit(f"the tests cannot begin without a change: {outcome.failed}")
    return set(outcome.failed), time.monotonic() - began


def results(mutants: Sequence[Mutant], known: set[str], limit: float, jobs: int) -> Iterator[Result]:
    """Every mutant's result, in order, as soon as those before it are known."""

    def one(mutant: Mutant) -> Result:
        change = Changed(mutant.module, mutant.source())
        return Result(mutant, tried(change, stages_of(mutant.path), known, limit))

    with ThreadPoolExecutor(jobs) as pool:
        yield from pool.map(one, mutants)


def summary(found: Sequence[Result]) -> Iterator[str]:
    """How many were noticed, and which were not."""
    noticed = sum(one.was_noticed for one in found)
    yield f"{noticed} of {len(found)} noticed, {100 * noticed / max(1, len(found)):.1f} of 100"
    yield from (one.line() for one in found if not one.was_noticed)


def _asked(argv: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("--sample", type=int, help="how many; all where it is not given")
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--only", action="append", default=[], metavar="PATH")
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--into", type=Path, metavar="FILE")
    parser.add_argument("--count", action="store_true", help="only say how many there are in each file")
    return parser.parse_args(argv)


def main(argv: Sequence[str] | None = None) -> int:
    """Draw, try, say; 0 where enough were noticed."""
    asked = _asked(argv)
    mutants = named(all_mutants(), asked.only)
    if asked.count:
        for path in sorted({one.path for one in mutants}):
            print(f"{sum(one.path == path for one in mutants):5}  {path}")
    chosen = mutants if asked.sample is None else drawn(mutants, asked.sample, asked.seed)
    print(f"{len(mutants)} mutants, {len(chosen)} chosen, seed {asked.seed}; Python {platform.python_version()}")
    if asked.count or not chosen:
        return 0
    known, seconds = failing_anyway(chosen)
    for test in sorted(known):
        print(f"fails without a change and is left out: {test}")
    found = []
    for result in results(chosen, known, max(LEAST_LIMIT, 4 * seconds), asked.jobs):
        found.append(result)
        print(result.line(), flush=True)
        if asked.into:
            asked.into.write_text("".join(f"{one.line()}\n" for one in found), encoding="utf-8")
    print("\n".join(summary(found)))
    return 0 if 100 * sum(one.was_noticed for one in found) >= WANTED * len(found) else 1


if __name__ == "__main__":
    sys.exit(main())
