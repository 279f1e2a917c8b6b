from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings

from app.outputs.paper import scene_svg
from app.outputs.pictures.due_ribbon import DueRibbon, due_ribbon
from app.outputs.pictures.headroom import Bar, Headroom, headroom
from app.outputs.pictures.scene import PALETTES, Role, Scene, Words
from tests.outputs.pictures.kit import headrooms, kit, ribbons

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = (
    "</text><script>alert(1)</script>",
    '" onload="x" a="',
    "<!-- --> <![CDATA[ ]]>",
    "&lt; &amp; &#0; &bogus;",
    "nul\x00 esc\x1b bell\x07 \ufffe \ud800",
    "\u202e600",
)
ALLOWED = {"svg", "title", "desc", "rect", "line", "path", "text"}


def parsed(text: str) -> ET.Element:
    return ET.fromstring(text.encode("utf-8"))


@given(headrooms())
@settings(max_examples=40, deadline=None)
def test_headroom_is_xml_whatever_the_labels(value: Headroom) -> None:
    scene = headroom(value)
    texts = [element.text or "" for element in parsed(scene_svg.render(scene)).iter(f"{SVG}text")]
    assert texts == [words.text for words in scene.words()]


@given(ribbons())
@settings(max_examples=40, deadline=None)
def test_ribbon_is_xml_whatever_the_labels(value: DueRibbon) -> None:
    parsed(scene_svg.render(due_ribbon(value)))
    parsed(scene_svg.render(due_ribbon(value, large=False)))


@pytest.mark.parametrize("label", HOSTILE)
def test_hostile_text_stays_text(label: str) -> None:
    scene = Scene(400, 60, label, label, (Words(label, 10, 30),))
    root = parsed(scene_svg.render(scene))
    assert {element.tag.removeprefix(SVG) for element in root.iter()} == {"svg", "title", "desc", "rect", "text"}
    (text,) = root.iter(f"{SVG}text")
    assert text.text == scene.words()[0].text
    assert "onload" not in root.attrib


def test_stands_alone_and_names_itself() -> None:
    scene = headroom(kit(Bar("GL-0117", "gloves", 1_500_000), Bar("LD-1", "leads", 600_000)))
    text = scene_svg.render(scene)
    root = parsed(text)
    assert root.attrib["role"] == "img"
    assert [child.tag for child in root][:2] == [f"{SVG}title", f"{SVG}desc"]
    assert root.findtext(f"{SVG}title") == scene.title
    assert root.findtext(f"{SVG}desc") == scene.description
    assert root.attrib["font-family"].startswith("DejaVu Sans,")
    assert root.attrib["font-family"].endswith("sans-serif")
    assert {element.tag.removeprefix(SVG) for element in root.iter()} <= ALLOWED
    assert re.findall(r"href|url\(|https?://(?!www\.w3\.org/2000/svg)", text) == []
    assert (root.attrib["width"], root.attrib["height"]) == (f"{scene.width:g}", f"{scene.height:g}")


def test_colours_come_from_the_palette_only() -> None:
    value = kit(Bar("GL-0117", "gloves", 1_500_000), Bar("LD-1", "leads", 600_000), Bar("X", "mat", None))
    found = {name: set(re.findall(r"#[0-9a-f]{6}", scene_svg.render(headroom(value, name)))) for name in PALETTES}
    for name, colours in PALETTES.items():
        assert found[name] <= set(colours.values())
        assert {colours[role] for role in (Role.PAPER, Role.FIT, Role.SHORT, Role.INK)} <= found[name]
    assert not found["light"] & found["dark"]


def test_same_text_whatever_the_hash_seed() -> None:
    code = (
        "from tests.outputs.pictures.kit import kit, chain, ribbon; from app.outputs.paper import scene_svg as s;"
        "from app.outputs.pictures.headroom import headroom; from app.outputs.pictures.due_ribbon import due_ribbon;"
        "print(s.render(headroom(kit(chain(600_000, 1_000_000, 600_000)))) + s.render(due_ribbon(ribbon())))"
    )
    made = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONIOENCODING": "utf-8"},
            cwd=Path(__file__).parents[3],
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(made) == 1
    assert b"<svg" in made.pop()


def test_same_scene_same_text() -> None:
    scene = headroom(kit(Bar("GL-0117", "gloves", 1_500_000)))
    assert scene_svg.render(scene) == scene_svg.render(scene)
