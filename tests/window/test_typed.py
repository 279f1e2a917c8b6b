from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from app.decision.domain.errors import BadInput
from app.window.typed import day_typed, figure_typed, words_typed
from app.words.saying import say_fault

TODAY = date(2026, 3, 2)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("", None), ("   ", None), ("2026-03-01", date(2026, 3, 1)), ("1.3.2026", date(2026, 3, 1)),
        ("1.3.26", date(2026, 3, 1)), ("31-12-2025", date(2025, 12, 31)), ("12/31/25", date(2025, 12, 31)),
        ("3/3/26", date(2026, 3, 3)), ("today", TODAY), ("Yesterday", date(2026, 3, 1)), ("1.3.99", date(2099, 3, 1)),
    ],
)  # fmt: skip
def test_days_are_read_iso_and_local_and_two_digits_are_of_this_century(text: str, day: date | None) -> None:
    assert day_typed(text, TODAY) == day


@pytest.mark.parametrize("text", ["05/11/26", "5-11-2026", "5 11 26", "12/1/26"])
def test_a_day_with_two_readings_is_asked_about_with_both(text: str) -> None:
    with pytest.raises(BadInput) as told:
        day_typed(text, TODAY)
    assert told.value.key == "typed.two-ways"
    said = " ".join(say_fault(told.value))
    assert ("2026-11-05" in said and "2026-05-11" in said) or ("2026-01-12" in said and "2026-12-01" in said)


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("31.2.26", "typed.no-such-day"), ("2026-13-01", "typed.no-such-day"), ("13/13/26", "typed.no-such-day"),
        ("March", "typed.not-a-day"), ("1.3.", "typed.not-a-day"), ("1.3/26", "typed.not-a-day"),
        ("1.3.026", "typed.not-a-day"), ("20260301", "typed.not-a-day"), ("\u0661.3.26x", "typed.not-a-day"),
    ],
)  # fmt: skip
def test_what_is_no_day_is_said_and_never_guessed(text: str, key: str) -> None:
    with pytest.raises(BadInput) as told:
        day_typed(text, TODAY)
    assert told.value.key == key


@pytest.mark.parametrize(
    ("text", "decimals", "figure"),
    [
        ("", 0, None),
        ("1500", 0, "1500"),
        ("9,5", 1, "9.5"),
        ("9.5", 1, "9.5"),
        ("0.125", 3, "0.125"),
        ("0,05", 2, "0.05"),
    ],
)
def test_figures_take_a_comma_or_a_point(text: str, decimals: int, figure: str | None) -> None:
    assert figure_typed(text, decimals) == (None if figure is None else Decimal(figure))


@pytest.mark.parametrize(
    ("text", "decimals", "key"),
    [
        ("1,500", 3, "typed.thousands"), ("1.500", 3, "typed.thousands"), ("1 500", 0, "typed.not-a-figure"),
        ("1'500", 0, "typed.not-a-figure"), ("1,500,000", 0, "typed.not-a-figure"), ("5,5", 0, "typed.whole"),
        ("5.55", 1, "typed.too-fine"), ("12V", 0, "typed.not-a-figure"), ("1e3", 0, "typed.not-a-figure"),
        ("NaN", 0, "typed.not-a-figure"), ("1234567890", 0, "typed.not-a-figure"),
    ],
)  # fmt: skip
def test_a_figure_that_can_be_read_in_two_ways_is_refused(text: str, decimals: int, key: str) -> None:
    with pytest.raises(BadInput) as told:
        figure_typed(text, decimals)
    assert told.value.key == key


def test_rubbish_pasted_is_refused_and_blanks_are_trimmed() -> None:
    assert words_typed("  two   words \n") == "two words"
    for text, key in (
        ("a\x1b[31m", "typed.not-printable"),
        ("x" * 300, "typed.too-long"),
        ("\u202e", "typed.not-printable"),
    ):
        with pytest.raises(BadInput) as told:
            words_typed(text)
        assert told.value.key == key
