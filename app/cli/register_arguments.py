"""Arguments of the commands that work on a register."""

from __future__ import annotations

import argparse
import shlex
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.output import show_json, show_lines
from app.compose import open_desk, unmake
from app.decision.domain.errors import BadInput
from app.words.saying import listed, say

if TYPE_CHECKING:
    from app.decision.judging.answers import Saved
    from app.usecases.desk import Desk


def add_store(parser: argparse.ArgumentParser, *, is_act: bool = True) -> None:
    """--store, and for acts --by."""
    parser.add_argument("--store", required=True, metavar="FILE")
    if is_act:
        parser.add_argument("--by", required=True, metavar="CODE")


@contextmanager
def desk_of(args: argparse.Namespace, *, may_make: bool = False) -> Iterator[Desk]:
    """The desk of --store, closed again whatever happens; or one somebody else holds open, which is left so."""
    held: Desk | None = getattr(args, "desk", None)
    if held is not None:
        yield held
        return
    is_new = may_make and not Path(args.store).exists()
    desk, told = open_desk(Path(args.store), may_make=may_make)
    try:
        yield desk
        # Of a register that will not be kept nothing is told.
        if not args.json and (not is_new or desk.anchors()):
            show_lines(told)
    finally:
        # Where what was to be its first entry came to nothing, no empty register is left behind.
        is_left_empty = is_new and not desk.anchors()
        desk.store.close()
        if is_left_empty:
            unmake(Path(args.store))


def show_anchors(anchors: dict[str, str]) -> None:
    """What a print carries so that a register cut short later can be noticed."""
    show_lines(["", say("entry.anchor", {"anchor": listed(f"{book} {anchor}" for book, anchor in anchors.items())})])


def show_saved(args: argparse.Namespace, saved: Saved) -> None:
    """What an act wrote."""
    from app.outputs.documents.saved import as_values, lines

    if args.json:
        show_json(as_values(saved))
        return
    show_lines(lines(saved))
    piece_entries = [entry for entry in saved.entries if entry.book != "site"]
    if piece_entries:
        entry = str(piece_entries[0]) if len(piece_entries) == 1 else "ENTRY"
        show_lines([correction_line(args, entry)])


def correction_line(args: argparse.Namespace, entry: str) -> str:
    """How an entry is put right, as it can be typed."""
    words = shlex.join(["correct", entry, "--store", args.store, "--by", args.by])
    return say("saved.correct", {"words": words})


def defects_of(written: Iterable[str]) -> dict[str, tuple[str, ...]]:
    """CODE:DEFECT as code -> defects."""
    by_code: dict[str, tuple[str, ...]] = {}
    for part in written:
        code, mark, word = part.rpartition(":")
        if not mark or not code or not word:
            raise BadInput("return.defect-form", thing=part)
        by_code[code] = (*by_code.get(code, ()), word)
    return by_code
