"""log: an electrical test, an air test, an inspection, a calibration, a self-test or an event."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.keys import table_of
from app.cli.register_arguments import add_store, defects_of, desk_of, show_saved
from app.decision.domain import former
from app.decision.domain.errors import BadInput
from app.usecases.log_check import inspect_list, log_check
from app.usecases.log_electrical_test import log_electrical_test

SORTS = ("electrical-test", "air-test", "inspection", "calibration", "self-test", "event")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What log takes."""
    add_store(parser)
    parser.add_argument("what", choices=SORTS, type=lambda word: former.RECORDS.get(word, word))
    parser.add_argument(
        "words", nargs="+", metavar="CODE|KEY=VALUE",
    )  # fmt: skip
    parser.add_argument("--defect", action="append", default=[], metavar="CODE:DEFECT")


def run(args: argparse.Namespace) -> int:
    """Enter it; 0 whatever the result: a failed test is an entry like any other."""
    codes = [word for word in args.words if "=" not in word]
    table = table_of(word for word in args.words if "=" in word)
    if not codes:
        raise BadInput("log.no-piece", thing=args.what)
    if args.what != "inspection" and len(codes) > 1:
        raise BadInput("log.one-piece", thing=", ".join(codes))
    with desk_of(args) as desk:
        if args.what == "inspection":
            saved = inspect_list(desk, args.by, codes, defects_of(args.defect), table)
        elif args.what == "electrical-test":
            saved = log_electrical_test(desk, args.by, codes[0], table)
        else:
            saved = log_check(desk, args.by, args.what, codes[0], table)
        show_saved(args, saved)
    return DONE
