"""Program and second judge over generated kits: no kit that the program issues and the second judge refuses.

`python -m tests.oracle.agreement --kits 1000000 --report docs/reports/FILE.md` is the long run; it exits 1 where one of
the promises below is not kept.
"""

from __future__ import annotations

import argparse
import os
import platform
import sys
import time
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from multiprocessing import get_context
from pathlib import Path
from typing import Any, NamedTuple

from app.decision.case.case import read_case
from app.decision.judging.judge import judge as judge_kit
from app.decision.judging.worked_cases import facts_of
from tests.oracle import RULES_IN_SCOPE
from tests.oracle import judge as second_judge
from tests.oracle.kits import SPOILERS, described

SLICE = 500
LEAST_AGREEMENT = 0.995
LEAST_ISSUED, MOST_ISSUED = 0.25, 0.60
LEAST_PER_MILLION = 500
MOST_SHOWN = 50
_RANK = {"not-met": 0, "cannot-tell": 1, "met": 2}


class Said(NamedTuple):
    """What a judge says of one rule in one kit: the worst outcome, and the earliest last good day where it is met."""

    outcome: str
    good_until: date | None


NOTHING = Said("met", None)


class Judged(NamedTuple):
    """One judge's answer: `stops` are the rules that refuse, those that do not last as long as the job among them."""

    issued: bool
    rules: Mapping[str, Said]
    stops: frozenset[str]


@dataclass
class Tally:
    """Counts over a range of kits.

    `wrong` and `stricter` hold (kit, rules) of each difference in the decision; `only_named` counts kits whose one
    spoiler is of that rule and was named as a stop by both; `only_stop` those where nothing else stopped the kit.
    `other_outcome` and `other_day` count per rule the kits where the outcome, and where outcome or last good day, differ;
    every kit is compared under every rule.
    """

    kits: int = 0
    issued_by_both: int = 0
    refused_by_both: int = 0
    alike_throughout: int = 0
    wrong: list[tuple[int, tuple[str, ...]]] = field(default_factory=list)
    stricter: list[tuple[int, tuple[str, ...]]] = field(default_factory=list)
    only_named: Counter[str] = field(default_factory=Counter)
    only_stop: Counter[str] = field(default_factory=Counter)
    other_outcome: Counter[str] = field(default_factory=Counter)
    other_day: Counter[str] = field(default_factory=Counter)
    unlike: Counter[tuple[str, str, str]] = field(default_factory=Counter)

    def add(self, other: Tally) -> None:
        """Take another range's counts in."""
        self.kits += other.kits
        self.issued_by_both += other.issued_by_both
        self.refused_by_both += other.refused_by_both
        self.alike_throughout += other.alike_throughout
        self.wrong += other.wrong
        self.stricter += other.stricter
        for name in ("only_named", "only_stop", "other_outcome", "other_day", "unlike"):
            getattr(self, name).update(getattr(other, name))

    @property
    def agreement(self) -> float:
        """Share of kits with the same decision."""
        return (self.issued_by_both + self.refused_by_both) / self.kits if self.kits else 0.0

    @property
    def share_issued(self) -> float:
        """Share of kits issued by both."""
        return self.issued_by_both / self.kits if self.kits else 0.0

    @property
    def findings_alike(self) -> float:
        """Share of (kit, rule) with the same outcome."""
        compared = self.kits * len(RULES_IN_SCOPE)
        return 1 - self.other_outcome.total() / compared if compared else 0.0

    def rare(self) -> dict[str, int]:
        """Rules that were too seldom the only named cause, with their counts."""
        least = LEAST_PER_MILLION * self.kits / 1_000_000
        return {rule: self.only_named[rule] for rule in named_rules() if self.only_named[rule] < least}

    def broken(self) -> list[str]:
        """The promises this run does not keep."""
        kept = {
            "a kit was issued that the second judge refuses": not self.wrong,
            "agreement is below 99.5 %": self.agreement >= LEAST_AGREEMENT,
            "the share issued by both is outside 25 to 60 %": LEAST_ISSUED <= self.share_issued <= MOST_ISSUED,
            f"too seldom the only named cause: {', '.join(self.rare())}": not self.rare(),
        }
        return [promise for promise, is_kept in kept.items() if not is_kept]


def named_rules() -> list[str]:
    """The rules the generator can break."""
    return sorted(set(SPOILERS.values()))


def program(kit: dict[str, Any]) -> Judged:
    """What the program says of a kit."""
    verdict = judge_kit(facts_of(read_case({**kit, "expect": {}})))
    rules = _by_rule((one.rule, one.outcome.value, one.good_until) for one in verdict.findings)
    return Judged(verdict.may_be_issued, rules, frozenset(one.rule for one in verdict.stops))


def second(kit: dict[str, Any]) -> Judged:
    """What the second judge says of a kit."""
    answer = second_judge(kit)
    rules = _by_rule((one["rule"], one["outcome"], one["good_until"]) for one in answer["findings"])
    until = max(kit["until"], kit["on"])
    stops = frozenset(
        one["rule"] for one in answer["findings"]
        if one["outcome"] != "met" or (one["good_until"] is not None and one["good_until"] < until)
    )  # fmt: skip
    return Judged(answer["decision"] == "may-be-issued", rules, stops)


def _by_rule(findings: Iterable[tuple[str, str, date | None]]) -> dict[str, Said]:
    outcomes: dict[str, str] = {}
    days: dict[str, date] = {}
    for rule, outcome, good_until in findings:
        if outcomes.get(rule, outcome) == outcome or _RANK[outcome] < _RANK[outcomes[rule]]:
            outcomes[rule] = outcome
        if good_until is not None and (rule not in days or good_until < days[rule]):
            days[rule] = good_until
    return {rule: Said(outcome, days.get(rule) if outcome == "met" else None) for rule, outcome in outcomes.items()}


def compare(seed: int, numbers: Iterable[int]) -> Tally:
    """Both judges over these kits."""
    tally = Tally()
    for number in numbers:
        kit, spoilers = described(seed, number)
        ours, theirs = program(kit), second(kit)
        tally.kits += 1
        _count_decision(tally, number, ours, theirs)
        _count_rules(tally, ours, theirs)
        if len(spoilers) == 1 and not ours.issued and not theirs.issued:
            rule = SPOILERS[spoilers[0]]
            tally.only_named[rule] += rule in ours.stops & theirs.stops
            tally.only_stop[rule] += ours.stops == theirs.stops == {rule}
    return tally


def _count_decision(tally: Tally, number: int, ours: Judged, theirs: Judged) -> None:
    if ours.issued and theirs.issued:
        tally.issued_by_both += 1
    elif ours.issued:
        tally.wrong.append((number, tuple(sorted(theirs.stops))))
    elif theirs.issued:
        tally.stricter.append((number, tuple(sorted(ours.stops))))
    else:
        tally.refused_by_both += 1


def _count_rules(tally: Tally, ours: Judged, theirs: Judged) -> None:
    """A rule that makes no demand of this kit counts as met: where one judge says nothing the other may say met."""
    alike = True
    for rule in ours.rules.keys() | theirs.rules.keys():
        ours_said, theirs_said = ours.rules.get(rule, NOTHING), theirs.rules.get(rule, NOTHING)
        if ours_said == theirs_said or rule not in RULES_IN_SCOPE:
            continue
        alike = False
        tally.other_day[rule] += 1
        if ours_said.outcome != theirs_said.outcome:
            tally.other_outcome[rule] += 1
            tally.unlike[(rule, ours_said.outcome, theirs_said.outcome)] += 1
    tally.alike_throughout += alike


def _slice(work: tuple[int, int, int]) -> Tally:
    seed, first, last = work
    return compare(seed, range(first, last))


def cores() -> int:
    """How many processes compare at once."""
    return min(2, os.cpu_count() or 1)


def run(seed: int, kits: int, *, is_loud: bool = False) -> Tally:
    """Compare over both cores; slices keep the processes short of memory."""
    work = [(seed, first, min(first + SLICE, kits)) for first in range(0, kits, SLICE)]
    total, began = Tally(), time.perf_counter()
    with get_context("spawn").Pool(cores()) as pool:
        for done, tally in enumerate(pool.imap_unordered(_slice, work), start=1):
            total.add(tally)
            if is_loud and done % 20 == 0:
                seconds = time.perf_counter() - began
                print(
                    f"{total.kits:>9,} of {kits:,} kits, {seconds:>6,.0f} s, {len(total.wrong)} wrong, "
                    f"{total.agreement:.4%} agree",
                    flush=True,
                )
    # The slices come in as they are done.
    total.wrong.sort()
    total.stricter.sort()
    return total


def report(total: Tally, seed: int, seconds: float) -> str:
    """The figures of a run as a page."""
    broken = total.broken()
    lines = [
        "# Program and second judge", "",
        f"{total.kits:,} kits (seed {seed}) in {seconds:,.0f} s; {cores()} cores, Python {platform.python_version()}.", "",
        f"- wrong issues (program issues, second judge refuses): {len(total.wrong)}",
        f"- agreement on the decision: {total.agreement:.4%}",
        f"- issued by both: {total.share_issued:.2%}",
        f"- refused by the program alone: {len(total.stricter)}",
        f"- kits where every rule has the same outcome and last good day: {total.alike_throughout / total.kits:.4%}",
        f"- findings (kit and rule) with the same outcome: {total.findings_alike:.4%}",
        f"- promises not kept: {'; '.join(broken) or 'none'}", "",
        "Only named cause: the one fault put into the kit is of this rule, and both judges name the rule. Only stop: no",
        "other rule stopped the kit. Outcome, and last good day: share of kits in which both judges say the same.", "",
        "| rule | only named cause | only stop | outcome alike | last good day alike too |", "|---|---|---|---|---|",
        *(_row(total, rule) for rule in sorted(RULES_IN_SCOPE)),
    ]  # fmt: skip
    if total.unlike:
        lines += ["", "| rule | program says | second judge says | kits |", "|---|---|---|---|"]
        lines += [f"| {rule} | {ours} | {theirs} | {n:,} |" for (rule, ours, theirs), n in sorted(total.unlike.items())]
    for name, found in (("Wrong issue", total.wrong), ("Refused by the program alone", total.stricter)):
        by_rule = Counter(rule for _, rules in found for rule in rules)
        lines += [""] if found else []
        lines += [f"- {name}, by rule: {rule} {count:,}" for rule, count in by_rule.most_common()]
        lines += [f"- {name}: kit {number}: {', '.join(rules)}" for number, rules in sorted(found)[:MOST_SHOWN]]
    return "\n".join(lines).rstrip() + "\n"


def _row(total: Tally, rule: str) -> str:
    named = (
        f"{total.only_named[rule]:,} | {total.only_stop[rule]:,}" if rule in named_rules() else "not drawn | not drawn"
    )
    outcome, day = (1 - found[rule] / total.kits for found in (total.other_outcome, total.other_day))
    return f"| {rule} | {named} | {outcome:.4%} | {day:.4%} |"


def main() -> int:
    """The command; exit status 1 where a promise is not kept."""
    parser = argparse.ArgumentParser(prog="python -m tests.oracle.agreement")
    parser.add_argument("--kits", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--report", type=Path)
    args = parser.parse_args()
    began = time.perf_counter()
    total = run(args.seed, args.kits, is_loud=True)
    page = report(total, args.seed, time.perf_counter() - began)
    print(page)
    if args.report:
        args.report.parent.mkdir(parents=True, exist_ok=True)
        args.report.write_text(page, encoding="utf-8")
    return 1 if total.broken() else 0


if __name__ == "__main__":
    sys.exit(main())
