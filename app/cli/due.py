"""due: every piece with standing, last good day and reason."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from app.cli.arguments import DONE, add_register, check_sources, whole_days
from app.cli.output import show, show_json
from app.cli.picture import add_picture, is_quiet, write_due
from app.cli.register_arguments import show_anchors
from app.compose import heading_lines, open_desk, open_register
from app.decision.judging.answers import DueAnswer, DueQuestion
from app.outputs.documents.due_list import as_values, build
from app.outputs.paper.csv_table import render
from app.words.saying import say


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What due takes."""
    add_register(parser)
    parser.add_argument("--within", type=whole_days, metavar="DAYS")
    parser.add_argument("--piece", nargs="+", default=[], action="extend", metavar="CODE")
    parser.add_argument("--headings", action="store_true")
    add_picture(parser)
    parser.add_argument("--format", choices=("text", "csv", "json"), default="text")


def run(args: argparse.Namespace) -> int:
    """List and show; 0 whatever is in the list."""
    check_sources(args, depot_needed=False)
    anchors: dict[str, str] = {}
    faults: tuple[str, ...] = ()
    headings: tuple[str, ...] = ()
    if args.store is None:
        answer, faults, headings = _of_files(args)
    else:
        answer, anchors = _of_store(args)
    write_due(args.picture, answer, say("due.title", {}))
    if is_quiet(args):
        pass
    elif args.json or args.format == "json":
        show_json(as_values(answer))
    elif args.format == "csv":
        sys.stdout.write(render(build(answer)))
        sys.stderr.write("".join(f"{line}\n" for line in faults))
    else:
        show(build(answer, () if args.piece else faults, headings))
        if anchors:
            show_anchors(anchors)
    return DONE


def _of_files(args: argparse.Namespace) -> tuple[DueAnswer, tuple[str, ...], tuple[str, ...]]:
    from app.usecases.list_due import list_due

    depot = None if args.depot is None else Path(args.depot)
    checks = None if args.checks is None else Path(args.checks)
    opened = open_register(Path(args.sheet), depot, checks, args.certificate_seen, args.on, args.encoding)
    answer = list_due(opened.register, DueQuestion(args.on, args.within, tuple(args.piece)))
    headings = () if args.piece else heading_lines(opened.sheet, spelt_out=args.headings)
    return answer, opened.faults, headings


def _of_store(args: argparse.Namespace) -> tuple[DueAnswer, dict[str, str]]:
    from app.usecases.list_shelf import list_shelf

    desk, _ = open_desk(Path(args.store))
    try:
        question = DueQuestion(args.on or desk.today(), args.within, tuple(args.piece))
        return list_shelf(desk, question, is_drawn=bool(args.picture)), desk.anchors()
    finally:
        desk.store.close()
