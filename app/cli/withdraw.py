"""withdraw: pieces taken out for good."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.register_arguments import add_codes, add_store, desk_of, show_saved

HELP = "take pieces out for good"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What withdraw takes."""
    add_store(parser)
    add_codes(parser)
    parser.add_argument("--reason", required=True, metavar="WORDS", help="why")


def run(args: argparse.Namespace) -> int:
    """Withdraw; 0."""
    from app.usecases.withdraw_piece import withdraw_piece

    with desk_of(args) as desk:
        show_saved(args, withdraw_piece(desk, args.by, args.codes, args.reason))
    return DONE
