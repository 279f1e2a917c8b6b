from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.outputs.pictures.due_ribbon import DueRibbon
from app.outputs.pictures.due_sheet import MOST_ROWS, DueSheet, due_sheet
from app.outputs.pictures.scene import Box
from app.words.catalogue import CATALOGUE
from tests.outputs.pictures.kit import TODAY, assert_tidy, in_state, labels, ribbon, ribbons, said
from tests.words.languages import longer


def sheet(count: int) -> DueSheet:
    rows = tuple(replace(ribbon(), code=f"GL-{place:04d}") for place in range(count))
    return DueSheet("Overdue and due soon", TODAY, rows)


@given(labels, st.lists(ribbons(), max_size=8))
@settings(max_examples=25, deadline=None)
def test_words_never_overlap_nor_leave_the_picture(heading: str, rows: list[DueRibbon]) -> None:
    assert_tidy(due_sheet(DueSheet(heading, TODAY, tuple(rows))))
    with CATALOGUE.spoken(longer()):
        assert_tidy(due_sheet(DueSheet(heading, TODAY, tuple(rows))))


@pytest.mark.parametrize("count", [0, 1, 40, 41, 123])
def test_says_how_many_are_left_out(count: int) -> None:
    scene = due_sheet(sheet(count))
    shown = sum(f"GL-{place:04d}" in said(scene) for place in range(count))
    assert shown == min(count, MOST_ROWS)
    note = f"Rows left out of this picture: {count - MOST_ROWS}."
    assert (note in said(scene)) == (count > MOST_ROWS)
    assert (note in scene.description) == (count > MOST_ROWS)
    assert f"rows shown: {shown}" in said(scene)
    assert ("No piece to show." in said(scene)) == (count == 0)


def test_rows_share_one_axis() -> None:
    rows = tuple(in_state(state) for state in ("in-date", "warning", "overdue"))
    scene = due_sheet(DueSheet("Dates", TODAY, rows))
    starts = {item.x for item in scene.parts("covered") if isinstance(item, Box)}
    assert len(scene.parts("covered")) == 3
    assert len(starts) == 1
    assert scene.parts("month")


def test_key_names_every_form_of_the_strip() -> None:
    words = said(due_sheet(sheet(2)))
    for form in (
        "Filled:",
        "Wide hatch:",
        "Close hatch:",
        "Dashed and empty:",
        "Circle:",
        "Square:",
        "Diamond:",
        "Arrow:",
    ):
        assert form in words


def test_same_value_same_scene() -> None:
    assert due_sheet(sheet(5), "dark") == due_sheet(sheet(5), "dark")
    assert due_sheet(sheet(5), "dark").palette == "dark"
