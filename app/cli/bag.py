"""bag: several pieces scanned as one."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.register_arguments import add_codes, add_store, desk_of, show_saved

HELP = "make up a bag: its code then stands for its pieces"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What bag takes."""
    add_store(parser)
    parser.add_argument("bag", metavar="BAG", help="the bag's own code")
    add_codes(parser)


def run(args: argparse.Namespace) -> int:
    """Make it up; 0."""
    from app.usecases.make_bag import make_bag

    with desk_of(args) as desk:
        show_saved(args, make_bag(desk, args.by, args.bag, args.codes))
    return DONE
