"""verify: is everything what was written?"""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE, REFUSED
from app.cli.output import show_json, show_lines
from app.cli.register_arguments import add_store, desk_of
from app.outputs.documents.verified import as_values, lines
from app.usecases.verify_register import verify_register


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What verify takes."""
    add_store(parser, is_act=False)


def run(args: argparse.Namespace) -> int:
    """0 whole, 3 damaged."""
    with desk_of(args) as desk:
        verified = verify_register(desk)
    if args.json:
        show_json(as_values(verified))
    else:
        show_lines(lines(verified))
    return REFUSED if verified.damage else DONE
