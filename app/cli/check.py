"""check: may this kit go out for this job?"""

from __future__ import annotations

import argparse
from pathlib import Path

from app.cli.arguments import DONE, REFUSED, add_folds, add_kit, add_register, check_sources, day, question_of
from app.cli.output import show, show_json
from app.cli.picture import add_picture, is_quiet, write_headroom
from app.cli.register_arguments import show_anchors
from app.compose import open_desk, open_register
from app.decision.judging.answers import KitAnswer
from app.outputs.documents.decision import as_values, build


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What check takes."""
    add_register(parser)
    add_kit(parser)
    parser.add_argument("--until", type=day, metavar="DATE")
    add_folds(parser)
    add_picture(parser)


def run(args: argparse.Namespace) -> int:
    """Decide and show; 0 may be issued, 3 refused."""
    check_sources(args, depot_needed=True)
    answer, anchors = answered(args)
    write_headroom(args.picture, answer)
    if is_quiet(args):
        pass
    elif args.json:
        show_json(as_values(answer))
    else:
        show(build(answer, with_met=args.met, with_sources=args.sources))
        if anchors:
            show_anchors(anchors)
    return DONE if answer.verdict.may_be_issued else REFUSED


def answered(args: argparse.Namespace) -> tuple[KitAnswer, dict[str, str]]:
    """The decision, and the anchors of the register that answered."""
    return (_of_files(args), {}) if args.store is None else _of_store(args)


def _of_files(args: argparse.Namespace) -> KitAnswer:
    from app.usecases.check_kit import check_kit

    checks = None if args.checks is None else Path(args.checks)
    opened = open_register(Path(args.sheet), Path(args.depot), checks, args.certificate_seen, args.on, args.encoding)
    return check_kit(opened.register, question_of(args))


def _of_store(args: argparse.Namespace) -> tuple[KitAnswer, dict[str, str]]:
    from app.usecases.check_store import check_store

    desk, _ = open_desk(Path(args.store))
    try:
        args.on = args.on or desk.today()
        return check_store(desk, question_of(args)), desk.anchors()
    finally:
        desk.store.close()
