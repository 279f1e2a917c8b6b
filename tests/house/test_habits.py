"""Names, sizes, docstrings and words of the house."""

from __future__ import annotations

import ast
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path
from statistics import quantiles

import pytest

ROOT = Path(__file__).parents[2]
FILES = sorted((ROOT / "app").rglob("*.py"))
TREES = {path: ast.parse(path.read_text(encoding="utf-8")) for path in FILES}
Function = ast.FunctionDef | ast.AsyncFunctionDef
# Joined here so that this file does not hold what it looks for.
PROMISE = re.compile(r"\b" + "sa" + r"fe(ly|r)?\b", re.IGNORECASE)
ALLOWED = re.compile(r"fail-|thread-|type-|never (say|write|call|promise)", re.IGNORECASE)


def kept_files() -> list[Path]:
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True).stdout
    names = [name for name in listed.decode().split("\0") if name]
    return [ROOT / name for name in names if (ROOT / name).is_file()]


def text_of(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return ""


def test_no_room_has_a_name_that_says_nothing() -> None:
    said_nothing = {"services", "service", "utils", "util", "helpers", "manager", "common", "base", "misc", "core"}
    assert [str(path) for path in FILES if {path.stem, *path.parent.parts} & said_nothing] == []


def test_nothing_promises() -> None:
    found = [
        f"{path.relative_to(ROOT)}: {line.strip()[:80]}"
        for path in kept_files()
        for line in text_of(path).splitlines()
        if path.suffix in (".py", ".md", ".toml") and PROMISE.search(line) and not ALLOWED.search(line)
    ]
    assert found == []


def test_no_place_of_a_machine_is_named() -> None:
    places = re.compile("/" + r"(root|home/\w+|work|tmp)/")
    found = [str(path) for path in kept_files() if places.search(text_of(path))]
    assert found == []


def test_the_top_level_is_as_agreed() -> None:
    allowed = {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "LICENSE",
        "app",
        "tests",
        "docs",
        "migrations",
        "demo_data",
    }
    top = {path.relative_to(ROOT).parts[0] for path in kept_files()}
    assert {name for name in top if not name.startswith(".")} <= allowed


def functions() -> Iterator[tuple[Path, Function]]:
    for path, tree in TREES.items():
        for node in ast.walk(tree):
            if isinstance(node, Function):
                yield path, node


def test_sizes() -> None:
    lengths = [(node.end_lineno or node.lineno) - node.lineno + 1 for _, node in functions()]
    assert quantiles(lengths, n=10)[-1] <= 30
    assert [str(path) for path in FILES if len(path.read_text(encoding="utf-8").splitlines()) > 400] == []
    classes = [node for tree in TREES.values() for node in ast.walk(tree) if isinstance(node, ast.ClassDef)]
    assert [one.name for one in classes if sum(isinstance(part, Function) for part in one.body) > 25] == []


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(ROOT)))
def test_public_things_say_what_they_are(path: Path) -> None:
    tree = TREES[path]
    public = [
        node
        for node in tree.body
        if isinstance(node, (ast.FunctionDef, ast.ClassDef)) and not node.name.startswith("_")
    ]
    silent = [node.name for node in public if not ast.get_docstring(node)]
    if tree.body and not ast.get_docstring(tree):
        silent.insert(0, "module")
    assert silent == []


# Messages by which two sentences are told apart, and nothing is decided.
CHOOSES_WORDS = {
    "app/outputs/documents/history.py", "app/words/vocabulary.py", "app/window/places/bench/state.py",
}  # fmt: skip
MESSAGES = {"finding", "note", "reason", "stop"}


def _compared_keys(tree: ast.AST) -> Iterator[ast.Attribute]:
    """Every `.key` of a note or finding on either side of a comparison, or asked for its beginning or end."""
    for node in ast.walk(tree):
        sides: list[ast.AST] = []
        if isinstance(node, ast.Compare):
            sides = [node.left, *node.comparators]
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            sides = [node.func.value] if node.func.attr in ("startswith", "endswith") else []
        for side in sides:
            yield from (
                one
                for one in ast.walk(side)
                if isinstance(one, ast.Attribute) and one.attr == "key" and _owner(one) in MESSAGES
            )


def _owner(key: ast.Attribute) -> str:
    return key.value.id if isinstance(key.value, ast.Name) else getattr(key.value, "attr", "")


@pytest.mark.parametrize("path", FILES, ids=str)
def test_nothing_is_decided_by_a_messages_key(path: Path) -> None:
    """A finding's cause and remedy are for that; a key may be renamed, or end otherwise, at any time."""
    if path.relative_to(ROOT).as_posix() in CHOOSES_WORDS:
        return
    assert [ast.unparse(one) for one in _compared_keys(ast.parse(text_of(path)))] == []


def test_a_decision_by_a_key_is_found() -> None:
    planted = "x = {note.key for note in reasons} == {'test.no-limit-printed'}\ny = finding.key.endswith('.next')"
    assert len(list(_compared_keys(ast.parse(planted)))) == 2


def test_every_command_is_in_the_guide() -> None:
    from app.cli.program import COMMANDS

    guide = (ROOT / "README.md").read_text(encoding="utf-8")
    guide += "".join(page.read_text(encoding="utf-8") for page in (ROOT / "docs" / "guide").glob("*.md"))
    assert [name for name in COMMANDS if f"cuffdate {name}" not in guide] == []


def test_ci_runs_the_readmes_command() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    command = "python3 -m venv .venv && .venv/bin/pip install -q -e '.[dev]' && .venv/bin/python -m tests.run"
    assert command in readme
    assert command in (ROOT / ".ci" / "run").read_text(encoding="utf-8")
