from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.outputs.pictures.scene import (
    MEANING_ROLES,
    PALETTES,
    TEXT_ROLES,
    Hatch,
    PaletteName,
    Role,
    Scene,
    Shape,
    ShapeKind,
    Words,
    contrast,
)
from app.outputs.pictures.shapes import outline

BOTH: tuple[PaletteName, ...] = ("light", "dark")


def test_contrast_matches_published_pairs() -> None:
    # #767676 on white is the well-known lightest grey that passes AA; #777777 just fails (WCAG 2.2 formula).
    assert contrast("#767676", "#ffffff") >= 4.5
    assert contrast("#777777", "#ffffff") < 4.5
    assert contrast("#ffffff", "#000000") == pytest.approx(21)


@pytest.mark.parametrize("name", BOTH)
def test_words_can_be_read(name: PaletteName) -> None:
    colours = PALETTES[name]
    assert set(colours) == set(Role)
    for role in TEXT_ROLES:
        assert contrast(colours[role], colours[Role.PAPER]) >= 4.5, role


@pytest.mark.parametrize("name", BOTH)
def test_forms_can_be_seen_on_paper_and_on_the_band(name: PaletteName) -> None:
    colours = PALETTES[name]
    for role in MEANING_ROLES:
        assert contrast(colours[role], colours[Role.PAPER]) >= 3, role
        assert contrast(colours[role], colours[Role.BAND]) >= 3, role


@pytest.mark.parametrize("name", BOTH)
def test_fit_and_short_differ_in_red_against_blue(name: PaletteName) -> None:
    fit, short = (PALETTES[name][role] for role in (Role.FIT, Role.SHORT))
    assert int(fit[5:7], 16) > int(fit[1:3], 16) + 60
    assert int(short[1:3], 16) > int(short[5:7], 16) + 60


@given(st.floats(1, 200), st.floats(1, 400), st.floats(2, 20), st.booleans())
def test_hatch_strokes_stay_inside_and_slant(width: float, height: float, pitch: float, rising: bool) -> None:
    hatch = Hatch(10, 20, width, height, Role.SHORT, pitch, rising)
    strokes = list(hatch.strokes())
    assert len(strokes) == pytest.approx((width + height) / pitch, abs=1)
    for x1, y1, x2, y2 in strokes:
        assert 10 - 1e-6 <= min(x1, x2) <= max(x1, x2) <= 10 + width + 1e-6
        assert 20 - 1e-6 <= min(y1, y2) <= max(y1, y2) <= 20 + height + 1e-6
        assert (y2 - y1) == pytest.approx((x1 - x2) if rising else (x2 - x1), abs=1e-6)


def test_every_shape_has_a_form_of_its_own_inside_its_square() -> None:
    forms = {}
    for kind in ShapeKind:
        strokes = outline(Shape(kind, 50, 50, 20, Role.INK))
        for stroke in strokes:
            for x, y in stroke.points:
                assert 39.99 <= x <= 60.01
                assert 39.99 <= y <= 60.01
        forms[kind] = [(stroke.points, stroke.role, stroke.width) for stroke in strokes]
    for one, other in combinations(ShapeKind, 2):
        assert forms[one] != forms[other]


def test_words_box_follows_the_anchor() -> None:
    left, middle, right = (Words("hook", 100, 50, anchor=anchor).box() for anchor in ("start", "middle", "end"))
    assert left.left == 100
    assert right.right == pytest.approx(100)
    assert (middle.left + middle.right) / 2 == pytest.approx(100)


def test_scene_has_whole_px_and_no_control_characters() -> None:
    scene = Scene(10.2, 20.0, "a\x00", "b\u202ec", ())
    assert (scene.width, scene.height) == (11, 20)
    assert scene.title == "a\ufffd"
    assert scene.description == "b\ufffdc"
