"""The mutants of what decides: which files, which changes, how a sample is drawn."""

from __future__ import annotations

import ast
import random
from collections import defaultdict
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import NamedTuple

from tests.mutation.changes import changed, changes_of

ROOT = Path(__file__).parents[2]
FIGURES = "app/decision/rulesets/"
JUDGING = ("judge", "status", "looser", "held_sets", "changes")
EACH = 2


class Mutant(NamedTuple):
    """One change of one file; `path` from the top of the checkout, `number` counts the file's changes from 0."""

    path: str
    line: int
    column: int
    what: str
    number: int

    @property
    def name(self) -> str:
        """Where it is and what it does."""
        return f"{self.path}:{self.line}:{self.column} {self.what}"

    @property
    def module(self) -> str:
        """The dotted name of the module it stands in for."""
        dotted = self.path.removesuffix(".py").replace("/", ".")
        return dotted.removesuffix(".__init__")

    def source(self) -> str:
        """The changed source of the file as it is on the disk now."""
        return changed(_text(self.path), self.number, with_figures=not self.path.startswith(FIGURES))


def files() -> list[str]:
    """What is mutated: domain and rules, the part of judging that judges, the rule sets without their figures."""
    found = [
        path for room in ("domain", "rules", "rulesets") for path in (ROOT / "app" / "decision" / room).rglob("*.py")
    ]
    found += [ROOT / "app" / "decision" / "judging" / f"{name}.py" for name in JUDGING]
    return sorted(path.relative_to(ROOT).as_posix() for path in found)


def mutants_of(path: str) -> list[Mutant]:
    """Every mutant of one file."""
    changes = changes_of(ast.parse(_text(path)), with_figures=not path.startswith(FIGURES))
    return [Mutant(path, one.line, one.column, one.what, number) for number, one in enumerate(changes)]


def all_mutants() -> list[Mutant]:
    """Every mutant there is."""
    return [mutant for path in files() for mutant in mutants_of(path)]


def drawn(mutants: Sequence[Mutant], count: int, seed: int) -> list[Mutant]:
    """`count` of them: two of every file that has two, the rest at random of all others; the same for the same seed."""
    chance = random.Random(seed)
    by_path: dict[str, list[Mutant]] = defaultdict(list)
    for mutant in mutants:
        by_path[mutant.path].append(mutant)
    taken = [one for path in sorted(by_path) for one in chance.sample(by_path[path], min(EACH, len(by_path[path])))]
    if count <= len(taken):
        return sorted(chance.sample(taken, count))
    known = set(taken)
    others = [one for one in mutants if one not in known]
    return sorted(taken + chance.sample(others, min(count - len(taken), len(others))))


def named(mutants: Iterable[Mutant], beginnings: Sequence[str]) -> list[Mutant]:
    """Those whose name begins with one of the beginnings; all of them where none is given."""
    return [one for one in mutants if not beginnings or one.name.startswith(tuple(beginnings))]


def _text(path: str) -> str:
    return (ROOT / path).read_text(encoding="utf-8")
