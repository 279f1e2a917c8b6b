"""Arguments shared by commands, and a parser whose complaints are sentences like any other."""

from __future__ import annotations

import argparse
import importlib
from collections.abc import Sequence
from datetime import date
from typing import NoReturn, Protocol, cast

from app.cli.parser_words import name_blanks, speak
from app.decision.domain.errors import BadInput
from app.decision.fields.reading import Unreadable, exact_day
from app.decision.judging.answers import KitQuestion
from app.words.saying import listed, say

DONE, FAULT, WRONG_INPUT, REFUSED = 0, 1, 2, 3


class Command(Protocol):
    """What a command is: the arguments it takes, and what it does with them, ending in an exit status."""

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Tell the parser what this command takes."""

    def run(self, args: argparse.Namespace) -> int:
        """Do it and print; the exit status."""


class Parser(argparse.ArgumentParser):
    """argparse, except that a wrong argument is BadInput and not an exit in the middle.

    `command`: the one whose texts and words its help shows.
    """

    command = ""

    def format_help(self) -> str:
        """The help as the catalogue has it, with the words the command takes."""
        from app.cli.allowed import words_of
        from app.cli.help_texts import about, option

        self.description = about(self.command)
        self._positionals.title, self._optionals.title = say("help.words", {}), say("help.options", {})
        for action in self._actions:
            # A % in a text would be one of argparse's own blanks.
            action.help = option(self.command, action.dest).replace("%", "%%")
        return super().format_help() + words_of(self.command)

    def error(self, message: str) -> NoReturn:
        """Turn argparse's complaint into ours."""
        raise BadInput("arguments", thing=message)


def day(written: str) -> date:
    """A day as typed: 2026-03-01."""
    try:
        return exact_day(written)
    except Unreadable as fault:
        raise argparse.ArgumentTypeError(say("parser.not-a-day", {"thing": written})) from fault


def pair(written: str) -> tuple[str, str]:
    """METER:LEADS."""
    meter, mark, leads = written.partition(":")
    if not (meter and mark and leads):
        raise BadInput("job.with-form", thing=written)
    return meter, leads


def whole_days(written: str) -> int:
    """A number of days, zero or more."""
    if not written.isdigit() or len(written) > 5:
        raise argparse.ArgumentTypeError(say("parser.not-days", {"thing": written}))
    return int(written)


def add_register(parser: argparse.ArgumentParser) -> None:
    """Where the kit is known from: a register, or the files one is put together from."""
    parser.add_argument("--store", metavar="FILE")
    parser.add_argument("--sheet", metavar="FILE")
    parser.add_argument("--depot", metavar="FILE")
    parser.add_argument("--checks", metavar="FILE")
    parser.add_argument(
        "--certificate-seen", nargs="+", default=[], action="extend", metavar="CODE",
    )  # fmt: skip
    parser.add_argument("--encoding", metavar="NAME")
    parser.add_argument("--on", type=day, metavar="DATE")


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
        raise BadInput("arguments.missing", thing=listed(missing))


def add_folds(parser: argparse.ArgumentParser) -> None:
    """What of a decision is told in one line unless it is asked for."""
    parser.add_argument("--met", action="store_true")
    parser.add_argument("--sources", action="store_true")


def add_kit(parser: argparse.ArgumentParser) -> None:
    """Who, what for, with which kit."""
    parser.add_argument("--system", required=True, metavar="CODE")
    parser.add_argument(
        "--circuit", nargs="+", default=[], action="extend", metavar="KEY",
    )  # fmt: skip
    parser.add_argument("--task", required=True, metavar="KEY")
    parser.add_argument("--person", required=True, metavar="CODE")
    parser.add_argument("--second", metavar="CODE")
    parser.add_argument("--kit", nargs="*", default=[], action="extend", metavar="CODE")
    parser.add_argument(
        "--with", dest="with_leads", type=pair, action="append", default=[], metavar="METER:LEADS",
    )  # fmt: skip


def question_of(args: argparse.Namespace) -> KitQuestion:
    """What is asked, as typed."""
    return KitQuestion(
        system=args.system, circuits=tuple(args.circuit), task=args.task, person=args.person, second=args.second,
        kit=tuple(args.kit), on=args.on, until=args.until or args.on, with_leads=tuple(args.with_leads),
    )  # fmt: skip


# Commands with a file of their own; the others are declared in app/cli/acts.py.
OWN_FILE = frozenset(
    {
        "check", "issue", "due", "show", "history", "log", "recall", "add", "load", "rules", "verify", "judge",
        "calculate", "demo", "self-check",
    }
)  # fmt: skip


def command_of(name: str) -> Command:
    """One command; only the one that is asked for is loaded, start-up is part of what people wait for."""
    if name in OWN_FILE:
        return cast("Command", importlib.import_module(f"app.cli.{name.replace('-', '_')}"))
    from app.cli.acts import ACTS

    return ACTS[name]


def parsed(name: str, argv: Sequence[str]) -> argparse.Namespace:
    """The arguments of one command, options and positions in any order."""
    speak()
    parser = Parser(prog=f"cuffdate {name}", allow_abbrev=False)
    parser.command = name
    parser.add_argument("--json", action="store_true")
    command_of(name).add_arguments(parser)
    name_blanks(parser)
    return parser.parse_intermixed_args(argv)
