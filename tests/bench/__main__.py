"""`python -m tests.bench`: the table of ratios to floors measured in the same run; exit 1 where a budget is passed."""

from __future__ import annotations

import os
import platform
import sys
from collections.abc import Iterable

from tests.bench.figures import MEASURED, Figure


def table(figures: Iterable[Figure]) -> list[str]:
    """The figures as lines of a table that docs may hold as it is."""
    lines = ["| figure | floor | ratio | budget | |", "|---|---|---|---|---|"]
    for one in figures:
        kept = "kept" if one.is_within else "over"
        lines.append(f"| {one.name} | {one.floor_name} | {one.ratio:.2f} | {one.budget:g} | {kept} |")
    return lines


def main() -> int:
    """Measure everything and print the table."""
    figures = [measure() for measure in MEASURED]
    print("\n".join(table(figures)))
    print(f"\nMedians of repeated runs; {os.cpu_count()} cores, Python {platform.python_version()}.")
    return 0 if all(one.is_within for one in figures) else 1


if __name__ == "__main__":
    sys.exit(main())
