"""judge: run worked cases and hold what comes out against what they expect."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from app.cli.arguments import DONE, REFUSED
from app.cli.output import show_json, show_lines
from app.compose import read_text
from app.decision.case.case import read_cases
from app.decision.judging.worked_cases import CaseResult, run_case
from app.outputs.documents.case_values import found_values, plain
from app.words.saying import say


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What judge takes."""
    parser.add_argument("files", nargs="+", metavar="FILE")
    parser.add_argument("--all", action="store_true")


def run(args: argparse.Namespace) -> int:
    """Run every case of every file; 3 if one differs. A file that cannot be read stops before anything is run."""
    read = [(name, read_cases(read_text(Path(name)), name)) for name in args.files]
    results = [(name, run_case(case)) for name, cases in read for case in cases]
    states = [result.state for _, result in results]
    counts = {state: states.count(state) for state in ("passed", "failed", "waiting")}
    if args.json:
        show_json({**counts, "cases": [_values(name, result) for name, result in results]})
    else:
        for _, result in results:
            if result.state != "passed" or args.all:
                show_lines(_lines(result))
        show_lines([say("judge.summary", counts)])
    return REFUSED if counts["failed"] else DONE


def _values(name: str, result: CaseResult) -> dict[str, Any]:
    return {
        "id": result.id, "file": name, "state": result.state, "expected": plain(result.expected),
        "found": found_values(result), "why": result.why,
    }  # fmt: skip


def _lines(result: CaseResult) -> list[str]:
    what, _, thing = result.why.partition(" ")
    needed = say(f"waits.{what}", {"thing": thing}) if result.state == "waiting" else ""
    lines = [say(f"judge.{result.state}", {"id": result.id, "why": result.why, "what": needed})]
    if result.state == "failed":
        lines.append(say("judge.expected", {"expected": plain(result.expected)}))
        lines.append(say("judge.found", {"found": found_values(result)}))
    return lines
