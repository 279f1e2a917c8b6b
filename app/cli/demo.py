"""demo: the main job on the invented depot, each command shown as it would be typed."""

from __future__ import annotations

import argparse
import shlex
import tomllib
from pathlib import Path
from typing import Any

from app.cli import check, due
from app.cli.arguments import DONE, FAULT, REFUSED, Parser
from app.cli.output import show_json, show_lines
from app.compose import demo_folder, read_text
from app.words.saying import say

HELP = "run the main job on the invented depot's data"
_COMMANDS = {"check": check, "due": due}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What demo takes."""
    parser.add_argument("--no-window", action="store_true", help="stay on the command line (all there is so far)")
    parser.add_argument("--into", metavar="FOLDER", default="demo_out", help="where pictures go; demo_out if left out")


def run(args: argparse.Namespace) -> int:
    """Run every step; 0 if each came to a decision, 1 if one did not."""
    folder = demo_folder()
    steps = tomllib.loads(read_text(folder / "demo.toml"))["steps"]
    names = {
        "sheet": str(folder / "shelf.xlsx"), "depot": str(folder / "depot.toml"),
        "checks": str(folder / "checks.toml"), "into": args.into,
    }  # fmt: skip
    results = [_step(step, names, is_quiet=args.json) for step in steps]
    written = sorted(name for result in results for name in _pictures(result["command"]))
    if args.json:
        show_json({"steps": results, "pictures": written})
    else:
        show_lines([say("demo.wrote", {"file": name}) for name in written])
        show_lines(["", say("caution.demo", {})])
    return DONE if all(result["status"] in (DONE, REFUSED) for result in results) else FAULT


def _pictures(argv: list[str]) -> list[str]:
    """What a step wrote; other pictures in that folder are somebody else's."""
    return [word for word in argv if Path(word).suffix in (".svg", ".png")]


def _step(step: dict[str, Any], names: dict[str, str], *, is_quiet: bool) -> dict[str, Any]:
    argv = [word.format(**names) for word in step["command"]]
    if not is_quiet:
        heading = say(step["heading"], {})
        show_lines(["", "=" * len(heading), heading, "=" * len(heading)])
        show_lines([say("demo.runs", {"command": shlex.join(argv)}), ""])
    module = _COMMANDS[argv[0]]
    parser = Parser(prog=f"cuffdate {argv[0]}")
    parser.add_argument("--json", action="store_true")
    module.add_arguments(parser)
    parsed = parser.parse_args(argv[1:])
    parsed.is_quiet = is_quiet
    return {"command": argv, "status": module.run(parsed)}
