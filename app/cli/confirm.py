"""confirm: certificates that somebody has seen."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.register_arguments import add_codes, add_store, desk_of, show_saved

HELP = "confirm that the certificates of a named list of pieces were seen"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What confirm takes."""
    add_store(parser)
    parser.add_argument("what", choices=("certificate-seen",))
    add_codes(parser)


def run(args: argparse.Namespace) -> int:
    """Confirm; 0."""
    from app.usecases.confirm_certificates import confirm_certificates

    with desk_of(args) as desk:
        show_saved(args, confirm_certificates(desk, args.by, args.codes))
    return DONE
