"""A piece's card and history in words: who had it, what a test came to, everything that holds it."""

from __future__ import annotations

from datetime import timedelta

import pytest

from app.decision.case.pieces import read_piece
from app.decision.domain.entries import Entry, Name
from app.decision.domain.errors import BadInput
from app.decision.domain.record import Issue, Return
from app.decision.judging.answers import DueQuestion
from app.outputs.documents.due_list import as_values, build
from app.outputs.documents.entry_words import brought_back
from app.outputs.documents.field_words import fields_of
from app.outputs.documents.history import build as history_of
from app.outputs.documents.history import card, more_said
from app.register.reads.last_tests import last_tests
from app.usecases.add_piece import add_piece
from app.usecases.correct_entry import correct_entry
from app.usecases.desk import Desk
from app.usecases.enter_taken import enter_taken
from app.usecases.hand_over import hand_over
from app.usecases.hold_piece import hold_piece
from app.usecases.issue_kit import issue_kit
from app.usecases.list_shelf import list_shelf
from app.usecases.log_electrical_test import log_electrical_test
from app.usecases.look_at_shelf import look_at_shelf
from app.usecases.return_kit import return_kit
from app.usecases.show_piece import show_given, show_history, show_piece
from app.words.saying import listed
from app.words.vocabulary import PROPERTIES
from tests.build import DAY, gloves
from tests.fakes import KIT, question
from tests.usecases.acts import FIGURES


def history(desk: Desk, code: str) -> list[tuple[str, str]]:
    """What, and what is said of it, oldest first."""
    subject, lines = show_history(desk, code)
    table = history_of(subject, lines, desk.zone(), show_given(desk, subject)).sections[0].table
    assert table is not None
    return [(row[3], row[4]) for row in table.words()]


def test_an_issue_says_to_whom_for_what_and_with_what_and_a_return_from_whom(desk: Desk) -> None:
    issue_kit(desk, "P0", question())
    return_kit(desk, "P0", ["G1"], {})
    (issue, said), (back, whose) = history(desk, "G1")[-2:]
    others = listed(code for code in KIT if code != "G1")
    assert (issue, back, whose) == ("issue", "return", "from P1")
    assert said.startswith("to P1; ")
    assert "for BUS, isolate and prove dead" in said
    assert f"until {DAY}" in said
    assert said.endswith(f"together with {others}")


def test_keeping_in_a_pool_and_what_was_taken_without_issue_say_who_had_it(desk: Desk) -> None:
    hand_over(desk, "P0", ["L1"], "pool:training")
    return_kit(desk, "P0", ["L1"], {})
    assert [said for _, said in history(desk, "L1")[-2:]] == ["to the training pool", "from the training pool"]
    enter_taken(desk, "P0", ["L1"], "P1")
    return_kit(desk, "P0", ["L1"], {})
    assert history(desk, "L1")[-3:] == [
        ("taken without issue", "to P1"), ("hold", "taken without issue"), ("return", "from P1"),
    ]  # fmt: skip


def test_a_struck_issue_is_nobodys(desk: Desk) -> None:
    _, name = issue_kit(desk, "P0", question())
    assert name is not None
    entry = next(one for one in show_history(desk, "L1")[1] if one.content.get("what") == "issue")
    correct_entry(desk, "P9", str(entry.name), "not taken")
    assert "struck by" in next(said for what, said in history(desk, "L1") if what == "issue")
    out = Entry(name=Name("main", 1), record=Issue(to="P1"))
    back = Entry(name=Name("main", 2), record=Return())
    assert brought_back([(out, False), (back, False)], {}) == {back.name: "P1"}
    assert brought_back([(out, True), (back, False)], {}) == {back.name: ""}


def test_figures_and_reasons_are_words_and_no_inner_keys(desk: Desk) -> None:
    log_electrical_test(desk, "P0", "G1", {**FIGURES, "lab": "Northgate"})
    hold_piece(desk, "P0", ["G1"], "suspect")
    told = dict(history(desk, "G1"))
    day = DAY - timedelta(days=2)
    assert (
        told["electrical test"]
        == f"on {day}; 5,000 V AC, 60 Hz and 60 s; left glove 7 mA and right glove 7.1 mA; Northgate"
    )
    assert told["hold"] == "found suspect"
    assert "inflated to" in told["air test"]
    assert "_" not in "".join(told.values())


def test_out_is_told_alike_by_every_list(desk: Desk) -> None:
    issue_kit(desk, "P0", question())
    said = f"P1 until {DAY}"
    every = list_shelf(desk, DueQuestion(desk.today()))
    named = list_shelf(desk, DueQuestion(desk.today(), None, ("G1",)))
    shelf = next(one.row for one in look_at_shelf(desk).rows if one.code == "G1")
    for rows in (every.rows, named.rows):
        row = next(one for one in rows if one.status.piece.code == "G1")
        assert (row.out_with, row.out_until) == (shelf.out_with, shelf.out_until) == ("P1", DAY)
    table = build(named).sections[0].table
    assert table is not None
    assert table.words()[0][6] == said
    assert as_values(every)[0]["out"] == {"person": "P1", "until": str(DAY)}
    return_kit(desk, "P0", ["G1"], {})
    assert list_shelf(desk, DueQuestion(desk.today(), None, ("G1",))).rows[0].out_with == ""


def test_the_card_says_why_the_newest_test_failed_and_every_hold(desk: Desk) -> None:
    log_electrical_test(desk, "P0", "G1", {**FIGURES, "right_ma": 40})
    hold_piece(desk, "P0", ["G1"], "wet")
    hold_piece(desk, "P9", ["G1"], "recall")
    found = show_piece(desk, "G1")
    assert [one.values["why"] for one in found.holds if "why" in one.values] == ["failed", "wet", "recall"]
    said = more_said(found)
    day = DAY - timedelta(days=2)
    assert any(one.startswith(f"Electrical test of {day}: FAILED. G1, right glove: 40 mA, limit") for one in said)
    assert sum("on hold since" in one for one in said) == 2, "the first of them is the standing's own"
    text = " ".join(one for section in card(found, desk.zone()).sections for one in section.lines)
    assert f"Electrical test of {day}: FAILED" in text


def test_a_failure_the_laboratory_states_is_told_with_the_figure_that_makes_it(desk: Desk) -> None:
    log_electrical_test(desk, "P0", "G1", {**FIGURES, "right_ma": 40, "result": "failed"})
    said = more_said(show_piece(desk, "G1"))[-1]
    assert "right glove: 40 mA, limit " in said
    assert "the laboratory says failed" in said
    log_electrical_test(desk, "P0", "G1", {**FIGURES, "on": DAY, "result": "failed"})
    assert "mA" not in more_said(show_piece(desk, "G1"))[-1]


def test_a_hold_that_was_released_is_not_named(desk: Desk) -> None:
    from app.usecases.release_piece import release_piece

    hold_piece(desk, "P9", ["G1"], "recall")
    release_piece(desk, "P9", ["G1"])
    assert show_piece(desk, "G1").holds == ()


def test_the_first_hand_over_is_the_clocks(desk: Desk) -> None:
    from app.usecases.add_piece import add_piece
    from tests.build import world

    gloves = next(one for one in world()["pieces"] if one["code"] == "G1")
    add_piece(desk, "P0", {**gloves, "code": "G2", "first_issue": "never", "records": []}, "main")

    def first() -> str:
        table = card(show_piece(desk, "G2"), desk.zone()).sections[-2].table
        assert table is not None
        return next(row[1] for row in table.words() if row[0] == "first issue")

    assert first() == "never (by the sheet)"
    hand_over(desk, "P0", ["G2"], "P1")
    assert first() == str(DAY)


def test_the_last_test_of_a_list_is_the_newest_that_is_not_struck(desk: Desk) -> None:
    before = desk.ask(last_tests)["G1"]
    saved = log_electrical_test(desk, "P0", "G1", {**FIGURES, "lab": "Northgate", "certificate": "N-7"})
    newest = desk.ask(last_tests)["G1"]
    assert (newest.on, newest.lab, newest.certificate) == (str(DAY - timedelta(days=2)), "Northgate", "N-7")
    correct_entry(desk, "P9", str(saved.entries[0]), "another pair")
    assert desk.ask(last_tests)["G1"] == before


def test_the_letters_of_special_properties_are_said_in_words(desk: Desk) -> None:
    add_piece(desk, "P0", gloves("G2", categories=["R", "C"]))
    assert ("categories", "R (acid, oil and ozone, not mechanical) and C (very low temperature)") in tuple(
        fields_of(show_piece(desk, "G2").piece)
    )


def test_every_letter_the_format_knows_has_words() -> None:
    for letter in PROPERTIES:
        read_piece({"code": "G1", "kind": "rubber-gloves", "categories": [letter]}, "piece")
    with pytest.raises(BadInput):
        read_piece({"code": "G1", "kind": "rubber-gloves", "categories": ["M"]}, "piece")
