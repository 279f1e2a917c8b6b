"""Which tests are asked about a module, the nearest first."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from tests.mutation.mutants import ROOT

CASES = "tests/decision/rulesets/test_cases.py"
CLAUSES = "tests/decision/rulesets/test_clauses.py"
UNSEEN = "tests/outside/test_unseen_cases.py"
_MIRRORS = ("domain", "rules", "judging")
_ORDER = {"domain": ("domain", "rules", "judging"), "rules": ("rules", "judging", "domain")}
_FLOORS = {room: f"decision/{room}" for room in _MIRRORS}
Stages = tuple[tuple[str, ...], ...]


def stages_of(path: str) -> Stages:
    """Groups of test files for a file of `app`, each asked only where the ones before it noticed nothing.

    First the tests that mirror the file or name its rule, then the worked cases, ours and those of somebody who had not
    seen the program, then room by room, the drawn properties last.
    """
    room = path.split("/")[2]
    near = (CLAUSES, *(one for one in _files(_MIRRORS) if _is_near(one, path)))
    rest = [CASES, *_files(_ORDER.get(room, ("judging", "rules", "domain")))]
    groups = [near, (CASES,), (UNSEEN,)]
    for name in _ORDER.get(room, ("judging", "rules", "domain")):
        groups.append(tuple(one for one in rest if one.startswith(f"tests/decision/{name}/") and one not in near))
    groups.append(_files(("properties",)))
    return tuple(group for group in groups if group)


@cache
def _files(rooms: tuple[str, ...]) -> tuple[str, ...]:
    found = [path for room in rooms for path in sorted((ROOT / "tests" / _FLOORS.get(room, room)).glob("test_*.py"))]
    return tuple(path.relative_to(ROOT).as_posix() for path in found)


@cache
def _text(path: str) -> str:
    return (ROOT / path).read_text(encoding="utf-8")


def _is_near(test: str, path: str) -> bool:
    stem = Path(path).stem
    if Path(test).stem == f"test_{stem}":
        return True
    dotted = path.removesuffix(".py").replace("/", ".")
    if path.startswith("app/decision/rules/"):
        return dotted in _text(test) or f'"{stem.replace("_", "-")}"' in _text(test)
    return path.startswith("app/decision/domain/") and dotted in _text(test) and _imports(test) <= 6


def _imports(test: str) -> int:
    """How many modules of `app.decision.domain` a test names: one that names many is near to none of them."""
    return _text(test).count("from app.decision.domain")
