"""history: what was entered, when, by whom."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.output import show, show_json
from app.cli.register_arguments import add_store, desk_of
from app.outputs.documents.history import as_values, build
from app.usecases.show_piece import show_given, show_history


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What history takes."""
    add_store(parser, is_act=False)
    parser.add_argument("code", metavar="CODE")


def run(args: argparse.Namespace) -> int:
    """Show; 0."""
    with desk_of(args) as desk:
        subject, lines = show_history(desk, args.code)
        if args.json:
            show_json(as_values(lines))
        else:
            show(build(subject, lines, desk.zone(), show_given(desk, subject)))
    return DONE
