"""reserve: pieces kept for somebody."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE, day
from app.cli.register_arguments import add_codes, add_store, desk_of, show_saved

HELP = "keep pieces for somebody on days to come"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What reserve takes."""
    add_store(parser)
    add_codes(parser)
    parser.add_argument("--person", required=True, metavar="CODE", help="for whom")
    parser.add_argument("--from", dest="since", required=True, type=day, metavar="DATE", help="first day")
    parser.add_argument("--until", type=day, metavar="DATE", help="last day; the first if left out")


def run(args: argparse.Namespace) -> int:
    """Reserve; 0."""
    from app.usecases.reserve_pieces import reserve_pieces

    until = args.until or args.since
    with desk_of(args) as desk:
        show_saved(args, reserve_pieces(desk, args.by, args.codes, args.person, args.since, until))
    return DONE
