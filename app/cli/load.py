"""load: a crib's sheet, a depot file or a day's checks into the register."""

from __future__ import annotations

import argparse
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from app.cli.arguments import DONE, REFUSED
from app.cli.output import show_json, show_lines
from app.cli.register_arguments import add_store, desk_of
from app.compose import BadRow, read_rows, read_text, row_words, this_day, write_left_out
from app.intake.depot_file import read_checks, read_depot
from app.intake.register_sheet import SheetRow
from app.outputs.documents.saved import told
from app.usecases.load_register import load_checks, load_depot, load_sheet, taken
from app.words.saying import say


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What load takes."""
    add_store(parser)
    parser.add_argument("sheet", metavar="SHEET")
    parser.add_argument("--dry-run", action="store_true")
    parser.add_argument(
        "--leave-out-bad-rows", action="store_true",
    )  # fmt: skip
    parser.add_argument("--encoding", metavar="NAME")


def run(args: argparse.Namespace) -> int:
    """Load; 0 everything, 3 where rows are bad (nothing is loaded then unless they are left out)."""
    path = Path(args.sheet)
    return _load_toml(args, path) if path.suffix.lower() == ".toml" else _load_sheet(args, path)


def _load_sheet(args: argparse.Namespace, path: Path) -> int:
    if args.dry_run and not Path(args.store).exists():
        return _look(args, path)
    with desk_of(args, may_make=True) as desk:
        sheet = read_rows(path, desk.today(), args.encoding)
        there = taken(desk, sheet.good)
        bad = [*sheet.bad, *(_taken(row, there[row.piece.code]) for row in sheet.good if row.piece.code in there)]
        rows = [row for row in sheet.good if row.piece.code not in there]
        sentences = [
            say("load.read", {"count": len(rows), "bad": len(bad)}),
            *sheet.headings,
            *(row.says for row in bad),
        ]
        answer: dict[str, Any] = {"good": len(rows), "bad": [row.values() for row in bad], "left_out": []}
        if args.dry_run or (bad and not args.leave_out_bad_rows):
            sentences.append(say("load.dry" if args.dry_run else "load.nothing", {}))
            return _answer(args, sentences, {**answer, "loaded": 0}, bad)
        saved = load_sheet(desk, args.by, rows) if rows else None
        count = 0 if saved is None else len(saved.entries)
        records = sum(len(row.piece.records) for row in rows)
        sentences.append(say("load.loaded", {"count": len(rows), "records": records}))
    if bad:
        answer["left_out"] = [str(file) for file in write_left_out(path, bad, args.encoding)]
        sentences += [say("load.bad-written", {"file": file}) for file in answer["left_out"]]
    return _answer(args, sentences, {**answer, "loaded": len(rows), "lines": count}, bad)


def _look(args: argparse.Namespace, path: Path) -> int:
    """What a sheet would give a register that is yet to be made."""
    sheet = read_rows(path, this_day(), args.encoding)
    counted = say("load.read", {"count": len(sheet.good), "bad": len(sheet.bad)})
    sentences = [counted, *sheet.headings, *(row.says for row in sheet.bad), say("load.dry", {})]
    values = {"good": len(sheet.good), "bad": [row.values() for row in sheet.bad], "left_out": [], "loaded": 0}
    return _answer(args, sentences, values, list(sheet.bad))


def _taken(row: SheetRow, other: str) -> BadRow:
    code = row.piece.code
    values = {"place": row_words(row.place.sheet, row.place.row), "thing": code, "other": other}
    return BadRow(row.place.sheet, row.place.row, code, say("load.taken", values))


def _answer(args: argparse.Namespace, sentences: list[str], values: dict[str, Any], bad: list[BadRow]) -> int:
    if args.json:
        show_json(values)
    else:
        show_lines(sentences)
    return REFUSED if bad else DONE


def _load_toml(args: argparse.Namespace, path: Path) -> int:
    written = read_text(path)
    is_checks = "[[records]]" in written
    checks = read_checks(written, str(path)) if is_checks else ()
    depot = None if is_checks else read_depot(written, str(path))
    document: Mapping[str, object] = tomllib.loads(written)
    if depot is None:
        sentence = say("load.checks", {"count": len(checks)})
        values = {"records": len(checks)}
    else:
        counted = {"people": len(depot.people), "systems": len(depot.systems)}
        rules = len([key for key in as_site(document) if key not in ("approvals", "demo_day")])
        sentence, values = say("load.depot", {**counted, "rules": rules}), {**counted, "rules": rules}
    if args.dry_run:
        return _answer(args, [sentence, say("load.dry", {})], values, [])
    with desk_of(args, may_make=depot is not None) as desk:
        saved = load_checks(desk, args.by, checks) if depot is None else load_depot(desk, args.by, document, str(path))
    return _answer(args, [sentence, *(told(note) for note in saved.told)], values, [])


def as_site(document: Mapping[str, object]) -> Mapping[str, object]:
    """The site's table, empty where there is none."""
    site = document.get("site", {})
    return site if isinstance(site, Mapping) else {}
