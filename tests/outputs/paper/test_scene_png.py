from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Literal

import pytest

from app.outputs.paper import scene_png
from app.outputs.pictures.due_ribbon import DateState, due_ribbon
from app.outputs.pictures.due_sheet import DueSheet, due_sheet
from app.outputs.pictures.headroom import Bar, headroom
from app.outputs.pictures.scene import PALETTES, Hatch, PaletteName, Role, Scene, Words
from tests.outputs.paper.png import Picture, decode
from tests.outputs.pictures.kit import TODAY, chain, in_state, kit, ribbon

SAMPLES = (
    "GL-0117 gloves class 0 with protectors",
    "914.76\u00a0V 1,541.76\u00a0V",
    "first office affine waffle fluff",
    "AVAWAYTo. Ta, P. \u00c4rmel \u0141\u00f3d\u017a \u0395\u03bb\u03bb\u03ac\u03c2 \u0421\u043b\u043e\u0432\u043e",
    "use until 2026-01-31 (retest due 2026-02-01)",
)


def rgb(palette: PaletteName, role: Role) -> tuple[int, int, int]:
    colour = PALETTES[palette][role]
    return (int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16))


def inked(picture: Picture, paper: tuple[int, int, int]) -> tuple[int, int, int, int]:
    """Edges of everything that is not paper: left, top, right, bottom in px."""
    bare = (paper,) * picture.width
    rows = [y for y, row in enumerate(picture.rows) if row != bare]
    columns = [x for y in rows for x, px in enumerate(picture.rows[y]) if px != paper]
    return min(columns), min(rows), max(columns) + 1, max(rows) + 1


@pytest.mark.parametrize("scale", [1, 2])
@pytest.mark.parametrize("palette", ["light", "dark"])
@pytest.mark.parametrize("large", [False, True])
def test_size_and_colours(scale: Literal[1, 2], palette: PaletteName, large: bool) -> None:
    scene = due_ribbon(in_state("overdue"), palette, large=large)
    picture = decode(scene_png.render(scene, scale))
    assert (picture.width, picture.height) == (scene.width * scale, scene.height * scale)
    painted = set().union(*picture.rows)
    for role in (Role.PAPER, Role.INK, Role.FIT, Role.SHORT, Role.WARN, Role.BAND):
        assert rgb(palette, role) in painted, role
    assert picture.rows[0][0] == rgb(palette, Role.PAPER)


@pytest.mark.parametrize("scale", [1, 2])
@pytest.mark.parametrize("palette", ["light", "dark"])
def test_every_picture_is_painted_to_its_edges(scale: Literal[1, 2], palette: PaletteName) -> None:
    value = kit(Bar("GL-0117", "gloves", 1_500_000), chain(600_000, 1_000_000, 600_000), Bar("MA-1", "mat", None))
    sheet = DueSheet("Dates", TODAY, tuple(in_state(state.value) for state in DateState))
    for scene in (headroom(value, palette), due_sheet(sheet, palette)):
        picture = decode(scene_png.render(scene, scale))
        assert (picture.width, picture.height) == (scene.width * scale, scene.height * scale)
        left, top, right, bottom = inked(picture, rgb(palette, Role.PAPER))
        # Ink near all four edges, and none on them: neither blank nor cut.
        assert 0 < left < 30 * scale
        assert 0 < top < 30 * scale
        assert picture.width - 30 * scale < right < picture.width
        assert picture.height - 60 * scale < bottom < picture.height


def test_hatched_bar_is_painted_in_strokes_and_the_filled_one_whole() -> None:
    bars = (Bar("GL-0117", "gloves", 1_500_000), Bar("LD-1", "leads", 600_000))
    scene = headroom(kit(*bars))
    picture = decode(scene_png.render(scene))
    (hatch,) = scene.parts("bar:LD-1")
    assert isinstance(hatch, Hatch)
    row = picture.rows[round(hatch.y + hatch.height / 2)][round(hatch.x) + 3 : round(hatch.x + hatch.width) - 3]
    assert rgb("light", Role.PAPER) in row
    assert rgb("light", Role.SHORT) in row


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("text", SAMPLES)
def test_words_are_painted_inside_the_room_that_was_measured(text: str, bold: bool) -> None:
    words = Words(text, 20, 40, 20, bold)
    box = words.box()
    scene = Scene(box.right + 60, 80, "words", "words", (words,))
    left, top, right, bottom = inked(decode(scene_png.render(scene)), rgb("light", Role.PAPER))
    assert box.left - 2 <= left
    assert right <= box.right + 2
    assert box.top - 1 <= top
    assert bottom <= box.bottom + 1
    # And the measure is no idle guess: the ink fills nearly all of it.
    assert right - left >= 0.93 * (box.right - box.left)


def test_bold_is_painted_bolder() -> None:
    def amount(bold: bool) -> int:
        scene = Scene(300, 60, "w", "w", (Words("insulating gloves", 10, 40, 20, bold),))
        return sum(row.count(rgb("light", Role.INK)) for row in decode(scene_png.render(scene)).rows)

    assert amount(True) > 1.3 * amount(False)


def test_same_scene_same_bytes() -> None:
    scene = due_ribbon(ribbon(), "dark")
    assert scene_png.render(scene, 2) == scene_png.render(scene, 2)
    assert scene_png.render(scene, 1) != scene_png.render(scene, 2)


def test_a_missing_font_is_an_error_and_not_a_picture_without_words(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(scene_png, "FONTS", tmp_path)
    with pytest.raises(FileNotFoundError):
        scene_png.render(due_ribbon(ribbon()))


def test_nothing_is_loaded_before_it_is_needed() -> None:
    code = "import sys, app.outputs.paper.scene_png; sys.exit('resvg_py' in sys.modules or 'PySide6' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
