"""demo: the main job on the invented depot, each command shown as it would be typed."""

from __future__ import annotations

import argparse
import contextlib
import io
import shlex
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from app.cli import check
from app.cli.arguments import DONE, FAULT, REFUSED, command_of, parsed
from app.cli.demo_register import build, is_demo
from app.cli.output import show_json, show_lines
from app.compose import demo_folder, open_desk, read_text
from app.decision.domain.errors import BadInput
from app.decision.judging.answers import DueQuestion
from app.outputs.documents.decision import said
from app.usecases.list_shelf import list_shelf
from app.words.saying import listed, say

MOST = 3


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What demo takes."""
    parser.add_argument("--no-window", action="store_true")
    parser.add_argument("--into", metavar="FOLDER", default="demo_out")
    parser.add_argument("--full", action="store_true")


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
    names = {"store": str(store), "into": args.into}
    steps = [
        (step["heading"], [word.format(**names) for word in step["command"]])
        for step in tomllib.loads(read_text(folder / "demo.toml"))["steps"]
    ]
    written = sorted(word for _, argv in steps for word in argv if Path(word).suffix in (".svg", ".png"))
    if not args.json:
        show_lines([say("demo.built", {"file": str(store), "count": lines})])
    results = [_shown(heading, argv) if args.full else _quietly(argv) for heading, argv in steps]
    if args.json:
        told = [{"command": argv, "status": status} for (_, argv), status in zip(steps, results, strict=True)]
        show_json({"store": str(store), "lines": lines, "steps": told, "pictures": written})
        return _status(results)
    if not args.full:
        for heading, argv in steps[:2]:
            show_lines(["", say(heading, {}), *_in_short(argv)])
        show_lines(["", *_overdue(store)])
    show_lines([say("demo.files", {"file": str(store), "count": len(written), "folder": args.into})])
    show_lines(["", say("demo.next", {})])
    nexts = ("kit", "history", "full", "window")
    show_lines(f"  {say(f'demo.next-{name}', {'file': str(store), 'folder': args.into})}" for name in nexts)
    show_lines(["", say("caution.demo", {})])
    return _status(results)


def _status(results: Iterable[int]) -> int:
    return DONE if all(status in (DONE, REFUSED) for status in results) else FAULT


def _shown(heading: str, argv: list[str]) -> int:
    title = say(heading, {})
    show_lines(["", "=" * len(title), title, "=" * len(title)])
    show_lines([say("demo.runs", {"command": shlex.join(argv)}), ""])
    return int(command_of(argv[0]).run(parsed(argv[0], argv[1:])))


def _quietly(argv: list[str]) -> int:
    with contextlib.redirect_stdout(io.StringIO()):
        return int(command_of(argv[0]).run(parsed(argv[0], argv[1:])))


def _in_short(argv: list[str]) -> Iterator[str]:
    """A decision in a few lines: the word, for which days or why not, what to change."""
    answer, _ = check.answered(parsed(argv[0], argv[1:]))
    told = said(answer)
    yield f"  {told.title}"
    yield from (f"  - {line}" for line in (*told.validity, *told.stops))
    yield from (f"  {number}. {line}" for number, line in enumerate(told.changes, start=1))


def _overdue(store: Path) -> Iterator[str]:
    desk, _ = open_desk(store)
    try:
        answer = list_shelf(desk, DueQuestion(desk.today()))
    finally:
        desk.store.close()
    overdue = [row.status for row in answer.rows if row.status.state == "overdue"]
    first = listed(
        say("demo.overdue-one", {"piece": status.piece.code, "due_on": status.due_on}) for status in overdue[:MOST]
    )  # fmt: skip
    yield say("demo.overdue", {"count": len(overdue), "first": first})
