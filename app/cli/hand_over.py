"""hand-over: give pieces into keeping."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.register_arguments import add_codes, add_store, desk_of, show_saved

HELP = "hand pieces over for keeping: to a person, a vehicle, a pool, or back to the crib"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What hand-over takes."""
    add_store(parser)
    add_codes(parser)
    parser.add_argument("--to", required=True, metavar="CODE", help="a person, a system's code, pool:NAME, or crib")


def run(args: argparse.Namespace) -> int:
    """Hand over; 0."""
    from app.usecases.hand_over import hand_over

    with desk_of(args) as desk:
        show_saved(args, hand_over(desk, args.by, args.codes, args.to))
    return DONE
