"""Every sentence is given what it asks: the values handed over beside a key against the places in its sentence."""

from __future__ import annotations

import ast
import string
from collections.abc import Iterator
from pathlib import Path

import pytest

from app.words.saying import sentences
from tests.house.test_habits import FILES, TREES

KNOWN = sentences()
ALWAYS = {
    "BadInput": {"file", "place", "thing"}, "StoreTrouble": {"file", "place", "thing"},
    "ProgramFault": {"file", "place", "thing"}, "Note": set(), "say": set(),
}  # fmt: skip
# What the report of a note adds: the piece in front of every sentence about a test, a finding said in its own words.
ADDED = {"subject", "day"}


def places(key: str) -> set[str]:
    """The names in a sentence and in its next step."""
    texts = [KNOWN[key], KNOWN.get(f"{key}.next", "")]
    return {name for text in texts for _, name, _, _ in string.Formatter().parse(text) if name}


def handed(call: ast.Call, name: str) -> set[str] | None:
    """Names of the values of one call; None where they are not written out on the spot."""
    if name in ("Note", "say"):
        if len(call.args) < 2 or not isinstance(call.args[1], ast.Dict):
            return None
        keys = call.args[1].keys
        if not all(isinstance(key, ast.Constant) for key in keys):
            return None
        found = {str(key.value) for key in keys if isinstance(key, ast.Constant)}
    else:
        if any(one.arg is None for one in call.keywords):
            return None
        found = {str(one.arg) for one in call.keywords}
    return found | {"says"} if "finding" in found else found


def calls(path: Path) -> Iterator[tuple[int, str, str, set[str]]]:
    """Line, what is called, key and values of every call that hands a key over with its values."""
    for node in ast.walk(TREES[path]):
        if not isinstance(node, ast.Call) or not node.args or not isinstance(node.args[0], ast.Constant):
            continue
        name = node.func.id if isinstance(node.func, ast.Name) else ""
        key = node.args[0].value
        values = handed(node, name) if name in ALWAYS else None
        if values is not None and isinstance(key, str) and key in KNOWN:
            yield node.lineno, name, key, values | ALWAYS[name]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_no_sentence_lacks_a_value(path: Path) -> None:
    lacking = [
        (line, key, sorted(lacks))
        for line, name, key, values in calls(path)
        if (lacks := places(key) - values - (ADDED if name == "Note" else set()))
    ]
    assert lacking == []


def test_enough_is_looked_at() -> None:
    assert sum(1 for path in FILES for _ in calls(path)) > 250
