"""check: may this kit go out for this job?"""

from __future__ import annotations

import argparse
from pathlib import Path

from app.cli.arguments import DONE, REFUSED, add_register, day, pair
from app.cli.output import show, show_json
from app.cli.picture import add_picture, is_quiet, write_headroom
from app.compose import open_register
from app.judging.answers import KitQuestion
from app.reports.decision import as_values, build
from app.usecases.check_kit import check_kit

HELP = "decide whether a kit may be issued for a job, and say why"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What check takes."""
    add_register(parser, depot_needed=True)
    parser.add_argument("--system", required=True, metavar="CODE", help="the system to be worked on")
    parser.add_argument(
        "--circuit", nargs="+", default=[], action="extend", metavar="KEY",
        help="circuits to be touched; all of the system if left out",
    )  # fmt: skip
    parser.add_argument("--task", required=True, metavar="KEY", help="isolate-and-prove-dead, measure-only, ...")
    parser.add_argument("--person", required=True, metavar="CODE", help="who does the work")
    parser.add_argument("--second", metavar="CODE", help="the second person")
    parser.add_argument("--kit", required=True, nargs="+", action="extend", metavar="CODE", help="the pieces")
    parser.add_argument(
        "--with", dest="with_leads", type=pair, action="append", default=[], metavar="METER:LEADS",
        help="which loose leads belong to which instrument",
    )  # fmt: skip
    parser.add_argument("--until", type=day, metavar="DATE", help="last planned day; the same day if left out")
    parser.add_argument("--met", action="store_true", help="spell out what was met as well")
    add_picture(parser, "the headroom picture")


def run(args: argparse.Namespace) -> int:
    """Decide and show; 0 may be issued, 3 refused."""
    seen = args.certificate_seen
    checks = None if args.checks is None else Path(args.checks)
    opened = open_register(Path(args.sheet), Path(args.depot), checks, seen, args.on, args.encoding)
    question = KitQuestion(
        system=args.system, circuits=tuple(args.circuit), task=args.task, person=args.person, second=args.second,
        kit=tuple(args.kit), on=args.on, until=args.until or args.on, with_leads=tuple(args.with_leads),
    )  # fmt: skip
    answer = check_kit(opened.register, question)
    write_headroom(args.picture, answer)
    if is_quiet(args):
        pass
    elif args.json:
        show_json(as_values(answer))
    else:
        show(build(answer, unfolded=args.met))
    return DONE if answer.verdict.may_be_issued else REFUSED
