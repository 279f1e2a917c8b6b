"""make-pair: one pair of two single gloves."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.register_arguments import add_store, desk_of, show_saved

HELP = "make a pair of two single gloves that are alike and sound"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What make-pair takes."""
    add_store(parser)
    parser.add_argument("left", metavar="LEFT", help="the left glove")
    parser.add_argument("right", metavar="RIGHT", help="the right glove")
    parser.add_argument("--code", required=True, metavar="CODE", help="the pair's own code")


def run(args: argparse.Namespace) -> int:
    """Pair; 0."""
    from app.usecases.make_pair import make_pair

    with desk_of(args) as desk:
        show_saved(args, make_pair(desk, args.by, args.left, args.right, args.code))
    return DONE
