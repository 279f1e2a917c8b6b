"""recall: hold everything a laboratory, a period or a label names."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE, day
from app.cli.register_arguments import add_store, desk_of, show_saved
from app.usecases.recall_pieces import Recall, recall_pieces


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What recall takes."""
    add_store(parser)
    parser.add_argument("--pieces", nargs="+", action="extend", default=[], metavar="CODE")
    parser.add_argument("--label", default="", metavar="WORDS")
    parser.add_argument("--lab", default="", metavar="NAME")
    parser.add_argument("--since", type=day, metavar="DATE")
    parser.add_argument("--until", type=day, metavar="DATE")
    parser.add_argument("--reason", default="", metavar="WORDS")


def run(args: argparse.Namespace) -> int:
    """Hold them; 0."""
    recall = Recall(
        pieces=tuple(args.pieces),
        label=args.label,
        lab=args.lab,
        since=args.since,
        until=args.until,
        reason=args.reason,
    )
    with desk_of(args) as desk:
        show_saved(args, recall_pieces(desk, args.by, recall))
    return DONE
