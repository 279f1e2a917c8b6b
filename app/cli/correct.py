"""correct: strike an entry, or put it right."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.register_arguments import add_store, desk_of, show_saved, table_of

HELP = "correct an entry: a new one that names it, with the reason; nothing is taken out"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What correct takes."""
    add_store(parser)
    parser.add_argument("entry", metavar="ENTRY", help="as it was said when it was saved, for example main:17")
    parser.add_argument("--reason", required=True, metavar="WORDS", help="why it is wrong")
    parser.add_argument(
        "--set",
        nargs="+",
        action="extend",
        default=[],
        dest="changes",
        metavar="KEY=VALUE",
        help="what it should have said; struck without another in its place if left out",
    )


def run(args: argparse.Namespace) -> int:
    """Correct; 0."""
    from app.usecases.correct_entry import correct_entry

    changes = {key: None if value == "none" else value for key, value in table_of(args.changes).items()}
    with desk_of(args) as desk:
        show_saved(args, correct_entry(desk, args.by, args.entry, args.reason, changes))
    return DONE
