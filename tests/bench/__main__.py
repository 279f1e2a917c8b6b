"""`python -m tests.bench`: the table of ratios to floors measured in the same run; exit 1 where a budget is passed.

`--sizes 1000 10000 100000` says how many pieces, of twenty records each, the registers hold that the store's figures
are taken on; making the largest takes minutes, so it is left to whoever asks for it.
"""

from __future__ import annotations

import argparse
import os
import platform
import sys
from collections.abc import Iterable, Iterator

from tests.bench.figures import MEASURED, Figure
from tests.bench.store_figures import SIZES, store_figures


def table(figures: Iterable[Figure]) -> Iterator[str]:
    """The figures as lines of a table that docs may hold as it is, each as soon as it is known."""
    yield from ("| figure | floor | ratio | budget | |", "|---|---|---|---|---|")
    for one in figures:
        budget = "none" if one.budget is None else f"{one.budget:g}"
        kept = "" if one.budget is None else "kept" if one.is_within else "over"
        yield f"| {one.name} | {one.floor_name} | {one.ratio:.2f} | {budget} | {kept} |"


def measured(sizes: Iterable[int], only: str) -> Iterator[Figure]:
    """Every figure, one after the other; `only` names one part of them, "" all."""
    if only in ("", "decision"):
        yield from (measure() for measure in MEASURED)
    if only in ("", "store"):
        yield from store_figures(sizes)
    if only in ("", "window"):
        # The toolkit is loaded only where it is measured.
        from tests.bench.window_figures import window_figures

        yield from window_figures()


def main() -> int:
    """Measure everything and print the table."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--sizes", type=int, nargs="*", default=SIZES, metavar="PIECES")
    parser.add_argument("--only", choices=("decision", "store", "window"), default="", help="one part of the figures")
    asked = parser.parse_args()
    figures: list[Figure] = []
    for line in table(_kept(measured(asked.sizes, asked.only), figures)):
        print(line, flush=True)
    print(f"\nMedians of repeated runs; {os.cpu_count()} cores, Python {platform.python_version()}.")
    return 0 if all(one.is_within for one in figures) else 1


def _kept(figures: Iterable[Figure], into: list[Figure]) -> Iterator[Figure]:
    for one in figures:
        into.append(one)
        yield one


if __name__ == "__main__":
    sys.exit(main())
