"""stocktake: what is missing, unexpected or found again."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.register_arguments import add_codes, add_store, desk_of, show_saved

HELP = "take stock of a crib by its scanned list"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What stocktake takes."""
    add_store(parser)
    add_codes(parser, "everything that was scanned")
    parser.add_argument("--crib", default="", metavar="NAME", help="the crib; the only one if left out")
    parser.add_argument("--mark-lost", action="store_true", help="enter what is missing as lost")


def run(args: argparse.Namespace) -> int:
    """Enter; 0 whatever is missing."""
    from app.usecases.take_stock import take_stock

    with desk_of(args) as desk:
        show_saved(args, take_stock(desk, args.by, args.codes, args.crib, mark_lost=args.mark_lost))
    return DONE
