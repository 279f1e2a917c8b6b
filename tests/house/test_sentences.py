"""Keys in the code against sentences in `app.words`: none lacks one, none is idle, every error has a next step."""

from __future__ import annotations

import ast
import re
import string
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest

from app.decision.domain.finding import Outcome
from app.decision.domain.verdict import Decision
from app.decision.domain.voltage import SUPPLIES, Current, Origin
from app.decision.fields import words as case_words
from app.decision.fields.pieces import FIELDS
from app.decision.judging.catalogues import catalogues
from app.outputs.documents import figures, history, site_rules
from app.outputs.documents.due_list import COLUMNS
from app.window.places.counter.state import MODES
from app.window.places.due.state import GROUPS
from app.window.places.shelf.acts import FORMS
from app.words import vocabulary
from app.words.saying import say_in_two, sentences
from app.words.vocabulary import PLACES
from tests.house.test_habits import FILES, TREES

ROOT = Path(__file__).parents[2]
APP = ROOT / "app"
KNOWN = sentences()
LOOKS_LIKE_A_KEY = re.compile(r"[a-z][a-z0-9-]*(\.[a-z0-9-]+)+")
ERRORS = ("BadInput", "ProgramFault", "FileFault", "CellFault", "Fault", "_fault", "_file_fault", "_known")
# Position of the key among the arguments of what carries one; 0 unless it stands here.
KEY_AT = {"Change": 2, "_file_fault": 2, "_fault": 1, "_known": 2}
KEYED = {
    "met", "met_until", "not_met", "cannot_tell", "caution", "Note", "Change", "say", "_note", *ERRORS,
}  # fmt: skip
# Keys put together from a beginning and a word, each with all its words. A beginning that is not here fails a test.
UNREADABLE = {
    str(node.args[0].value)
    for path, tree in TREES.items() if path.parent in (APP / "decision" / "case", APP / "decision" / "fields")
    for node in ast.walk(tree)
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Unreadable"
    and node.args and isinstance(node.args[0], ast.Constant)
}  # fmt: skip
PUT_TOGETHER: dict[str, set[str]] = {
    "bench.look.": {
        "clearance",
        "remark",
        *(f"{part}-of" for part in ("defect", "caps", "jack", "clearance", "remark")),
    },
    "case.": UNREADABLE,
    "circuit-in-scope.class-": {"a", "b"},
    "decision.": {*get_args(Decision), "for-day-only", "for-days-only"},
    "demo.next-": {"kit", "history", "full", "window"},
    "due.column.": set(COLUMNS),
    "headroom.": set(get_args(Decision)),
    "judge.": {"passed", "failed", "waiting"},
    "history.column.": set(history.COLUMNS),
    "rules.column.": set(site_rules.COLUMNS),
    "rules.figure-column.": set(figures.FIGURE_COLUMNS),
    "shelf.add.": {
        *(
            {field.key for field in FIELDS.values() if field.is_offered}
            - {"code", "kind", "custody", "lost", "voltage_mark", "fuse"}
        ),
        "voltage_ac",
        "voltage_dc",
        "fuse_v",
        "fuse_ac_only",
        "fuse_kind",
        "fixed",
        "loose",
        "yes",
        "no",
        "unknown",
    },
    "menu.": {"open", "begin", "depot", "sheet", "close", "system", "light", "dark"},
    **{f"{place}.": {"question"} for place in PLACES},
    "counter.": {
        "question",
        "others",
        "changes",
        "open_issues",
        "required",
        *(f"{mode}.{word}" for mode in MODES if mode != "give" for word in ("lead", "do")),
    },
    "counter.fold.": {"cautions", "met"},
    "counter.missing.": {"who", "system", "task"},
    "counter.mode.": set(MODES),
    "counter.question.": set(MODES),
    "due.group.": {*GROUPS, *(f"{group}.full" for group in GROUPS)},
    "shelf.": {"question", *(f"{act}{part}" for act in FORMS for part in ("", ".lead", ".do"))},
    "start.": {"question", *(f"{way}.says" for way in ("demo", "begin", "open"))},
    "start.missing.": {"file", "code", "rule-set", "crib"},
    "unit.": {"months", "years", "times"},
    "waits.": {"rule-set", "kind", "rule", "offered-reading", "calculation", "entry", "unknown-entry"},
    "weekday.": set("0123456"),
    "saved.result.": {"passed", "failed", "does-not-count"},
}
# Not keys of sentences although they look alike: packages that are walked, files, and places of a worked case.
NOT_KEYS = re.compile(r"app\..*|.*\.(toml|xlsx|cuffdate|log)|journal\.(book|number)|job\.task")
# Sentences nothing says. Whoever uses one, or takes it out of app/words, takes it out here.
IDLE: set[str] = set()


def in_code() -> Iterator[tuple[Path, ast.AST]]:
    """Every node of the program except the tables of sentences themselves."""
    for path, tree in TREES.items():
        yield from ((path, node) for node in ast.walk(tree))


def literals() -> set[str]:
    return {node.value for _, node in in_code() if isinstance(node, ast.Constant) and isinstance(node.value, str)}


def spelled(node: ast.AST) -> set[str]:
    """The words an argument may be, where it is written out on the spot."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return {node.value}
    if isinstance(node, ast.IfExp):
        return spelled(node.body) | spelled(node.orelse)
    return set()


def carried(names: set[str]) -> set[str]:
    """Keys handed over in calls of these names, by position or as key=."""
    found: set[str] = set()
    for _, node in in_code():
        if not isinstance(node, ast.Call):
            continue
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if name not in names:
            continue
        at = KEY_AT.get(name, 0)
        keys = [*node.args[at : at + 1], *(one.value for one in node.keywords if one.arg == "key")]
        found |= {key for one in keys for key in spelled(one)}
    return found


def put_together() -> set[str]:
    return {f"{begin}{word}" for begin, words in PUT_TOGETHER.items() for word in words}


def demo_headings() -> set[str]:
    steps = tomllib.loads((ROOT / "demo_data" / "demo.toml").read_text(encoding="utf-8"))["steps"]
    return {step["heading"] for step in steps}


def said() -> set[str]:
    direct = {one for one in literals() if one in KNOWN} | put_together() | demo_headings()
    return direct | {f"{one}{end}" for one in direct for end in (".next", ".alone", ".window")}


def test_every_key_that_is_handed_over_has_a_sentence() -> None:
    keys = carried(KEYED) | put_together() | demo_headings()
    assert len(keys) > 150
    assert sorted(keys - set(KNOWN)) == []


def test_every_literal_that_looks_like_a_key_is_one() -> None:
    alike = {one for one in literals() if LOOKS_LIKE_A_KEY.fullmatch(one) and not NOT_KEYS.fullmatch(one)}
    assert sorted(alike - set(KNOWN) - set(PUT_TOGETHER)) == []


def test_every_beginning_of_a_key_is_known_here() -> None:
    begins: set[str] = set()
    for _, node in in_code():
        first = node.values[0] if isinstance(node, ast.JoinedStr) and node.values else None
        begin = first.value if isinstance(first, ast.Constant) else None
        if isinstance(begin, str) and re.fullmatch(r"[a-z-]+(\.[a-z-]+)*\.[a-z-]*", begin):
            begins.add(begin)
    # The rooms of commands and use cases, and a table's short name in a query.
    assert begins - {"app.cli.", "app.usecases.", "app.window.places.", "s."} <= set(PUT_TOGETHER)


def test_no_sentence_is_idle() -> None:
    # Words of the trade, by table and key ("kind/rubber-gloves"), are held against the keys themselves below.
    idle = {key for key in set(KNOWN) - said() if "/" not in key} - {"locale"}
    assert {key.removesuffix(".next").removesuffix(".window") for key in idle} == IDLE


def errors() -> set[str]:
    """Keys of everything that goes wrong: of calls, of values that cannot be read, and of sheets (notes apart)."""
    of_sheets = {
        key
        for key in KNOWN
        if key.startswith("sheet.") and not key.startswith("sheet.note-") and not key.endswith(".next")
    }
    return carried(set(ERRORS)) | {f"case.{word}" for word in UNREADABLE} | of_sheets


@pytest.mark.parametrize("key", sorted(errors()))
def test_every_error_says_what_and_what_now(key: str) -> None:
    parts = (KNOWN[key], KNOWN.get(f"{key}.next", ""))
    blanks = {name: "x" for part in parts for _, name, _, _ in string.Formatter().parse(part) if name}
    what, next_step = say_in_two(key, blanks)
    assert what.strip(" .")
    assert next_step.strip(" .")


def test_a_full_stop_in_a_value_does_not_cut_the_sentence() -> None:
    values = {
        "thing": "G1", "sheet": "Gloves", "row": 3, "column": "B", "heading": "El. test", "found": "2026-09-14",
        "expected": "2026-03-02",
    }  # fmt: skip
    what, next_step = say_in_two("sheet.date-in-future", values)
    assert "2026-09-14 is after 2026-03-02" in what
    assert next_step == "Correct the date."


def test_a_literal_finds_its_file() -> None:
    # The walk itself: were it to see nothing, everything above would hold.
    assert {path.parent.name for path, _ in in_code()} >= {"rules", "intake", "cli", "domain", "judging", "documents"}
    assert len(FILES) == len(TREES)


def test_every_key_of_the_trade_has_a_word() -> None:
    known = catalogues()
    assert set(known.kinds) == set(vocabulary.KINDS)
    assert set(known.tasks) == set(vocabulary.TASKS)
    assert set(known.rules) <= set(case_words.RULES) == set(vocabulary.RULES)
    assert {kind.role for kind in known.kinds.values() if kind.role} <= set(vocabulary.ROLES)
    assert {role for task in known.tasks.values() for role in task.roles} <= set(vocabulary.ROLES)
    assert set(SUPPLIES) == set(vocabulary.SUPPLIES)
    assert set(get_args(Origin)) == set(vocabulary.ORIGINS)
    assert set(get_args(Current)) == set(vocabulary.CURRENTS)
    assert {one.value for one in Outcome} == set(vocabulary.OUTCOMES)
    assert set(case_words.EVENTS) == set(vocabulary.EVENTS)
    assert set(case_words.CONFIDENCE) == set(vocabulary.CONFIDENCE)
    assert set(case_words.CLASS_SYSTEMS) == set(vocabulary.CLASS_SYSTEMS)
