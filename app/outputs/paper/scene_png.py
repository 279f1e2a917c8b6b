"""A scene as PNG bytes, in the shipped font only, so that a print looks the same on every machine."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from app.outputs.paper.scene_svg import render as render_svg
from app.outputs.pictures.scene import Scene

FONTS = Path(__file__).parent / "fonts"
FONT_FILES = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")


def render(scene: Scene, scale: Literal[1, 2] = 1) -> bytes:
    """PNG of `scale` times the scene's px. FileNotFoundError: a shipped font is missing, so words would be left out."""
    import resvg_py  # noqa: PLC0415 - export libraries load only where something is exported

    fonts = [str(FONTS / name) for name in FONT_FILES]
    missing = [name for name in fonts if not Path(name).is_file()]
    if missing:
        raise FileNotFoundError(missing[0])
    picture = resvg_py.svg_to_bytes(
        svg_string=render_svg(scene),
        skip_system_fonts=True,
        font_files=fonts,
        font_family="DejaVu Sans",
        sans_serif_family="DejaVu Sans",
        width=round(scene.width * scale),
        height=round(scene.height * scale),
    )
    return bytes(picture)
