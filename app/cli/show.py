"""show: one piece's card, or a decision as it was taken."""

from __future__ import annotations

import argparse
import sys

from app.cli.arguments import DONE
from app.cli.output import show, show_json
from app.cli.register_arguments import add_store, desk_of
from app.outputs.documents.decision import case_text, kept_values
from app.outputs.documents.history import card, card_values
from app.usecases.show_piece import decision_named, show_piece


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What show takes."""
    add_store(parser, is_act=False)
    parser.add_argument("code", metavar="CODE")


def run(args: argparse.Namespace) -> int:
    """Show; a decision is written as the worked case that judge runs."""
    with desk_of(args) as desk:
        decided = decision_named(desk, args.code)
        if decided is not None:
            if args.json:
                show_json({"entry": str(decided.name), **kept_values(decided.proof.answer)})
            else:
                sys.stdout.write(case_text(decided.proof, "decision"))
            return DONE
        shown = show_piece(desk, args.code)
        if args.json:
            show_json(card_values(shown))
        else:
            show(card(shown, desk.zone()))
    return DONE
