"""rules: the site's own rules, shown or set; the figures behind every decision, and which were seen in print."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

from app.cli.arguments import DONE, day
from app.cli.keys import table_of
from app.cli.output import show, show_json
from app.cli.register_arguments import add_store, desk_of, show_saved
from app.decision.domain.errors import BadInput
from app.outputs.documents import figures as figures_document
from app.outputs.documents import site_rules as rules_document
from app.outputs.paper.csv_table import render
from app.usecases.confirm_figures import confirm_figures, figures_now, withdraw_confirmations
from app.usecases.set_rule import rules_now, set_rule

if TYPE_CHECKING:
    from app.decision.judging.answers import Saved
    from app.usecases.desk import Desk

# What each act takes besides --store and --json; anything else given is named and not silently left aside.
_TAKES: dict[str, frozenset[str]] = {
    "show": frozenset(),
    "set": frozenset({"keys", "by", "approved_by", "reason"}),
    "figures": frozenset({"sets", "unseen", "format"}),
    "confirm": frozenset({"keys", "by", "document", "on"}),
    "unconfirm": frozenset({"keys", "by", "reason"}),
}
_OPTIONS = ("by", "approved_by", "reason", "document", "on", "sets", "unseen", "format")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What rules takes."""
    add_store(parser, is_act=False)
    parser.add_argument("act", choices=tuple(_TAKES))
    parser.add_argument(
        "keys", nargs="*", metavar="KEY=VALUE|FIGURE",
    )  # fmt: skip
    parser.add_argument("--by", metavar="CODE")
    parser.add_argument("--approved-by", metavar="CODE")
    parser.add_argument("--reason", metavar="WORDS")
    parser.add_argument("--document", metavar="WORDS")
    parser.add_argument("--on", type=day, metavar="DATE")
    parser.add_argument(
        "--set", dest="sets", nargs="+", action="extend", metavar="KEY",
    )  # fmt: skip
    parser.add_argument("--unseen", action="store_true", default=None)
    parser.add_argument("--format", choices=("text", "csv", "json"))


def run(args: argparse.Namespace) -> int:
    """Show, list or enter; 0."""
    for name in _OPTIONS:
        if getattr(args, name) is not None and name not in _TAKES[args.act]:
            option = "--set" if name == "sets" else f"--{name.replace('_', '-')}"
            raise BadInput("rules.option-elsewhere", thing=option, act=args.act)
    if args.keys and "keys" not in _TAKES[args.act]:
        raise BadInput("rules.option-elsewhere", thing=args.keys[0], act=args.act)
    if args.act == "show":
        _show(args)
    elif args.act == "figures":
        _figures(args)
    else:
        _enter(args)
    return DONE


def _show(args: argparse.Namespace) -> None:
    with desk_of(args) as desk:
        now = rules_now(desk)
    if args.json:
        show_json(rules_document.as_values(now.kept))
    else:
        show(rules_document.build(now.kept, now.rule_sets, now.confirmed, now.waiting))


def _figures(args: argparse.Namespace) -> None:
    with desk_of(args) as desk:
        figures, confirmed, titles = figures_now(desk, args.sets or (), unseen=bool(args.unseen))
    if args.json or args.format == "json":
        show_json(figures_document.as_values(figures, confirmed))
        return
    document = figures_document.build(figures, confirmed, titles, unseen=bool(args.unseen))
    if args.format == "csv":
        sys.stdout.write(render(document))
    else:
        show(document)


def _enter(args: argparse.Namespace) -> None:
    if args.by is None:
        raise BadInput("rules.by-missing", thing=f"rules {args.act}")
    if args.act == "set" and not args.keys:
        raise BadInput("rules.nothing-to-set", thing="rules set")
    with desk_of(args, may_make=args.act == "set") as desk:
        show_saved(args, _saved(args, desk))


def _saved(args: argparse.Namespace, desk: Desk) -> Saved:
    if args.act == "confirm":
        return confirm_figures(desk, args.by, args.keys, args.document, args.on)
    if args.act == "unconfirm":
        return withdraw_confirmations(desk, args.by, args.keys, args.reason)
    rules = {key: None if value == "shipped" else value for key, value in table_of(args.keys).items()}
    return set_rule(desk, args.by, rules, args.approved_by, args.reason)
