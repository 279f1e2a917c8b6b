"""Pictures of a command: drawn only when asked for, as SVG or PNG by the name's ending."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable
from pathlib import Path

from app.compose import write_file
from app.domain.errors import BadInput
from app.paper import scene_png, scene_svg
from app.pictures.scene import Scene


def add_picture(parser: argparse.ArgumentParser, what: str) -> None:
    """The --picture argument."""
    parser.add_argument(
        "--picture", nargs="+", default=[], metavar="FILE", help=f"write {what}; the name ends in .svg or .png"
    )


def is_quiet(args: argparse.Namespace) -> bool:
    """Whether the command runs inside another that prints for itself."""
    return bool(getattr(args, "is_quiet", False))


def write_pictures(names: Iterable[str], draw: Callable[[], Scene]) -> None:
    """Draw once and write each name; BadInput for an ending that is no picture's, before anything is written."""
    paths = [Path(name) for name in names]
    for path in paths:
        if path.suffix.lower() not in (".svg", ".png"):
            raise BadInput("file.not-a-picture", file=str(path), thing=path.name)
    if not paths:
        return
    scene = draw()
    for path in paths:
        is_png = path.suffix.lower() == ".png"
        write_file(path, scene_png.render(scene, scale=2) if is_png else scene_svg.render(scene))
