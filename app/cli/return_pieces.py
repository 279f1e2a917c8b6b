"""return: take pieces back from a job or from keeping."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.register_arguments import add_codes, add_store, defects_of, desk_of, show_saved

HELP = "take pieces back, with what was found on them"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What return takes."""
    add_store(parser)
    add_codes(parser)
    parser.add_argument(
        "--defect", action="append", default=[], metavar="CODE:DEFECT", help="a defect found on one of them; it is held"
    )


def run(args: argparse.Namespace) -> int:
    """Take back; 0."""
    from app.usecases.return_kit import return_kit

    with desk_of(args) as desk:
        show_saved(args, return_kit(desk, args.by, args.codes, defects_of(args.defect)))
    return DONE
