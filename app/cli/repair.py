"""repair: a repair or a patch that was made, a part that was replaced."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.register_arguments import add_keys, add_store, desk_of, show_saved, table_of

HELP = "enter a repair, a patch or a replaced part; the piece waits for the test or the look it asks for"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What repair takes."""
    add_store(parser)
    parser.add_argument("code", metavar="CODE", help="the piece")
    add_keys(parser, "kind=patched place=cuff on=2026-02-20; of a replaced part repair='new leads'")


def run(args: argparse.Namespace) -> int:
    """Enter; 0."""
    from app.usecases.repair_piece import repair_piece

    with desk_of(args) as desk:
        show_saved(args, repair_piece(desk, args.by, args.code, table_of(args.keys)))
    return DONE
