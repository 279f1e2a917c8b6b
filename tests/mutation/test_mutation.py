"""The tool proves itself: what a test must notice is noticed, what cannot be noticed is not, no file is written."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from tests.mutation.changes import changed, changes_of
from tests.mutation.mutants import ROOT, Mutant, all_mutants, drawn, files, mutants_of, named
from tests.mutation.nearest import CASES, UNSEEN, stages_of
from tests.mutation.trial import Changed, Tried, tried

PATH = "app/decision/domain/own_code.py"
MODULE = "app.decision.domain.own_code"
MUTANTS = all_mutants()
NEAR = (("tests/decision/domain/test_own_code.py",),)
SOURCE = """
def f(a: int, b: "list[int]" = None) -> list[int]:
    \"\"\"Never 1 < 2.\"\"\"
    assert a < 9
    if a <= 3 and b is not None:
        return b + [a]
    return [min(a, 1)] if not b else b

def g(words):
    yield from ("one", *words, "two")
"""


def planted(old: str, new: str) -> Changed:
    there = (ROOT / PATH).read_text(encoding="utf-8")
    assert there.count(old) == 1
    return Changed(MODULE, there.replace(old, new))


def test_a_planted_change_is_noticed_and_named_and_no_file_is_written() -> None:
    before = {path: path.read_bytes() for path in (ROOT / "app" / "decision" / "domain").rglob("*.py")}
    outcome = tried(planted("total * 2 %", "total * 3 %"), NEAR)
    assert outcome.was_loaded
    assert [one.partition("::")[0] for one in outcome.failed] == ["tests/decision/domain/test_own_code.py"]
    assert {path: path.read_bytes() for path in (ROOT / "app" / "decision" / "domain").rglob("*.py")} == before


def test_a_change_that_changes_nothing_survives_and_the_one_before_it_left_nothing_behind() -> None:
    assert tried(planted("total * 2 %", "2 * total %"), NEAR) == Tried((), was_loaded=True)


def test_a_hang_and_a_module_that_cannot_be_imported_are_noticed() -> None:
    hang = planted("product = size\n", "product = size\n    while True: pass\n")
    assert tried(hang, NEAR, limit=3).failed == ("(time limit)",)
    assert tried(Changed(MODULE, "raise ImportError"), NEAR).failed != ()


def test_a_test_that_fails_without_a_change_is_not_asked() -> None:
    change = Changed(MODULE, "raise ImportError")
    assert tried(change, NEAR, known={"tests/decision/domain/test_own_code.py"}) == Tried((), was_loaded=False)


def test_every_change_is_made_once_and_alone() -> None:
    found = [one.what for one in changes_of(ast.parse(SOURCE))]
    assert found == [
        "condition `a <= 3 and b is not None` becomes True",
        "condition `a <= 3 and b is not None` becomes False",
        "in `a <= 3 and b is not None` and becomes or",
        "in `a <= 3` <= becomes <",
        "figure 3 becomes 4",
        "figure 3 becomes 2",
        "in `b is not None` is not becomes is",
        "`return b + [a]` returns []",
        "`return [min(a, 1)] if not b else b` returns []",
        "min becomes max",
        "figure 1 becomes 2",
        "figure 1 becomes 0",
        "condition `not b` becomes True",
        "condition `not b` becomes False",
        "`not b` loses its not",
        "`yield from ('one', *words, 'two')` is not yielded",
        "'one' is taken out of its list",
        "*words is taken out of its list",
        "'two' is taken out of its list",
    ]
    whole = ast.unparse(ast.parse(SOURCE))
    sources = [changed(SOURCE, number) for number in range(len(found))]
    assert len({whole, *sources}) == len(found) + 1
    for source in sources:
        differing = [(old, new) for old, new in zip(whole.splitlines(), source.splitlines(), strict=True) if old != new]
        assert len(differing) == 1


def test_the_figures_of_rule_sets_are_left_to_the_tests_that_move_them() -> None:
    figures = [
        one for one in MUTANTS if one.path.startswith("app/decision/rulesets/") and one.what.startswith("figure")
    ]
    assert figures == []
    assert any(one.what.startswith("figure") for one in mutants_of("app/decision/domain/voltage.py"))


def test_a_sample_has_some_of_every_file_and_is_the_same_for_the_same_seed() -> None:
    sample = drawn(MUTANTS, 320, 7)
    assert sample == drawn(MUTANTS, 320, 7) != drawn(MUTANTS, 320, 8)
    assert len(set(sample)) == 320
    assert {one.path for one in sample} == {one.path for one in MUTANTS}
    assert named(MUTANTS, [sample[0].name]) == [sample[0]]


def test_every_rule_and_everything_of_the_domain_that_decides_is_mutated() -> None:
    rules = {path.relative_to(ROOT).as_posix() for path in (ROOT / "app" / "decision" / "rules").glob("[a-z]*.py")}
    assert rules <= {one.path for one in MUTANTS} <= set(files())


@pytest.mark.parametrize(
    "path",
    [
        "app/decision/rules/fuse_fit.py",
        "app/decision/domain/voltage.py",
        "app/decision/judging/judge.py",
        "app/decision/rulesets/us_tables.py",
    ],
)
def test_every_module_is_asked_of_the_cases_and_all_three_rooms(path: str) -> None:
    asked = [file for stage in stages_of(path) for file in stage]
    assert len(asked) == len(set(asked))
    assert {CASES, UNSEEN} <= set(asked)
    rooms = {Path(file).parent.name for file in asked}
    assert rooms == {"rulesets", "outside", "domain", "rules", "judging", "properties"}


def test_a_mutant_says_where_it_is() -> None:
    mutant = Mutant("app/decision/rules/fuse_fit.py", 3, 7, "x", 0)
    assert (mutant.module, mutant.name) == ("app.decision.rules.fuse_fit", "app/decision/rules/fuse_fit.py:3:7 x")
