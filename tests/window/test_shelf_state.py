"""What the shelf says of its rows and finds in them, without a window."""

from __future__ import annotations

from datetime import date

import pytest

from app.decision.domain.electrical_test import Note
from app.decision.domain.piece import Piece
from app.decision.judging.answers import DueRow
from app.decision.judging.status import Status
from app.usecases.look_at_shelf import OnShelf
from app.window.places.shelf.state import kinds_of, looked_for, searched, texts, with_words

TODAY = date(2026, 3, 2)


def row(
    code: str,
    insulation_class: str = "0",
    size: str = "9",
    *,
    kind: str = "rubber-gloves",
    out: tuple[str, date | None] | None = None,
    why: Note | None = None,
) -> OnShelf:
    state = "ready" if why is None else "on-hold"
    note = why or Note("status.undated", {})
    one = Status(Piece(code=code, kind=kind), state, None, None, note, "", "", today=TODAY)
    away = ("", None) if out is None else out
    return OnShelf(DueRow(one, "Workshop crib", *away), "", insulation_class, size)


FAILED = Note("not-held.held", {"why": "failed", "since": "2026-02-16"})
ROWS = [
    row("G100", "0", "10"),
    row("G2", "00", "9.5"),
    row("G3", "00", "10", out=("P03", date(2026, 11, 27))),
    row("D4", "", "", kind="two-pole-detector", why=FAILED),
]


def found(words: str) -> list[str]:
    wanted = looked_for(words).casefold().split()
    return [one.code for one, text in zip(ROWS, texts(ROWS), strict=True) if all(word in text for word in wanted)]


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("class 00", ["G2", "G3"]), ("CLASS 0", ["G100"]), ("size 10", ["G100", "G3"]), ("size 9,5", ["G2"]),
        ("class 00 size 10", ["G3"]), ("failed", ["D4"]), ("P03", ["G3"]), ("2026-11-27", ["G3"]), ("class 4", []),
    ],
)  # fmt: skip
def test_class_size_reason_and_who_has_it_are_found(words: str, expected: list[str]) -> None:
    assert found(words) == expected


def test_texts_made_together_are_those_made_one_by_one() -> None:
    assert texts(ROWS) == [searched(one).casefold() for one in ROWS]


def test_who_has_what_is_out_and_until_when() -> None:
    assert with_words(ROWS[2]) == "P03 until 2026-11-27"
    assert with_words(ROWS[0]) == "Workshop crib"
    assert with_words(row("X", out=("P03", None))) == "P03, no day planned"


def test_only_kinds_that_are_there_are_offered() -> None:
    assert kinds_of(ROWS) == [
        ("rubber-gloves", "rubber insulating gloves"), ("two-pole-detector", "two-pole voltage detector"),
    ]  # fmt: skip
    assert kinds_of([]) == []
