"""The proof of a decision: keys and values that survive being stored, and say what the decision said."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from app.decision.case.case import read_case
from app.decision.judging.answers import KitAnswer
from app.decision.judging.worked_cases import facts_of, run_case
from app.outputs.documents.decision import as_values, case_text, kept_values, say_change
from app.register.columns import Packed
from app.register.proof import FORM, Proof, answer_of, change_of, proof_of, read_proof
from app.usecases.check_store import check_store
from app.usecases.desk import Desk
from app.usecases.hold_piece import hold_piece
from app.words.saying import say_finding, sentences
from tests.fakes import question, stocked

ASKED: tuple[dict[str, object], ...] = ({}, {"person": "P9"}, {"kit": ("G1",)}, {"kit": ("G1", "L1", "D1")})


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    opened = stocked(tmp_path / "r.cuffdate")
    yield opened
    opened.store.close()


def stored_and_read(answer: KitAnswer) -> Proof:
    column = Packed()
    return read_proof(column.loaded(column.stored(proof_of(answer))))


@pytest.mark.parametrize("asked", ASKED, ids=str)
@pytest.mark.parametrize("is_held", [False, True])
def test_what_is_stored_says_what_the_decision_said(asked: dict[str, object], is_held: bool, desk: Desk) -> None:
    if is_held:
        hold_piece(desk, "P0", ["D1"], "recall")
    answer = check_store(desk, question(**asked))
    proof = stored_and_read(answer)
    assert proof.form == FORM
    assert kept_values(proof.answer) == as_values(answer)
    said = [finding["says"] for finding in kept_values(proof.answer)["findings"]]
    assert said == [say_finding(finding) for finding in answer.verdict.findings]
    assert [say_change(change_of(change)) for change in proof.answer["changes"]] == [
        say_change(change) for change in answer.changes
    ]


@pytest.mark.parametrize("asked", ASKED, ids=str)
def test_what_is_stored_is_judged_again_from_the_same_facts(asked: dict[str, object], desk: Desk) -> None:
    answer = check_store(desk, question(**asked))
    (table,) = tomllib.loads(case_text(stored_and_read(answer), "decision"))["case"]
    case = read_case(table)
    facts = facts_of(case)
    assert (facts.pieces, facts.job, facts.person) == (answer.facts.pieces, answer.facts.job, answer.facts.person)
    assert run_case(case).state == "passed"


def test_no_sentence_is_stored(desk: Desk) -> None:
    """Longer texts of the catalogue, without their values, stand nowhere in what is stored."""
    answer = check_store(desk, question(person="P9"))
    stored = json.dumps(json.loads(json.dumps(answer_of(answer))), ensure_ascii=False)
    assert "says" not in stored
    for finding in answer.verdict.findings:
        assert say_finding(finding) not in stored
    assert not [key for key, text in sentences().items() if len(text) > 30 and text in stored]
