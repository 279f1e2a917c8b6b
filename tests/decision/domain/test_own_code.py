from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.decision.domain.own_code import MOST, SYMBOLS, is_own, is_whole, own_code

NUMBERS = st.integers(0, MOST - 1)


@given(NUMBERS, st.integers(0, 7), st.sampled_from(SYMBOLS))
def test_one_wrong_symbol_is_always_noticed(number: int, place: int, symbol: str) -> None:
    code = own_code(number)
    assert is_whole(code)
    wrong = code[:place] + symbol + code[place + 1 :]
    assert is_whole(wrong) == (wrong == code)


def test_neighbours_the_wrong_way_round_are_nearly_always_noticed() -> None:
    tried = missed = 0
    for number in range(0, MOST, 9_973):
        code = own_code(number)
        for place in range(7):
            turned = code[:place] + code[place + 1] + code[place] + code[place + 2 :]
            if turned != code:
                tried += 1
                missed += is_whole(turned)
    assert tried > 10_000
    assert missed / tried < 0.005


@given(NUMBERS, NUMBERS)
def test_each_number_has_its_own_label(one: int, other: int) -> None:
    assert (own_code(one) == own_code(other)) == (one == other)


def test_no_symbol_lies_elsewhere_on_a_french_or_german_keyboard() -> None:
    assert not set("AMQWYZ") & set(SYMBOLS)
    assert len(SYMBOLS) == len(set(SYMBOLS)) == 30


@pytest.mark.parametrize("number", [-1, MOST])
def test_a_number_without_a_label_is_refused(number: int) -> None:
    with pytest.raises(ValueError, match=str(number)):
        own_code(number)


@pytest.mark.parametrize("code", ["G001", "CD0001", "CD00001A", "XX00001N", ""])
def test_other_labels_are_none_of_ours(code: str) -> None:
    assert not is_own(code)
    assert not is_whole(code)
