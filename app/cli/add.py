"""add: a piece, a person, a system, a circuit or a crib."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.keys import table_of
from app.cli.register_arguments import add_store, desk_of, show_saved
from app.usecases.add_crib import add_crib
from app.usecases.add_person import add_person
from app.usecases.add_piece import add_piece
from app.usecases.add_system import add_circuit, add_system

SORTS = ("piece", "person", "system", "circuit", "crib")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What add takes."""
    add_store(parser)
    parser.add_argument("sort", choices=SORTS)
    parser.add_argument("code", metavar="CODE")
    parser.add_argument("keys", nargs="*", metavar="KEY=VALUE")
    parser.add_argument("--crib", default="", metavar="NAME")


def run(args: argparse.Namespace) -> int:
    """Add it; a register is made where there is none."""
    table = table_of(args.keys)
    with desk_of(args, may_make=True) as desk:
        if args.sort == "piece":
            saved = add_piece(desk, args.by, {"code": args.code, **table}, args.crib)
        elif args.sort == "person":
            saved = add_person(desk, args.by, {"code": args.code, **table})
        elif args.sort == "system":
            saved = add_system(desk, args.by, {"code": args.code, **table})
        elif args.sort == "crib":
            saved = add_crib(desk, args.by, args.code)
        else:
            system, _, key = args.code.rpartition(".")
            saved = add_circuit(desk, args.by, system or args.code, {"key": key, **table})
        show_saved(args, saved)
    return DONE
