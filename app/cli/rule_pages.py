"""rule-pages: the pages about rule sets and rules, written from the declarations, all of them or none."""

from __future__ import annotations

import argparse
import shutil
import sys
import tempfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.arguments import DONE
from app.cli.output import show_json, show_lines
from app.compose import read_text
from app.decision.domain.errors import BadInput, ProgramFault
from app.words.saying import say

if TYPE_CHECKING:
    from app.decision.domain.rule import Rule
    from app.outputs.documents.rule_page import Cases
    from app.outputs.documents.rule_says import Source

HELP = "write a page for every rule set and every rule, from the declarations"
# The marker stands in the first line; more than this of a stranger's file need not be read.
_HEAD_BYTES = 400


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What rule-pages takes."""
    parser.add_argument("--into", metavar="FOLDER", required=True, help="where the pages go; made where it is missing")
    parser.add_argument("--cases", metavar="FOLDER", help="the worked cases, to name those that exercise a rule")


def run(args: argparse.Namespace) -> int:
    """Write the pages; 0."""
    from app.decision.judging.catalogues import catalogues
    from app.outputs.documents.rule_pages import build

    known = catalogues()
    cases = None if args.cases is None else cases_in(Path(args.cases))
    pages = build(known, sources(known.rules), cases)
    gone = put(Path(args.into), pages)
    if args.json:
        show_json({"folder": args.into, "written": sorted(pages), "removed": gone})
        return DONE
    show_lines([say("pages.written", {"count": len(pages), "folder": args.into})])
    if gone:
        show_lines([say("pages.removed", {"names": ", ".join(gone)})])
    return DONE


def sources(rules: Mapping[str, Rule]) -> dict[str, Source]:
    """The source text of every rule, with that of what runs them and of what they hand on."""
    from app.decision.judging import judge
    from app.outputs.documents.rule_page import rule_module
    from app.outputs.documents.rule_says import HANDED_ON, Source

    running = read_text(_file_of(judge.__name__))
    return {
        key: Source(
            read_text(_file_of(rule_module(rule))), running,
            read_text(_file_of(HANDED_ON[key])) if key in HANDED_ON else "",
        )
        for key, rule in rules.items()
    }  # fmt: skip


def _file_of(module: str) -> Path:
    file = sys.modules[module].__file__
    if file is None:
        raise ProgramFault("pages.no-docstring", thing=module)
    return Path(file)


def cases_in(folder: Path) -> Cases:
    """The worked cases of a folder: file -> rule -> ids of the cases that expect an answer of it."""
    from app.decision.domain.case.case import read_cases

    found: dict[str, dict[str, tuple[str, ...]]] = {}
    for file in sorted(folder.glob("*.toml")):
        by_rule = found.setdefault(file.name, {})
        for case in read_cases(read_text(file), str(file)):
            for rule in dict.fromkeys(one.rule for one in case.expected):
                by_rule[rule] = (*by_rule.get(rule, ()), case.id)
    if not found:
        raise BadInput("pages.no-cases", file=str(folder), thing=str(folder))
    return found


def put(folder: Path, pages: Mapping[str, str]) -> list[str]:
    """Write the pages into a folder beside and put that in its place; answer the names of pages that went.

    What else stands in the folder stays. BadInput, and nothing written, for a file of somebody else's under a page's
    name and for a folder that cannot be written.
    """
    target = folder.resolve()
    if target.exists() and not target.is_dir():
        raise BadInput("pages.not-a-folder", file=str(folder), thing=str(folder))
    try:
        there = sorted(target.iterdir()) if target.exists() else []
        ours = {one.name for one in there if _is_ours(one)}
        for one in there:
            if one.name in pages and one.name not in ours:
                raise BadInput("pages.not-ours", file=str(one), thing=one.name)
        target.parent.mkdir(parents=True, exist_ok=True)
        _swap(target, pages, [one for one in there if one.name not in ours])
    except OSError as fault:
        reason = str(fault.strerror or fault)
        raise BadInput("pages.not-written", file=str(folder), thing=str(folder), reason=reason) from fault
    return sorted(ours - set(pages))


def _is_ours(file: Path) -> bool:
    if not file.is_file():
        return False
    with file.open("rb") as handle:
        first = handle.read(_HEAD_BYTES).partition(b"\n")[0]
    return say("pages.marker", {}).encode() in first


def _swap(target: Path, pages: Mapping[str, str], others: Iterable[Path]) -> None:
    """Everything is ready in a folder beside before the one that stands is moved aside; moved back if that fails."""
    beside = Path(tempfile.mkdtemp(prefix=f".{target.name}.", dir=target.parent))
    new, old = beside / "new", beside / "old"
    try:
        new.mkdir()
        for name, text in pages.items():
            (new / name).write_text(text, encoding="utf-8", newline="\n")
        for one in others:
            _copy(one, new / one.name)
        if target.exists():
            shutil.copymode(target, new)
            target.rename(old)
        try:
            new.rename(target)
        except OSError:
            if old.exists():
                old.rename(target)
            raise
    finally:
        # Were the old pages not moved back, the only copy of them would stand beside.
        if target.exists() or not old.exists():
            shutil.rmtree(beside, ignore_errors=True)


def _copy(one: Path, to: Path) -> None:
    if one.is_dir() and not one.is_symlink():
        shutil.copytree(one, to, symlinks=True)
    else:
        shutil.copy2(one, to, follow_symlinks=False)
