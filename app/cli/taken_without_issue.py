"""taken-without-issue: enter late what was taken at night or in an emergency."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE, day
from app.cli.register_arguments import add_codes, add_store, desk_of, show_saved

HELP = "enter late what was taken without issue; it is held until looked over"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What taken-without-issue takes."""
    add_store(parser)
    add_codes(parser)
    parser.add_argument("--person", required=True, metavar="CODE", help="who took it")
    parser.add_argument("--on", type=day, metavar="DATE", help="the day it was taken; today if left out")


def run(args: argparse.Namespace) -> int:
    """Enter; 0."""
    from app.usecases.enter_taken import enter_taken

    with desk_of(args) as desk:
        show_saved(args, enter_taken(desk, args.by, args.codes, args.person, args.on))
    return DONE
