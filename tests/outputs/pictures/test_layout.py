from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.outputs.pictures.flags import Flag, lanes
from app.outputs.pictures.layout import Paragraph, spread

blocks = st.lists(st.tuples(st.floats(0, 500), st.floats(5, 60)), max_size=8)


@given(blocks, st.floats(0, 100))
def test_spread_blocks_keep_their_order_and_do_not_overlap(found: list[tuple[float, float]], top: float) -> None:
    wanted = sorted(centre for centre, _ in found)
    heights = [height for _, height in found]
    edges = spread(wanted, heights, top)
    assert all(edge >= top for edge in edges)
    for place in range(1, len(edges)):
        assert edges[place] >= edges[place - 1] + heights[place - 1] - 1e-6


def test_blocks_with_room_stand_where_they_want() -> None:
    assert spread([50, 150], [20, 20], 0) == (40, 140)


def test_colliding_blocks_share_the_push() -> None:
    assert spread([100, 100], [20, 20], 0) == pytest.approx((80, 100))


@given(st.lists(st.tuples(st.floats(0, 400), st.text("abc ", max_size=30)), max_size=9))
def test_no_flag_stands_before_a_pole_of_a_higher_lane(found: list[tuple[float, str]]) -> None:
    flags = [Flag(x, Paragraph(text, 12)) for x, text in found]
    lane = lanes(flags, 200)
    for one, flag in enumerate(flags):
        for other, pole in enumerate(flags):
            if flag.x < pole.x < flag.x + flag.width(200):
                assert lane[one] > lane[other]
