"""What the due list holds, counts and says, without a window."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from app.decision.domain.electrical_test import Note
from app.decision.domain.piece import Piece
from app.decision.judging.answers import DueRow
from app.decision.judging.status import Status
from app.usecases.look_at_shelf import OnShelf
from app.window.places.due.state import GROUPS, DueState, due_order, due_words, statuses_of, with_whom

TODAY = date(2026, 3, 2)


def row(code: str, state: str, due_on: date | None, *, holder: str = "", crib: str = "Workshop crib") -> OnShelf:
    until = None if due_on is None else due_on - timedelta(days=1)
    note = Note("status.undated", {})
    one = Status(Piece(code=code, kind="rubber-gloves"), state, due_on, until, note, holder, "", today=TODAY)
    return OnShelf(DueRow(one, crib), "", "0", "9")


ROWS = [
    row("A", "overdue", TODAY),
    row("B", "due-soon", TODAY + timedelta(days=31)),
    row("C", "ready", TODAY + timedelta(days=32)),
    row("D", "certificate-not-seen", TODAY - timedelta(days=1)),
    row("E", "not-tested", None),
    row("F", "cannot-tell", None, crib="Bus hall crib"),
    row("G", "on-hold", TODAY - timedelta(days=5)),
    row("H", "out", TODAY + timedelta(days=90), holder="P1"),
    row("I", "ready", TODAY + timedelta(days=90), holder="van 3"),
    row("J", "withdrawn", TODAY - timedelta(days=90)),
    row("K", "lost", TODAY - timedelta(days=90), holder="P1"),
]


def codes(state: DueState, group: str) -> str:
    state.group = group
    keeps = state.keeps()
    return "".join(one.code for one in ROWS if keeps is None or keeps(one))


@pytest.mark.parametrize(
    ("group", "expected"),
    [("overdue", "ADG"), ("soon", "B"), ("doubt", "DEF"), ("on-hold", "G"), ("away", "HI"), ("every", "ABCDEFGHIJK")],
)
def test_each_group_holds_what_its_name_says_and_counts_it(group: str, expected: str) -> None:
    state = DueState(today=TODAY)
    assert codes(state, group) == expected
    assert state.counts(ROWS)[group] == len(expected)


def test_soon_is_counted_to_the_last_good_day_like_the_standing_and_by_other_days_where_they_are_asked() -> None:
    state = DueState(today=TODAY, site_days=30)
    assert codes(state, "soon") == "B"
    state.days = 31
    assert codes(state, "soon") == "BC"
    state.days = 0
    assert codes(state, "soon") == ""
    state.days = None
    assert codes(state, "soon") == "B"


def test_a_crib_narrows_list_counts_and_months_alike() -> None:
    state = DueState(today=TODAY, crib="Bus hall crib")
    assert codes(state, "every") == "F"
    assert state.counts(ROWS) == {**dict.fromkeys(GROUPS, 0), "doubt": 1, "every": 1}
    assert (state.ahead(ROWS).past, state.ahead(ROWS).undated) == (0, 1)
    state.crib = ""
    assert (state.ahead(ROWS).past, state.ahead(ROWS).undated) == (3, 2)


def test_what_is_filtered_is_said_and_whose_days_they_are() -> None:
    state = DueState(
        today=TODAY, site_days=20, group="soon", crib="Bus hall crib", words=" gl ", read="all", total=9
    )  # fmt: skip
    said = state.listed(2, 9)
    assert said == (
        "2 of 9 pieces listed: due soon. Last good day within 20 days, the site's warning days. Crib Bus hall crib. "
        'With "gl".'
    )
    state.days = 90
    assert "Last good day within 90 days. Crib" in state.listed(2, 9)
    assert "days" not in DueState(group="on-hold", read="all", total=9).listed(1, 9)


def test_an_empty_register_says_so_and_one_that_is_still_read_is_not_called_empty() -> None:
    assert DueState().listed(0, 0) == "Reading the register ..."
    assert DueState(read="all").listed(0, 0) == "Nothing is due: this register has no kit yet."


def test_what_is_not_there_to_be_listed_is_said() -> None:
    assert "So far 200 of 900 pieces are read" in DueState(read="first", total=900).listed(3, 200)
    assert "2 pieces are of kinds this version does not judge" in DueState(read="all", total=11).listed(3, 9)
    assert "kinds" not in DueState(read="all", total=9).listed(3, 9)


def test_a_list_keeps_codes_and_the_line_about_a_row_says_the_name() -> None:
    state = DueState(today=TODAY, names={"P1": "P1 Tech One, technician"})
    assert [with_whom(one) for one in ROWS[7:10]] == ["P1", "van 3", ""]
    assert with_whom(ROWS[0]) == "in its crib"
    assert "with P1 Tech One, technician: out" in state.about(ROWS[7])
    assert "with van 3: ready" in state.about(ROWS[8])
    assert "A, rubber insulating gloves, Workshop crib: overdue" in state.about(ROWS[0])
    assert "Choose a row" in state.about(None)


def test_what_is_counted_as_past_says_as_what_it_stands() -> None:
    state = DueState(today=TODAY, read="all", total=11)
    kept = [one for one in ROWS if state.belongs(one.row, "overdue")]
    said = state.listed(len(kept), 11, statuses_of(kept))
    assert said.startswith("3 of 11 pieces listed: last good day has passed. Status: overdue (1), ")
    assert "certificate not seen (1) and on hold (1)." in said
    assert "They stand" not in state.listed(1, 11, {"overdue": 1})


def test_a_piece_that_is_out_is_away_even_where_it_is_held_and_says_with_whom_until_when() -> None:
    out = OnShelf(DueRow(ROWS[6].row.status, "Workshop crib", "P1", date(2026, 11, 27)), "", "0", "9")
    state = DueState(today=TODAY, names={"P1": "P1 Tech One, technician"})
    assert with_whom(out) == "P1 until 2026-11-27"
    assert state.belongs(out.row, "away")
    assert "with P1 Tech One, technician until 2026-11-27: on hold" in state.about(out)


@pytest.mark.parametrize(
    ("code", "crib", "words", "says"),
    [
        ("H", "", "", 'H is not listed under "overdue". out, with P1.'),
        ("A", "Bus hall crib", "", "A is not listed: only crib Bus hall crib is."),
        ("A", "", "zz", 'A is not listed: only what has "zz" in it is.'),
        ("Z", "", "", "Z is not in the list read here."),
    ],
)  # fmt: skip
def test_what_is_scanned_and_not_listed_is_said_with_its_place(code: str, crib: str, words: str, says: str) -> None:
    state = DueState(today=TODAY, crib=crib, words=words)
    found = next((one for one in ROWS if one.code == code), None)
    assert state.not_listed(code, found).startswith(says)


def test_what_has_no_date_comes_last_and_shows_none() -> None:
    assert sorted(ROWS, key=due_order)[-2:] == [ROWS[4], ROWS[5]]
    assert (due_words(ROWS[4]), due_words(ROWS[0])) == ("", "2026-03-02")


def test_days_beyond_the_calendar_reach_to_its_end() -> None:
    assert codes(DueState(today=TODAY, days=3_650_000), "soon") == "BCHI"
