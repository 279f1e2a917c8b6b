"""hold: pieces that are not to be issued until released."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.register_arguments import add_codes, add_store, desk_of, show_saved

HELP = "hold pieces until what clears the reason is entered and they are released"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What hold takes."""
    add_store(parser)
    add_codes(parser)
    parser.add_argument("--why", required=True, metavar="WORD", help="the reason; they are listed below")


def run(args: argparse.Namespace) -> int:
    """Hold; 0."""
    from app.usecases.hold_piece import hold_piece

    with desk_of(args) as desk:
        show_saved(args, hold_piece(desk, args.by, args.codes, args.why))
    return DONE
