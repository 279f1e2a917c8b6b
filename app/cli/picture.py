"""Pictures of a command: drawn only when asked for, as SVG or PNG by the name's ending.

What draws is imported where it is used: most commands draw nothing, and start-up is part of what people wait for.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from app.compose import write_file
from app.decision.domain.errors import BadInput

if TYPE_CHECKING:
    from app.decision.judging.answers import DueAnswer, KitAnswer
    from app.outputs.pictures.scene import Scene


def add_picture(parser: argparse.ArgumentParser) -> None:
    """The --picture argument."""
    parser.add_argument("--picture", nargs="+", default=[], metavar="FILE")


def is_quiet(args: argparse.Namespace) -> bool:
    """Whether the command runs inside another that prints for itself."""
    return bool(getattr(args, "is_quiet", False))


def write_headroom(names: Iterable[str], answer: KitAnswer) -> None:
    """The headroom picture of the first circuit."""

    def draw() -> Scene:
        from app.outputs.documents.pictures import headroom_of
        from app.outputs.pictures.headroom import headroom

        return headroom(headroom_of(answer, answer.facts.job.circuits[0]))

    _write(names, draw)


def write_due(names: Iterable[str], answer: DueAnswer, heading: str) -> None:
    """One piece's due ribbon, large; several pieces as a list."""

    def draw() -> Scene:
        from app.outputs.documents.pictures import due_sheet_of, ribbon_of
        from app.outputs.pictures.due_ribbon import due_ribbon
        from app.outputs.pictures.due_sheet import due_sheet

        if len(answer.rows) == 1:
            return due_ribbon(ribbon_of(answer.rows[0].status, answer.facts.site.warning_days))
        return due_sheet(due_sheet_of(answer, heading))

    _write(names, draw)


def _write(names: Iterable[str], draw: Callable[[], Scene]) -> None:
    """Draw once and write each name; BadInput for an ending that is no picture's, before anything is written."""
    paths = [Path(name) for name in names]
    for path in paths:
        if path.suffix.lower() not in (".svg", ".png"):
            raise BadInput("file.not-a-picture", file=str(path), thing=path.name)
    if not paths:
        return
    from app.outputs.paper import scene_png, scene_svg

    scene = draw()
    for path in paths:
        is_png = path.suffix.lower() == ".png"
        write_file(path, scene_png.render(scene, scale=2) if is_png else scene_svg.render(scene))
