"""demo: the main job on the invented depot, each command shown as it would be typed."""

from __future__ import annotations

import argparse
import contextlib
import io
import shlex
import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from app.cli.arguments import DONE, FAULT, REFUSED, module_of, parsed
from app.cli.demo_register import build, is_demo
from app.cli.output import show_json, show_lines
from app.compose import demo_folder, read_text
from app.decision.domain.errors import BadInput
from app.words.saying import say

HELP = "build the invented depot's register with two years of entries, and run the main job on it"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What demo takes."""
    parser.add_argument("--no-window", action="store_true", help="do not open the window on it")
    parser.add_argument(
        "--into", metavar="FOLDER", default="demo_out", help="where register and pictures go; demo_out if left out"
    )


def to_show(argv: Sequence[str]) -> Path | None:
    """The register the window is to be opened on once `demo` has run; None where somebody stays on the command line."""
    args = parsed("demo", argv)
    return None if args.no_window or args.json else Path(args.into) / "demo.cuffdate"


def run(args: argparse.Namespace) -> int:
    """Build, then run every step; 0 if each came to a decision, 1 if one did not."""
    folder, store = demo_folder(), Path(args.into) / "demo.cuffdate"
    if store.exists() and not is_demo(store):
        raise BadInput("demo.not-ours", file=str(store), thing=str(store))
    lines = build(folder, store)
    if not args.json:
        show_lines([say("demo.built", {"file": str(store), "lines": lines})])
    steps = tomllib.loads(read_text(folder / "demo.toml"))["steps"]
    names = {"store": str(store), "into": args.into}
    results = [_step(step, names, is_quiet=args.json) for step in steps]
    written = sorted(name for result in results for name in _pictures(result["command"]))
    if args.json:
        show_json({"store": str(store), "lines": lines, "steps": results, "pictures": written})
    else:
        show_lines(["", *(say("demo.wrote", {"file": name}) for name in (str(store), *written))])
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
    args = parsed(argv[0], argv[1:])
    with contextlib.redirect_stdout(io.StringIO()) if is_quiet else contextlib.nullcontext():
        status = module_of(argv[0]).run(args)
    return {"command": argv, "status": status}
