"""Every key the program may say has a sentence with all its values; every error has a next step."""

from __future__ import annotations

import ast
import string
from pathlib import Path

import pytest

from app.domain.case import words as case_words
from app.domain.case.case import read_case
from app.domain.errors import ProgramFault
from app.judging.catalogues import catalogues
from app.judging.judge import judge
from app.judging.worked_cases import facts_of
from app.words import vocabulary
from app.words.saying import listed, number, say, say_finding, say_in_two, sentences
from tests.oracle.kits import described

APP = Path(__file__).parents[2] / "app"
KEYED_CALLS = {"met", "met_until", "not_met", "cannot_tell", "caution", "say", "Note", "BadInput", "ProgramFault"}


def keys_in_code() -> set[str]:
    """Every literal that looks like a key and is a sentence's, and every literal first argument of a keyed call."""
    found: set[str] = set()
    for path in APP.rglob("*.py"):
        if path.parent.name == "words":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and node.args:
                name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
                first = node.args[0]
                if name in KEYED_CALLS and isinstance(first, ast.Constant) and isinstance(first.value, str):
                    found.add(first.value)
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value in sentences():
                found.add(node.value)
    return found


def test_every_key_has_a_sentence() -> None:
    assert sorted(keys_in_code() - set(sentences())) == []


def test_every_error_has_a_next_step() -> None:
    known = sentences()
    errors = {key.removesuffix(".next") for key in known if key.endswith(".next") and key != "error.next"}
    for key in sorted(errors):
        blanks = {name: "x" for _, name, _, _ in string.Formatter().parse(known[key]) if name}
        blanks |= {name: "x" for _, name, _, _ in string.Formatter().parse(known[f"{key}.next"]) if name}
        what, next_step = say_in_two(key, blanks)
        assert what, key
        assert next_step, key


def test_every_word_of_the_format_has_a_word_for_people() -> None:
    assert set(case_words.KINDS) == set(vocabulary.KINDS)
    assert set(case_words.TASKS) == set(vocabulary.TASKS)
    assert set(catalogues().rules) <= set(vocabulary.RULES)
    assert {kind.role for kind in catalogues().kinds.values()} - {None} <= set(vocabulary.ROLES)


def test_whatever_generated_kits_bring_forth_can_be_said() -> None:
    for index in range(1500):
        kit, _ = described(4, index)
        verdict = judge(facts_of(read_case({**kit, "expect": {}})))
        for finding in (*verdict.findings, *verdict.cautions):
            sentence = say_finding(finding)
            assert not {"{", "None"} & set(sentence.replace("{", " { ").split()), (finding.key, sentence)


def test_a_missing_sentence_or_value_is_never_papered_over() -> None:
    with pytest.raises(ProgramFault):
        say("no.such-key", {})
    with pytest.raises(ProgramFault):
        say("not-held.held", {})


def test_numbers_and_lists() -> None:
    assert number(1541.76) == "1,541.76"
    assert number(1500.0) == "1,500"
    assert listed(["a"]) == "a"
    assert listed(["a", "b", "c"]) == "a, b and c"


def test_a_shortfall_below_a_hundredth_of_a_volt_is_still_said() -> None:
    assert say("circuit-in-scope.class-b", {"subject": "t", "measured": 60.001}).endswith("60.001 V.")
