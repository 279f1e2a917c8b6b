"""Whatever the program finds can be said, with every value in its place."""

from __future__ import annotations

import pytest

from app.decision.case.case import read_case
from app.decision.domain.errors import ProgramFault
from app.decision.judging.catalogues import catalogues
from app.decision.judging.judge import judge
from app.decision.judging.worked_cases import facts_of
from app.words import vocabulary
from app.words.saying import listed, number, say, say_finding
from tests.oracle.kits import described


def test_every_word_of_the_format_has_a_word_for_people() -> None:
    assert set(catalogues().kinds) == set(vocabulary.KINDS)
    assert set(catalogues().tasks) == set(vocabulary.TASKS)
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
