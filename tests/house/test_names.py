"""Names: what ours may not begin with, what the pure rooms may not call, and places that are nobody's business."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from tests.house.test_contracts import FREE, ROOMS
from tests.house.test_habits import FILES, PROMISE, TREES, kept_files, text_of

ROOT = Path(__file__).parents[2]
# A test runner collects what begins so. Two values of the domain are named after the electrical test all the same;
# nothing may join them, and whoever renames one takes it off this list.
NAMED_AFTER_THE_TEST = {"Tested", "TestInterval"}
PURE = [path for path in FILES if path.relative_to(ROOT / "app").parts[0].removesuffix(".py") in ROOMS - FREE["pure"]]
# Joined here so that this file does not hold what it looks for.
REGISTRIES = re.compile(
    "|".join(
        re.escape(f"{host}.{end}")
        for host, end in (
            ("pypi", "org"), ("pypi", "python.org"), ("pythonhosted", "org"), ("anaconda", "org"), ("npmjs", "org"),
            ("npmjs", "com"), ("crates", "io"), ("docker", "io"), ("ghcr", "io"),
        )
    ),
    re.IGNORECASE,
)  # fmt: skip


# Words that say nothing of what they stand for; the rooms that name everything they hold.
SAY_NOTHING = {"one", "found", "said", "made"}
NAMED = (
    "decision/domain", "decision/judging", "decision/kinds", "decision/rules", "decision/rulesets", "decision/tasks",
    "register", "usecases", "outputs", "cli", "words", "window",
    "compose.py",
)  # fmt: skip


def names_bound(tree: ast.AST) -> set[str]:
    """What is bound by assigning, looping, or as an argument; the fields of a class are no locals."""
    nodes = list(ast.walk(tree))
    fields = {
        id(part.target) for node in nodes if isinstance(node, ast.ClassDef)
        for part in node.body if isinstance(part, ast.AnnAssign)
    }  # fmt: skip
    names = (node for node in nodes if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store))
    stored = {name.id for name in names if id(name) not in fields}
    return stored | {node.arg for node in nodes if isinstance(node, ast.arg)}


@pytest.mark.parametrize("room", NAMED)
def test_what_is_held_is_called_by_its_noun(room: str) -> None:
    trees = {path: tree for path, tree in TREES.items() if path.is_relative_to(ROOT / "app" / room)}
    assert trees
    assert {str(path): names for path, tree in trees.items() if (names := names_bound(tree) & SAY_NOTHING)} == {}


@pytest.mark.parametrize(
    "planted", ["made = 1", "[one for one in ()]", "lambda found: 0", "def f(said): 0", "(one := 1)"]
)
def test_a_name_that_says_nothing_is_found(planted: str) -> None:
    assert names_bound(ast.parse(planted)) & SAY_NOTHING


def test_nothing_of_ours_starts_like_a_test() -> None:
    named = {
        node.name
        for tree in TREES.values()
        for node in ast.walk(tree)
        if isinstance(node, (ast.ClassDef, ast.FunctionDef)) and node.name.startswith("Test")
    }
    assert named == NAMED_AFTER_THE_TEST


def test_no_package_registry_is_named() -> None:
    found = [str(path.relative_to(ROOT)) for path in kept_files() if REGISTRIES.search(text_of(path))]
    assert found == []


def test_the_patterns_find_what_they_look_for() -> None:
    assert REGISTRIES.search("https://files.python" + "hosted" + ".org/x")
    assert PROMISE.search("this kit is sa" + "fe.")
    assert PROMISE.search("Sa" + "fely put away")
    assert not PROMISE.search("Safety officer")


def is_of_the_desk(func: ast.Attribute) -> bool:
    """The desk tells the day by a clock it was given; asking it reads no clock."""
    return isinstance(func.value, ast.Name) and func.value.id == "desk"


@pytest.mark.parametrize("path", PURE, ids=lambda path: str(path.relative_to(ROOT)))
def test_no_pure_room_opens_prints_asks_or_reads_the_clock(path: Path) -> None:
    called = [node.func for node in ast.walk(TREES[path]) if isinstance(node, ast.Call)]
    bare = {func.id for func in called if isinstance(func, ast.Name)}
    of_a_class = {func.attr for func in called if isinstance(func, ast.Attribute) and not is_of_the_desk(func)}
    assert bare & {"open", "print", "input", "exec", "eval", "__import__"} == set()
    assert of_a_class & {"now", "utcnow", "today", "read_text", "write_text", "read_bytes", "write_bytes"} == set()


def test_the_clock_is_read_in_one_room_at_most() -> None:
    readers = {
        path.relative_to(ROOT / "app").parts[0]
        for path, tree in TREES.items()
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and not is_of_the_desk(node.func)
        if node.func.attr in ("now", "utcnow", "today")
    }
    assert readers <= {"compose.py"}
