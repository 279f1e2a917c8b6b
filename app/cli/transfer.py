"""transfer: pieces to another crib."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.register_arguments import add_codes, add_store, desk_of, show_saved

HELP = "move pieces to another crib; the entry stands in both books"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What transfer takes."""
    add_store(parser)
    add_codes(parser)
    parser.add_argument("--to", required=True, metavar="CRIB", help="the other crib")


def run(args: argparse.Namespace) -> int:
    """Move; 0."""
    from app.usecases.transfer_pieces import transfer_pieces

    with desk_of(args) as desk:
        show_saved(args, transfer_pieces(desk, args.by, args.codes, args.to))
    return DONE
