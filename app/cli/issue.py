"""issue: a kit goes out for a job, judged again as it is written."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE, REFUSED, add_folds, add_kit, day, question_of
from app.cli.output import show, show_json, show_lines
from app.cli.picture import add_picture, write_headroom
from app.cli.register_arguments import add_store, correction_line, desk_of
from app.outputs.documents.decision import as_values, build
from app.usecases.issue_kit import issue_kit
from app.words.saying import say


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What issue takes: what check takes, with --from for --on."""
    add_store(parser)
    add_kit(parser)
    parser.add_argument("--from", dest="on", required=True, type=day, metavar="DATE")
    parser.add_argument("--until", required=True, type=day, metavar="DATE")
    add_folds(parser)
    add_picture(parser)


def run(args: argparse.Namespace) -> int:
    """Issue and show; 0 issued, 3 refused."""
    with desk_of(args) as desk:
        answer, name = issue_kit(desk, args.by, question_of(args))
    write_headroom(args.picture, answer)
    is_issued = answer.verdict.may_be_issued
    if args.json:
        show_json({**as_values(answer), "entry": None if name is None else str(name)})
    else:
        show(build(answer, with_met=args.met, with_sources=args.sources))
        key = "saved.nothing-new" if name is None else "saved.issued" if is_issued else "saved.refusal"
        show_lines([say(key, {"entry": str(name)})])
        if is_issued:
            show_lines([correction_line(args, str(name))])
    return DONE if is_issued else REFUSED
