"""The commands, found by name; one place turns an error into words and an exit status."""

from __future__ import annotations

import sys
import traceback
from collections.abc import Sequence

from app import __version__
from app.cli.arguments import FAULT, WRONG_INPUT, command_of, parsed
from app.cli.help_texts import about
from app.cli.output import complain, show_lines
from app.decision.domain import former
from app.decision.domain.errors import BadInput, ProgramFault, StoreTrouble
from app.words.saying import say

COMMANDS = (
    "check", "issue", "return", "due", "show", "history", "log", "confirm", "hold", "release", "repair", "withdraw",
    "hand-over", "reserve", "transfer", "taken-without-issue", "stocktake", "recall", "bag", "alias", "make-pair",
    "correct", "add", "load", "rules", "verify", "judge", "calculate", "demo", "self-check",
)  # fmt: skip


def run(argv: Sequence[str]) -> int:
    """Run a command line. 0 may be issued or done, 3 refused or expectation failed, 2 wrong input, 1 fault."""
    as_json = "--json" in argv
    try:
        return _run(argv)
    except BadInput as fault:
        complain(fault, as_json=as_json)
        return WRONG_INPUT
    except (ProgramFault, StoreTrouble) as fault:
        complain(fault, as_json=as_json)
        return FAULT
    except BrokenPipeError:
        # Whoever was reading has gone (for example "| head"); there is nobody to complain to.
        sys.stderr.close()
        return FAULT
    except Exception as fault:  # noqa: BLE001  # the outermost net: a fault of ours, said in words
        traceback.print_exc(file=sys.stderr)
        complain(ProgramFault("program.fault", thing=type(fault).__name__), as_json=as_json)
        return FAULT


def no_window() -> int:
    """Say that there is no screen to open a window on, and what can be done without one."""
    complain(StoreTrouble("window.no-screen"), as_json=False)
    return FAULT


def _run(argv: Sequence[str]) -> int:
    if not argv or argv[0] in ("-h", "--help"):
        _help()
        return 0 if argv else WRONG_INPUT
    if argv[0] == "--version":
        show_lines([f"Cuffdate {__version__}"])
        return 0
    name = former.COMMANDS.get(argv[0], argv[0])
    if name not in COMMANDS:
        raise BadInput("unknown.command", thing=name, known=COMMANDS)
    return int(command_of(name).run(parsed(name, argv[1:])))


def _help() -> None:
    show_lines([say("help.usage", {}), ""])
    show_lines(f"  {name:<20} {about(name)}" for name in COMMANDS)
    show_lines(["", say("help.more", {}), "", say("caution.check", {}), say("caution.defer", {})])
