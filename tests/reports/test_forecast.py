from __future__ import annotations

from datetime import date

import pytest
from msgspec.structs import replace

from app.domain.electrical_test import Note
from app.domain.piece import Piece
from app.judging.standing import Standing
from app.pictures.forecast import forecast_picture
from app.pictures.scene import Hatch, PaletteName
from app.reports.forecast import forecast

TODAY = date(2026, 3, 2)
ONE = Standing(
    Piece(code="G1", kind="rubber-gloves"), "ready", date(2026, 3, 3), date(2026, 3, 2), Note("x", {}), "", "crib"
)


def due(*days: date | None, state: str = "ready") -> list[Standing]:
    return [replace(ONE, due_on=day, state=state) for day in days]


def test_each_month_has_its_own_and_the_due_day_itself_is_past() -> None:
    found = forecast(due(TODAY, date(2026, 3, 3), date(2026, 3, 31), date(2027, 2, 28), date(2027, 3, 1), None), TODAY)
    assert found.past == 1
    assert found.months[0] == (2026, 3, 2)
    assert found.months[-1] == (2027, 2, 1)
    assert len(found.months) == 12
    assert found.later == 1


@pytest.mark.parametrize("state", ["withdrawn", "lost"])
def test_what_is_out_of_service_is_in_no_month(state: str) -> None:
    found = forecast(due(date(2026, 4, 1), date(2026, 1, 1), state=state), TODAY)
    assert (found.past, found.later, sum(count for *_, count in found.months)) == (0, 0, 0)


def test_december_goes_on_in_the_next_year() -> None:
    found = forecast([], date(2026, 12, 5), 3)
    assert [month[:2] for month in found.months] == [(2026, 12), (2027, 1), (2027, 2)]


@pytest.mark.parametrize("palette", ["light", "dark"])
def test_the_picture_says_every_figure_and_marks_what_is_past_by_its_hatch(palette: PaletteName) -> None:
    found = forecast(due(TODAY, date(2026, 3, 3)), TODAY)
    scene = forecast_picture(found.past, found.months, palette)
    assert "past: 1, 2026-03: 1, 2026-04: 0" in scene.description
    assert [type(one) for one in scene.parts("past")] == [Hatch]
    boxes = [one.box() for one in scene.words()]
    assert all(box.left >= 0 and box.right <= scene.width and box.bottom <= scene.height for box in boxes)
    assert not any(one.overlaps(other) for at, one in enumerate(boxes) for other in boxes[at + 1 :])
