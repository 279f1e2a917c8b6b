"""alias: a label already on a piece."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.register_arguments import add_store, desk_of, show_saved

HELP = "let a label that is already on a piece stand for its code"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What alias takes."""
    add_store(parser)
    parser.add_argument("label", metavar="LABEL", help="what the label says, as it is scanned")
    parser.add_argument("code", metavar="CODE", help="the piece")


def run(args: argparse.Namespace) -> int:
    """Add; 0."""
    from app.usecases.add_alias import add_alias

    with desk_of(args) as desk:
        show_saved(args, add_alias(desk, args.by, args.label, args.code))
    return DONE
