from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.outputs.pictures.figures import volts
from app.outputs.pictures.headroom import Bar, Headroom, Member, Status, headroom
from app.outputs.pictures.headroom_plot import CLEAR
from app.outputs.pictures.scene import Box, Hatch, Item, Line, Role, Scene, Shape, ShapeKind, Words
from app.outputs.pictures.volt_scale import volt_scale
from app.words.catalogue import CATALOGUE
from tests.outputs.pictures.kit import assert_icons_clear, assert_tidy, chain, figures_mv, headrooms, kit, said
from tests.words.languages import longer

GLOVES = Bar("GL-0117", "gloves class 0", 1_500_000)
HOOK = Bar("HK-0009", "rescue hook", 1_500_000)


def bar(scene: Scene, code: str) -> Box | Hatch:
    found = scene.parts(f"bar:{code}")
    assert len(found) == 1
    assert isinstance(found[0], Box | Hatch)
    return found[0]


def line_y(scene: Scene) -> float:
    found = scene.parts("line:required")
    assert len(found) == 1
    assert isinstance(found[0], Line)
    assert found[0].y1 == found[0].y2
    return found[0].y1


def foot(item: Box | Hatch) -> float:
    return item.y + item.height


def has_kind(items: tuple[Item, ...], kind: ShapeKind) -> bool:
    return any(isinstance(item, Shape) and item.kind is kind for item in items)


def test_heights_are_as_the_figures_on_an_even_scale() -> None:
    scene = headroom(kit(GLOVES, chain(600_000, 1_000_000, 600_000), Bar("TL-1", "tool", 1_000_000)))
    gloves, leads, tool = (bar(scene, code) for code in ("GL-0117", "MC-0301", "TL-1"))
    assert gloves.height / tool.height == pytest.approx(1.5)
    assert gloves.height / leads.height == pytest.approx(2.5)
    assert (foot(gloves) - line_y(scene)) / gloves.height == pytest.approx(914_760 / 1_500_000)
    assert foot(gloves) == foot(leads) == foot(tool)


@given(st.lists(st.integers(100_000, 900_000), min_size=1, max_size=8), st.integers(100_000, 900_000))
@settings(max_examples=60, deadline=None)
def test_every_bar_that_is_not_near_the_line_is_in_proportion(figures: list[int], required: int) -> None:
    value = kit(*(Bar(f"P-{n}", "piece", mv) for n, mv in enumerate(figures)), working_mv=None, required_mv=required)
    scene = headroom(value)
    per_mv = (foot(bar(scene, "P-0")) - line_y(scene)) / required
    for place, mv in enumerate(figures):
        assert bar(scene, f"P-{place}").height == pytest.approx(mv * per_mv, abs=CLEAR + 0.01)


@given(headrooms())
@settings(max_examples=80, deadline=None)
def test_hatched_if_and_only_if_short(value: Headroom) -> None:
    scene = headroom(value)
    short = [one for one in value.bars if value.status(one) is Status.SHORT]
    hatches = [item for item in scene.items if isinstance(item, Hatch)]
    assert sorted(item.part for item in hatches) == sorted(f"bar:{one.code}" for one in short)
    assert all(item.role is Role.SHORT for item in hatches)
    for item in hatches:
        assert item.y > line_y(scene)
    fit = [item for item in scene.items if isinstance(item, Box) and item.fill is Role.FIT]
    assert len(fit) == sum(value.status(one) is Status.REACHES for one in value.bars)
    for box in fit:
        assert box.y <= line_y(scene) + 1e-6


@given(headrooms())
@settings(max_examples=80, deadline=None)
def test_words_never_overlap_nor_leave_the_picture(value: Headroom) -> None:
    assert_tidy(headroom(value))


@given(headrooms())
@settings(max_examples=25, deadline=None)
def test_words_are_tidy_with_longer_texts(value: Headroom) -> None:
    with CATALOGUE.spoken(longer()):
        assert_tidy(headroom(value))


def test_icons_cover_no_words() -> None:
    assert_icons_clear(headroom(kit(GLOVES, chain(600_000, 1_000_000, 600_000), Bar("X", "mat", None))))


@given(figures_mv, st.integers(1, 3_000_000))
@settings(max_examples=60, deadline=None)
def test_status_is_the_comparison_of_whole_millivolts(offers: int, required: int) -> None:
    value = kit(Bar("P", "piece", offers), working_mv=None, required_mv=required)
    reaches = value.status(value.bars[0]) is Status.REACHES
    assert reaches == (offers >= required)


def test_shortfall_is_said_in_volts_beside_a_cross() -> None:
    value = kit(GLOVES, HOOK, working_mv=1_401_600, required_mv=1_541_760)
    scene = headroom(value)
    assert "41.76 V short" in said(scene)
    assert isinstance(bar(scene, "GL-0117"), Hatch)
    assert has_kind(scene.parts("icon:GL-0117"), ShapeKind.CROSS)
    assert not any(isinstance(item, Shape) and item.kind is ShapeKind.TICK for item in scene.items)
    assert "Shortest: GL-0117 gloves class 0, 41.76 V short." in said(scene)


def test_a_bar_one_millivolt_short_does_not_touch_the_line() -> None:
    scene = headroom(kit(Bar("P", "piece", 914_759), GLOVES))
    assert bar(scene, "P").y >= line_y(scene) + CLEAR - 1e-6
    assert "0.001 V short" in said(scene)
    exact = headroom(kit(Bar("P", "piece", 914_760), GLOVES))
    assert isinstance(bar(exact, "P"), Box)
    assert "exactly on the line" in said(exact)


def test_band_lies_between_working_and_required() -> None:
    scene = headroom(kit(GLOVES))
    (band,) = scene.parts("band")
    (working,) = scene.parts("line:working")
    assert isinstance(band, Box)
    assert isinstance(working, Line)
    assert band.y == pytest.approx(line_y(scene))
    assert band.y + band.height == pytest.approx(working.y1)
    assert working.y1 > line_y(scene)
    for words in ("required 914.76 V", "margin 10 %", "working voltage 831.6 V"):
        assert words in said(scene)


def test_unknown_rating_is_an_empty_dashed_bar_with_a_question() -> None:
    scene = headroom(kit(GLOVES, Bar("MA-1", "mat", None)))
    empty = bar(scene, "MA-1")
    assert isinstance(empty, Box)
    assert empty.dashed
    assert empty.fill is Role.PAPER
    assert empty.y > line_y(scene)
    assert has_kind(scene.parts("icon:MA-1"), ShapeKind.QUESTION)
    assert "not shown as fit: rating unknown" in said(headroom(kit(Bar("MA-1", "m", None), GLOVES), width=2000))
    assert "rating unknown for MA-1 mat" in said(scene)


def test_without_a_required_voltage_nothing_is_shown_as_fit() -> None:
    scene = headroom(kit(GLOVES, HOOK, Bar("MA-1", "mat", None), working_mv=None, required_mv=None))
    assert scene.parts("line:required") == ()
    assert not any(isinstance(item, Box) and item.fill is Role.FIT for item in scene.items)
    assert not any(isinstance(item, Shape) and item.kind is ShapeKind.TICK for item in scene.items)
    assert "Not shown as fit: the required voltage is unknown." in said(scene)
    assert "working voltage unknown" in said(scene)
    assert "required voltage unknown" in said(scene)
    # Words of what is unknown stand at the top, not beside a figure of the axis.
    foot_y = max(item.y for item in scene.parts("tick") if isinstance(item, Words))
    (unknown,) = (words for words in scene.words() if words.text == "working voltage unknown")
    assert unknown.y < foot_y - 100


def test_no_piece_is_no_consent() -> None:
    scene = headroom(kit())
    assert "No piece of kit to show yet." in said(scene)
    assert not any(isinstance(item, Shape) and item.kind is ShapeKind.TICK for item in scene.items)
    assert_tidy(scene)


def test_scale_is_logarithmic_when_offers_lie_decades_apart() -> None:
    even = headroom(kit(GLOVES))
    wide = headroom(kit(Bar("GL-2", "gloves class 2", 25_500_000), chain(600_000, 600_000)))
    assert "even scale from 0" in said(even)
    assert "logarithmic scale" in said(wide)
    # Three figures tell that equal ratios are equal heights: 600 V to the line as the line to 1,394.6 V.
    third = Bar("P", "piece", round(914_760**2 / 600_000))
    scene = headroom(kit(Bar("GL-2", "gloves class 2", 25_500_000), chain(600_000, 600_000), third))
    below = bar(scene, "MC-0301").y - line_y(scene)
    above = line_y(scene) - bar(scene, "P").y
    assert above == pytest.approx(below, abs=0.01)


def test_twelve_bars_keep_each_offer_and_each_class_on_one_line() -> None:
    scene = headroom(
        kit(*(Bar(f"P-{n}", "insulating gloves class 0", mv) for n, mv in enumerate([800_000, 1_500_000] * 6)))
    )
    lines = [words.text.replace("\u00a0", " ") for words in scene.words()]
    assert lines.count("rated 1,500 V") == lines.count("rated 800 V") == 6
    assert not any(line == "0" for line in lines)
    assert_tidy(scene)


def test_a_long_label_widens_its_column() -> None:
    label = "insulating gloves class 0 with leather protectors, long cuff, size 10"
    lines = [words.text for words in headroom(kit(Bar("P", label, 1_500_000), *[HOOK] * 5)).words()]
    mine = [line for line in lines if line.replace("\u00a0", " ") in label]
    assert len(mine) <= 4


def test_old_mark_that_offers_nothing_still_shows_a_hatched_foot() -> None:
    nothing = bar(headroom(kit(Bar("P", "lead", 0), GLOVES)), "P")
    assert isinstance(nothing, Hatch)
    assert 0 < nothing.height < 5


def test_chain_is_one_bar_with_its_shortest_member_marked() -> None:
    scene = headroom(kit(GLOVES, chain(600_000, 1_000_000, 600_000, 1_000_000)))
    whole = bar(scene, "MC-0301")
    (mark,) = scene.parts("shortest")
    assert isinstance(mark, Shape)
    third = whole.width / 3
    assert whole.x + third < mark.x < whole.x + 2 * third
    assert whole.y < mark.y < foot(whole)
    for place, longer_member in ((0, "member:MC-0"), (2, "member:MC-2")):
        (own,) = scene.parts(longer_member)
        assert isinstance(own, Box)
        assert own.x == pytest.approx(whole.x + third * place, abs=3)
        assert own.y + own.height == pytest.approx(whole.y)
        assert (foot(whole) - own.y) / whole.height == pytest.approx(1_000 / 600)
    assert scene.parts("member:MC-1") == ()
    assert "shortest: MC-1 part 1: 600 V" in said(headroom(kit(chain(600_000, 1_000_000, 600_000)), width=1600))


def test_a_member_without_a_rating_is_not_called_the_shortest() -> None:
    members = (Member("M", "meter", 1_000_000), Member("L", "leads", None))
    scene = headroom(kit(Bar("C", "chain", None, True, members, "L")), width=1600)
    assert "shortest:" not in said(scene)
    assert "L leads: rating unknown" in said(scene)


def test_description_holds_every_figure_in_full() -> None:
    scene = headroom(kit(GLOVES, chain(600_000, 1_000_000, 600_000)))
    for words in ("914.76\u00a0V", "831.6\u00a0V", "GL-0117", "600\u00a0V", "1,000\u00a0V", "314.76\u00a0V short"):
        assert words in scene.description
    assert scene.title == "Headroom: Bus 7, traction battery, 198s NMC"


def test_same_value_same_scene_and_the_palette_is_kept() -> None:
    value = kit(GLOVES, chain(600_000, 600_000))
    assert headroom(value, "dark") == headroom(value, "dark")
    assert headroom(value, "dark").palette == "dark"
    assert headroom(value, "dark").items == headroom(value, "light").items


@pytest.mark.parametrize(("working", "required"), [(900_000, 800_000), (-1, 800_000), (0, 0), (None, -5)])
def test_impossible_figures_are_refused(working: int | None, required: int | None) -> None:
    with pytest.raises(ValueError, match="voltage"):
        kit(GLOVES, working_mv=working, required_mv=required)


def test_impossible_bars_are_refused() -> None:
    with pytest.raises(ValueError, match="under 0 V"):
        Bar("P", "piece", -1)
    with pytest.raises(ValueError, match="not in the chain"):
        Bar("P", "chain", 1, True, (Member("M", "meter", 1),), "L")


@given(st.integers(1, 10**9))
def test_figures_are_written_in_full(mv: int) -> None:
    text = volts(mv)
    assert text.endswith("\u00a0V")
    assert Decimal(text.removesuffix("\u00a0V").replace(",", "")) * 1000 == mv


@given(st.integers(0, 3_000_000), st.integers(1, 3_000_000))
@settings(max_examples=60, deadline=None)
def test_what_is_lacking_or_left_is_the_exact_difference(offers: int, required: int) -> None:
    scene = headroom(kit(Bar("P", "piece", offers), working_mv=None, required_mv=required), width=1600)
    lacking = f"{volts(required - offers)} short".replace("\u00a0", " ")
    left = f"{volts(offers - required)} to spare".replace("\u00a0", " ")
    # Both under the bar and in the headline, each on its own.
    under = " ".join(words.text for words in scene.words() if words.part != "headline").replace("\u00a0", " ")
    heading = " ".join(words.text for words in scene.words() if words.part == "headline").replace("\u00a0", " ")
    assert (lacking in under) == (lacking in heading) == (offers < required)
    assert (left in under) == (offers > required)
    assert (f"Least to spare: P piece, {left.removesuffix(' to spare')}." in heading) == (offers >= required)


def test_number_marks_follow_the_language() -> None:
    with CATALOGUE.spoken({"locale": "de"}):
        assert volts(1_541_760) == "1.541,76\u00a0V"
        assert volts(-41_760) == "\u221241,76\u00a0V"


@given(st.lists(figures_mv, max_size=8))
def test_ticks_are_round_apart_and_on_the_axis(figures: list[int]) -> None:
    scale = volt_scale(figures, 10, 290)
    ticks = scale.ticks()
    assert len(ticks) >= 2 or scale.is_log
    for low, high in pairwise(ticks):
        assert scale.y(low) - scale.y(high) >= 20
    for mv in figures:
        assert 10 <= scale.y(mv) <= 290
    for mv in ticks:
        assert str(mv).rstrip("0") in {"", "1", "2", "5"} or not scale.is_log
