"""What every worked case comes to, in one table: so that a change of the rules shows in which cases, and only there.

`python -m tests.outside.answers` writes `answers.csv` anew; whoever does so says in the commit which cases moved and why.
"""

from __future__ import annotations

import csv
import hashlib
import io
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from app.decision.case.case import read_cases
from app.decision.domain.finding import Finding
from app.decision.judging.worked_cases import CaseResult, run_case

HERE = Path(__file__).parent
FILE = HERE / "answers.csv"
CASES = (
    *sorted((HERE.parent / "decision" / "rulesets" / "cases").glob("*.toml")),
    *sorted((HERE / "unseen").glob("*")),
)
HEADINGS = ("file", "case", "state", "answer", "findings", "digest")
Row = tuple[str, ...]


def answers() -> Iterator[Row]:
    """A row for each case: its state, what it came to, how many findings of which outcome, a digest of them all."""
    for path in CASES:
        for case in read_cases(path.read_text(encoding="utf-8"), path.name):
            yield (path.stem, case.id, *_outcome(run_case(case)))


def _outcome(result: CaseResult) -> Row:
    findings = [one for one in result.found.get("findings", ()) if isinstance(one, Finding)]  # type: ignore[attr-defined]
    lines = sorted((one.rule, one.subject, one.outcome.value, str(one.good_until)) for one in findings)
    counts = Counter(outcome for _, _, outcome, _ in lines)
    answer = " ".join(f"{key}={value}" for key, value in sorted(result.found.items()) if key != "findings")
    told = " ".join(f"{outcome} {count}" for outcome, count in sorted(counts.items()))
    return result.state, answer, told, hashlib.sha256(repr(lines).encode()).hexdigest()[:12] if lines else ""


def kept() -> list[Row]:
    """The rows as they are kept."""
    return [tuple(row) for row in csv.reader(io.StringIO(FILE.read_text(encoding="utf-8")))][1:]


if __name__ == "__main__":
    with FILE.open("w", encoding="utf-8", newline="") as written:
        csv.writer(written, lineterminator="\n").writerows((HEADINGS, *answers()))
