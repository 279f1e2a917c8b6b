"""release: held pieces whose evidence is there."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.register_arguments import add_codes, add_store, desk_of, show_saved

HELP = "release held pieces; only where the evidence that clears the hold is entered"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What release takes."""
    add_store(parser)
    add_codes(parser)


def run(args: argparse.Namespace) -> int:
    """Release; 0."""
    from app.usecases.release_piece import release_piece

    with desk_of(args) as desk:
        show_saved(args, release_piece(desk, args.by, args.codes))
    return DONE
