"""Which tests are asked about a module, the nearest first."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from tests.mutation.mutants import ROOT

CASES = "tests/decision/rulesets/test_cases.py"
CLAUSES = "tests/decision/rulesets/test_clauses.py"
UNSEEN = "tests/outside/test_unseen_cases.py"
ROOMS = ("decision/domain", "decision/rules", "decision/judging", "properties")
Stages = tuple[tuple[str, ...], ...]


def stages_of(path: str) -> Stages:
    """Groups of test files for a file of `app`, the second asked only where the first noticed nothing.

    First the tests named after the file or naming it, then the worked cases, ours and those of somebody who had not
    seen the program, then room by room, the drawn properties last; a group ends at its first failure.
    """
    near = (CLAUSES, *(test for test in _all() if _is_near(test, path)))
    return near, (CASES, UNSEEN, *(test for test in _all() if test not in near))


@cache
def _all() -> tuple[str, ...]:
    tests = [test for room in ROOMS for test in sorted((ROOT / "tests" / room).glob("test_*.py"))]
    return tuple(test.relative_to(ROOT).as_posix() for test in tests)


@cache
def _text(path: str) -> str:
    return (ROOT / path).read_text(encoding="utf-8")


def _is_near(test: str, path: str) -> bool:
    """Whether a test has the file's name, or names it: a rule by its key, a module by its dotted name among few."""
    stem, text = Path(path).stem, _text(test)
    if Path(test).stem == f"test_{stem}" or ("/rules/" in path and f'"{stem.replace("_", "-")}"' in text):
        return True
    return path.removesuffix(".py").replace("/", ".") in text and text.count("from app.decision") <= 6
