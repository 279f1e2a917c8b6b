"""Arguments shared by commands, and a parser whose complaints are sentences like any other."""

from __future__ import annotations

import argparse
import importlib
from collections.abc import Sequence
from datetime import date
from types import ModuleType
from typing import NoReturn

from app.decision.domain.case.reading import Unreadable, exact_day
from app.decision.domain.errors import BadInput
from app.decision.judging.answers import KitQuestion

DONE, FAULT, WRONG_INPUT, REFUSED = 0, 1, 2, 3


class Parser(argparse.ArgumentParser):
    """argparse, except that a wrong argument is BadInput and not an exit in the middle.

    `command`: the one whose words its help lists.
    """

    command = ""

    def format_help(self) -> str:
        """The help with the words the command takes."""
        from app.cli.allowed import words_of

        return super().format_help() + words_of(self.command)

    def error(self, message: str) -> NoReturn:
        """Turn argparse's complaint into ours."""
        raise BadInput("arguments", thing=message)


def day(written: str) -> date:
    """A day as typed: 2026-03-01."""
    try:
        return exact_day(written)
    except Unreadable as fault:
        raise argparse.ArgumentTypeError(f"{written} is no day; write it as 2026-03-01") from fault


def pair(written: str) -> tuple[str, str]:
    """METER:LEADS."""
    meter, mark, leads = written.partition(":")
    if not (meter and mark and leads):
        raise BadInput("job.with-form", thing=written)
    return meter, leads


def whole_days(written: str) -> int:
    """A number of days, zero or more."""
    if not written.isdigit() or len(written) > 5:
        raise argparse.ArgumentTypeError(f"{written} is no number of days")
    return int(written)


def add_register(parser: argparse.ArgumentParser) -> None:
    """Where the kit is known from: a register, or the files one is put together from."""
    parser.add_argument("--store", metavar="FILE", help="the register; or else, without one:")
    parser.add_argument("--sheet", metavar="FILE", help="the crib's register sheet, CSV or XLSX")
    parser.add_argument("--depot", metavar="FILE", help="people, systems and site rules, TOML")
    parser.add_argument("--checks", metavar="FILE", help="the day's checks, TOML")
    parser.add_argument(
        "--certificate-seen", nargs="+", default=[], action="extend", metavar="CODE",
        help="pieces whose test certificate somebody has seen",
    )  # fmt: skip
    parser.add_argument("--encoding", metavar="NAME", help="encoding of a CSV that is not UTF-8, for example cp1252")
    parser.add_argument("--on", type=day, metavar="DATE", help="the day, as 2026-03-01; with --store today if left out")


def check_sources(args: argparse.Namespace, *, depot_needed: bool) -> None:
    """BadInput where register and files are mixed, or what the files need is missing."""
    of_files = [name for name in ("sheet", "depot", "checks", "encoding", "certificate_seen") if getattr(args, name)]
    if args.store is not None:
        if of_files:
            raise BadInput("arguments.mixed", thing=f"--{of_files[0].replace('_', '-')}")
        return
    needed = ("sheet", "depot", "on") if depot_needed else ("sheet", "on")
    missing = [f"--{name}" for name in needed if getattr(args, name) is None]
    if missing:
        raise BadInput("arguments.missing", thing=", ".join(missing))


def add_folds(parser: argparse.ArgumentParser) -> None:
    """What of a decision is told in one line unless it is asked for."""
    parser.add_argument("--met", action="store_true", help="list the requirements that are met as well")
    parser.add_argument("--sources", action="store_true", help="list the sources behind the decision")


def add_kit(parser: argparse.ArgumentParser) -> None:
    """Who, what for, with which kit."""
    parser.add_argument("--system", required=True, metavar="CODE", help="the system to be worked on")
    parser.add_argument(
        "--circuit", nargs="+", default=[], action="extend", metavar="KEY",
        help="circuits to be touched; all of the system if left out",
    )  # fmt: skip
    parser.add_argument("--task", required=True, metavar="KEY", help="what is to be done; the tasks are listed below")
    parser.add_argument("--person", required=True, metavar="CODE", help="who does the work")
    parser.add_argument("--second", metavar="CODE", help="the second person")
    parser.add_argument("--kit", nargs="*", default=[], action="extend", metavar="CODE", help="the pieces")
    parser.add_argument(
        "--with", dest="with_leads", type=pair, action="append", default=[], metavar="METER:LEADS",
        help="which loose leads belong to which instrument",
    )  # fmt: skip


def question_of(args: argparse.Namespace) -> KitQuestion:
    """What is asked, as typed."""
    return KitQuestion(
        system=args.system, circuits=tuple(args.circuit), task=args.task, person=args.person, second=args.second,
        kit=tuple(args.kit), on=args.on, until=args.until or args.on, with_leads=tuple(args.with_leads),
    )  # fmt: skip


def module_of(name: str) -> ModuleType:
    """The module of one command; only the one that is asked for is loaded, start-up is part of what people wait for."""
    # A file cannot be called return, which is a word of the language.
    file = "return_pieces" if name == "return" else name.replace("-", "_")
    return importlib.import_module(f"app.cli.{file}")


def parsed(name: str, argv: Sequence[str]) -> argparse.Namespace:
    """The arguments of one command, options and positions in any order."""
    module = module_of(name)
    parser = Parser(prog=f"cuffdate {name}", description=module.HELP, allow_abbrev=False)
    parser.command = name
    parser.add_argument("--json", action="store_true", help="answer as JSON")
    module.add_arguments(parser)
    return parser.parse_intermixed_args(argv)
