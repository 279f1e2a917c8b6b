from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings

from app.outputs.pictures.due_ribbon import DueRibbon, due_ribbon
from app.outputs.pictures.due_strip import ICONS
from app.outputs.pictures.due_value import DateState
from app.outputs.pictures.scene import Box, Hatch, Item, Line, Role, Scene, Shape, ShapeKind, Words
from app.outputs.pictures.time_scale import axis, time_scale
from app.words.catalogue import CATALOGUE
from tests.outputs.pictures.kit import (
    TODAY,
    assert_icons_clear,
    assert_tidy,
    days,
    in_state,
    ribbon,
    ribbons,
    said,
)
from tests.words.languages import longer

STATES = [state.value for state in DateState]


def one(scene: Scene, part: str) -> Item:
    (found,) = scene.parts(part)
    return found


def x_of(scene: Scene, part: str) -> float:
    item = one(scene, part)
    assert isinstance(item, Shape)
    return item.x


@given(ribbons())
@settings(max_examples=80, deadline=None)
def test_words_never_overlap_nor_leave_the_picture(value: DueRibbon) -> None:
    assert_tidy(due_ribbon(value))
    assert_tidy(due_ribbon(value, large=False))


@given(ribbons())
@settings(max_examples=30, deadline=None)
def test_words_are_tidy_with_longer_texts(value: DueRibbon) -> None:
    with CATALOGUE.spoken(longer()):
        assert_tidy(due_ribbon(value))
        assert_tidy(due_ribbon(value, large=False))


@given(ribbons())
@settings(max_examples=80, deadline=None)
def test_no_pole_runs_through_words(value: DueRibbon) -> None:
    scene = due_ribbon(value)
    poles = [item for item in scene.items if isinstance(item, Line) and item.x1 == item.x2 and item.width == 1]
    for pole in poles:
        for words in scene.words():
            box = words.box()
            inside = box.left + 0.01 < pole.x1 < box.right - 0.01
            assert not (inside and pole.y1 < box.bottom and box.top < pole.y2), (pole, words)


@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize("large", [True, False])
def test_icons_cover_no_words(state: str, large: bool) -> None:
    assert_icons_clear(due_ribbon(in_state(state), large=large))


@pytest.mark.parametrize("state", STATES)
def test_states(state: str) -> None:
    assert in_state(state).state.value == state


def test_days_stand_in_order_and_in_proportion() -> None:
    value = ribbon()
    scene = due_ribbon(value)
    tested, issued, due = (x_of(scene, kind.value) for kind in (ShapeKind.DISC, ShapeKind.SQUARE, ShapeKind.DIAMOND))
    today = one(scene, "today")
    assert isinstance(today, Line)
    assert value.test_on is not None
    assert value.due_on is not None
    span = (value.due_on - value.test_on).days
    assert (today.x1 - tested) / (due - tested) == pytest.approx((value.today - value.test_on).days / span)
    assert isinstance(value.first_issue_on, date)
    assert (issued - tested) / (due - tested) == pytest.approx((value.first_issue_on - value.test_on).days / span)
    covered, warning = one(scene, "covered"), one(scene, "warning")
    assert isinstance(covered, Box)
    assert isinstance(warning, Hatch)
    assert covered.x == pytest.approx(tested)
    assert covered.x + covered.width == pytest.approx(warning.x)
    assert warning.x + warning.width == pytest.approx(due)


@given(days)
def test_last_good_day_stands_first_and_is_the_day_before(due: date) -> None:
    value = replace(ribbon(), due_on=due, today=due - timedelta(days=1), warning_from=None)
    words = said(due_ribbon(value))
    assert f"use until {(due - timedelta(days=1)).isoformat()} (retest due {due.isoformat()})" in words
    assert "overdue" not in words


def test_example_of_the_words() -> None:
    value = replace(ribbon(), today=date(2026, 1, 31), due_on=date(2026, 2, 1))
    assert "use until 2026-01-31 (retest due 2026-02-01)" in said(due_ribbon(value))


def test_overdue_begins_on_the_due_day_and_is_hatched() -> None:
    value = replace(ribbon(), due_on=TODAY - timedelta(days=40), warning_from=None)
    scene = due_ribbon(value)
    late = one(scene, "overdue")
    assert isinstance(late, Hatch)
    assert late.role is Role.SHORT
    assert "use until" not in said(scene)
    assert "last good day was 2026-01-20 (retest was due 2026-01-21)" in said(scene)
    assert any(isinstance(item, Shape) and item.kind is ShapeKind.CROSS for item in scene.items)
    assert replace(value, due_on=TODAY).state is DateState.OVERDUE
    assert replace(value, due_on=TODAY + timedelta(days=1)).state is DateState.IN_DATE


@pytest.mark.parametrize("large", [True, False])
@pytest.mark.parametrize(
    ("state", "words"),
    [("no-test", "no test that counts"), ("no-due", "due day unknown")],
)
def test_what_is_missing_is_said_and_drawn(state: str, words: str, large: bool) -> None:
    scene = due_ribbon(in_state(state), large=large)
    assert f"not shown as fit: {words}" in said(scene)
    assert "use until" not in said(scene)
    kinds = [item.kind for item in scene.items if isinstance(item, Shape)]
    assert ShapeKind.QUESTION in kinds
    assert any(isinstance(item, Box) and item.dashed for item in scene.parts("unknown"))
    assert not any(isinstance(item, Box) and item.fill is Role.FIT for item in scene.items)


@pytest.mark.parametrize(
    ("issued", "words"), [("never", "never issued so far"), ("unknown", "day of first issue unknown")]
)
def test_issue_without_a_day_is_said(issued: str, words: str) -> None:
    value = replace(ribbon(), first_issue_on="never" if issued == "never" else "unknown")
    assert words in said(due_ribbon(value))
    assert words in due_ribbon(value, large=False).description


def test_the_deciding_limit_is_named_and_the_others_are_not_called_so() -> None:
    words = said(due_ribbon(ribbon()))
    assert "The limit that decides: six months after first issue." in words
    assert "decides: six months after first issue" in words
    assert "decides: twelve" not in words
    assert "twelve months after test, 2026-09-15" in words


def test_a_held_piece_is_never_told_use_until() -> None:
    value = replace(ribbon(), status="on-hold", is_held_back=True)
    for large in (True, False):
        words = said(due_ribbon(value, large=large))
        assert "use until" not in words
        assert "in date until 2026-05-02 (retest due 2026-05-03)" in words


@pytest.mark.parametrize("large", [True, False])
def test_without_a_test_no_last_good_day_is_told(large: bool) -> None:
    value = in_state("no-test")
    assert value.due_on is not None
    scene = due_ribbon(value, large=large)
    assert "last good day" not in said(scene)
    assert "decides" not in said(scene)
    assert "warning" not in said(scene)
    assert scene.parts(ShapeKind.DIAMOND.value) == ()
    assert "last good day" not in scene.description


@pytest.mark.parametrize("large", [True, False])
def test_a_piece_that_no_date_limits_is_not_called_untested(large: bool) -> None:
    scene = due_ribbon(in_state("undated"), large=large)
    assert "no date applies" in said(scene)
    assert "not shown as fit" not in said(scene)
    assert scene.parts("unknown") == scene.parts("covered") == scene.parts("overdue") == ()
    assert "no date applies" in scene.description
    assert_tidy(scene)


@pytest.mark.parametrize("with_date", ["in-date", "no-test", "no-due"])
def test_a_piece_with_a_date_is_not_undated(with_date: str) -> None:
    with pytest.raises(ValueError, match="not undated"):
        replace(in_state(with_date), is_undated=True)


def test_the_due_day_is_not_torn_from_its_word() -> None:
    lines = [words.text for words in due_ribbon(ribbon()).words()]
    assert "(retest\u00a0due\u00a02026-05-03)" in lines


def test_no_state_wears_a_tick() -> None:
    # In date is not yet fit; the tick belongs to figures that were compared.
    assert set(ICONS) == set(DateState)
    assert all(icon is None or icon[0] is not ShapeKind.TICK for icon in ICONS.values())
    shown = [icon[0] for icon in ICONS.values() if icon]
    assert set(shown) == {ShapeKind.CLOCK, ShapeKind.CROSS, ShapeKind.QUESTION}


def test_small_is_one_row_and_marks_days_outside() -> None:
    value = replace(ribbon(), test_on=date(2017, 1, 1), due_on=date(2040, 1, 1), warning_from=None)
    scene = due_ribbon(value, large=False)
    assert scene.height == 40
    assert scene.parts("earlier")
    assert scene.parts("later")
    assert "2039-12-31" in said(scene)


@pytest.mark.parametrize("state", STATES)
def test_description_says_it_all(state: str) -> None:
    value = in_state(state)
    for large in (True, False):
        scene = due_ribbon(value, large=large)
        for words in (value.code, value.label, value.status, "today 2026-03-02", value.sentence.rstrip(".")):
            assert words in scene.description
        assert due_ribbon(value, large=large) == scene


def test_months_are_apart_and_on_their_day() -> None:
    scale = time_scale([date(2025, 8, 1), date(2026, 9, 1)], 0, 700)
    months = scale.months()
    assert len(months) >= 4
    assert all(day.day == 1 and word == f"{day:%Y-%m}" for day, word in months)
    assert scale.x(scale.start) == 0
    assert scale.x(scale.end) == 700


def test_scale_holds_the_ends_of_the_calendar() -> None:
    scale = time_scale([date.min, date.max], 0, 700)
    assert scale.start == date.min
    assert scale.end == date.max
    assert scale.months()


@given(days, days)
def test_months_stay_within_the_strip(one_day: date, other_day: date) -> None:
    scale = time_scale([one_day, other_day], 20, 600)
    for item in axis(scale, 50):
        if isinstance(item, Words):
            assert item.box().left >= 20
            assert item.box().right <= 600
