"""Program and second judge over generated kits: no kit that the program issues and the second judge refuses.

`python -m tests.oracle.agreement --kits 1000000 --report docs/reports/FILE.md` is the long run.
"""

from __future__ import annotations

import argparse
import os
import platform
import sys
import time
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from multiprocessing import get_context
from pathlib import Path
from typing import Any

from app.domain.case.case import read_case
from app.judging.judge import judge as judge_kit
from app.judging.worked_cases import facts_of

from tests.oracle import judge as second_judge
from tests.oracle.kits import SPOILERS, described

SLICE = 500


@dataclass
class Tally:
    """Counts over a range of kits; `wrong` and `stricter` keep (number, rules) of each difference."""

    kits: int = 0
    issued_by_both: int = 0
    refused_by_both: int = 0
    wrong: list[tuple[int, tuple[str, ...]]] = field(default_factory=list)
    stricter: list[tuple[int, tuple[str, ...]]] = field(default_factory=list)
    only_cause: Counter[str] = field(default_factory=Counter)
    same_findings: int = 0

    def add(self, other: Tally) -> None:
        self.kits += other.kits
        self.issued_by_both += other.issued_by_both
        self.refused_by_both += other.refused_by_both
        self.wrong += other.wrong
        self.stricter += other.stricter
        self.only_cause += other.only_cause
        self.same_findings += other.same_findings

    @property
    def agreement(self) -> float:
        return (self.issued_by_both + self.refused_by_both) / self.kits if self.kits else 0.0


def decided(kit: dict[str, Any]) -> tuple[bool, set[str]]:
    """What the program says of a kit: issued or not, and the rules that stop it."""
    verdict = judge_kit(facts_of(read_case({**kit, "expect": {}})))
    return verdict.may_be_issued, {one.rule for one in verdict.stops}


def compare(seed: int, numbers: Iterable[int]) -> Tally:
    """Both judges over these kits."""
    tally = Tally()
    for number in numbers:
        kit, spoilers = described(seed, number)
        issued, stops = decided(kit)
        second = second_judge(kit)
        others = {one["rule"] for one in second["findings"] if one["outcome"] != "met"}
        second_issues = second["decision"] == "may-be-issued"
        tally.kits += 1
        tally.same_findings += stops == others
        if issued and second_issues:
            tally.issued_by_both += 1
        elif issued:
            tally.wrong.append((number, tuple(sorted(others))))
        elif second_issues:
            tally.stricter.append((number, tuple(sorted(stops))))
        else:
            tally.refused_by_both += 1
            if len(spoilers) == 1:
                tally.only_cause[SPOILERS[spoilers[0]]] += 1
    return tally


def _slice(work: tuple[int, int, int]) -> Tally:
    seed, first, last = work
    return compare(seed, range(first, last))


def run(seed: int, kits: int, *, is_loud: bool = False) -> Tally:
    """Compare over both cores; slices keep the processes short of memory."""
    work = [(seed, first, min(first + SLICE, kits)) for first in range(0, kits, SLICE)]
    total = Tally()
    with get_context("spawn").Pool(min(2, os.cpu_count() or 1)) as pool:
        for done, tally in enumerate(pool.imap_unordered(_slice, work), start=1):
            total.add(tally)
            if is_loud and done % 40 == 0:
                print(f"{total.kits:>9,} kits, {len(total.wrong)} wrong, {total.agreement:.4%} agree", flush=True)
    return total


def report(total: Tally, seed: int, seconds: float) -> str:
    """The figures of a run as a page."""
    lines = [
        "# Program and second judge", "",
        f"Kits {total.kits:,} (seed {seed}), {seconds:,.0f} s on {min(2, os.cpu_count() or 1)} cores, "
        f"Python {platform.python_version()}.", "",
        f"- wrong issues (program issues, second judge refuses): {len(total.wrong)}",
        f"- agreement on the decision: {total.agreement:.4%}",
        f"- agreement on every rule that stops a kit: {total.same_findings / total.kits:.4%}",
        f"- issued by both: {total.issued_by_both / total.kits:.2%}",
        f"- refused by the program alone: {len(total.stricter)}", "",
        "| rule | kits it was the only named cause of |", "|---|---|",
        *(f"| {rule} | {total.only_cause[rule]:,} |" for rule in sorted(set(SPOILERS.values()))),
    ]  # fmt: skip
    for name, found in (("Wrong", total.wrong), ("Stricter", total.stricter)):
        lines += ["", *(f"- {name}: kit {number}: {', '.join(rules)}" for number, rules in found[:50])]
    return "\n".join(lines).rstrip() + "\n"


def main() -> int:
    parser = argparse.ArgumentParser()
    parser.add_argument("--kits", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--report", type=Path)
    args = parser.parse_args()
    began = time.perf_counter()
    total = run(args.seed, args.kits, is_loud=True)
    page = report(total, args.seed, time.perf_counter() - began)
    print(page)
    if args.report:
        args.report.write_text(page, encoding="utf-8")
    return 1 if total.wrong else 0


if __name__ == "__main__":
    sys.exit(main())
