from __future__ import annotations

from datetime import date

import pytest
from msgspec.structs import replace

from app.decision.domain.electrical_test import Note
from app.decision.domain.piece import Piece
from app.decision.judging.status import Status
from app.outputs.documents.forecast import forecast
from app.outputs.pictures.forecast import TALL, forecast_picture
from app.outputs.pictures.scene import Box, Hatch, PaletteName

TODAY = date(2026, 3, 2)
ONE = Status(
    Piece(code="G1", kind="rubber-gloves"), "ready", date(2026, 3, 3), date(2026, 3, 2), Note("x", {}), "", "crib"
)


def due(*days: date | None, state: str = "ready") -> list[Status]:
    return [replace(ONE, due_on=day, state=state) for day in days]


def test_each_month_has_its_own_and_the_due_day_itself_is_past() -> None:
    found = forecast(due(TODAY, date(2026, 3, 3), date(2026, 3, 31), date(2027, 2, 28), date(2027, 3, 1), None), TODAY)
    assert found.past == 1
    assert found.months[0] == (2026, 3, 2)
    assert found.months[-1] == (2027, 2, 1)
    assert len(found.months) == 12
    assert found.later == 1
    assert found.undated == 1


def test_every_piece_of_which_a_date_is_asked_is_counted_once_and_the_others_nowhere() -> None:
    days = [None if number % 7 == 0 else date.fromordinal(TODAY.toordinal() + 11 * number) for number in range(-20, 60)]
    found = forecast([*due(*days), replace(ONE, due_on=None, is_dated=False)], TODAY)
    assert found.past + sum(count for *_, count in found.months) + found.later + found.undated == len(days)
    assert found.undated == sum(day is None for day in days)


@pytest.mark.parametrize("state", ["withdrawn", "lost"])
def test_what_is_out_of_service_is_in_no_month(state: str) -> None:
    found = forecast(due(date(2026, 4, 1), date(2026, 1, 1), state=state), TODAY)
    assert (found.past + found.undated, found.later, sum(count for *_, count in found.months)) == (0, 0, 0)


def test_december_goes_on_in_the_next_year() -> None:
    found = forecast([], date(2026, 12, 5), 3)
    assert [month[:2] for month in found.months] == [(2026, 12), (2027, 1), (2027, 2)]


@pytest.mark.parametrize("palette", ["light", "dark"])
def test_the_picture_says_every_figure_and_marks_what_is_overdue_by_its_hatch(palette: PaletteName) -> None:
    found = forecast(due(TODAY, date(2026, 3, 3)), TODAY)
    scene = forecast_picture(found.past, found.months, 3, 2, palette)
    assert "overdue: 1, 2026-03: 1, 2026-04: 0" in scene.description
    assert "after these months: 3; no date known: 2." in scene.description
    assert [type(one) for one in scene.parts("past")] == [Hatch]
    boxes = [one.box() for one in scene.words()]
    assert all(box.left >= 0 and box.right <= scene.width and box.bottom <= scene.height for box in boxes)
    assert not any(one.overlaps(other) for at, one in enumerate(boxes) for other in boxes[at + 1 :])


def test_a_bar_is_as_tall_as_its_figure_and_nothing_stands_where_there_is_none() -> None:
    scene = forecast_picture(0, ((2026, 3, 4), (2026, 4, 2), (2026, 5, 0)), 0, 0)
    tall = {one.part: one.height for one in scene.items if isinstance(one, Box)}
    assert tall == {"month:2026-03": pytest.approx(2 * tall["month:2026-04"]), "month:2026-04": pytest.approx(TALL / 2)}
    assert [one.text for one in scene.words() if one.text.isdigit()] == ["0", "4", "2", "0"]


@pytest.mark.parametrize("width", [700.0, 1100.0])
def test_words_do_not_run_into_each_other_at_any_width_the_window_asks(width: float) -> None:
    scene = forecast_picture(1234, tuple((2026, month, 1000) for month in range(1, 13)), 999, 999, width=width)
    boxes = [one.box() for one in scene.words()]
    assert all(box.left >= 0 and box.right <= scene.width for box in boxes)
    assert not any(one.overlaps(other) for at, one in enumerate(boxes) for other in boxes[at + 1 :])
