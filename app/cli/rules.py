"""rules: the site's own rules, shown or set."""

from __future__ import annotations

import argparse

from app.cli.arguments import DONE
from app.cli.output import show, show_json
from app.cli.register_arguments import add_store, desk_of, show_saved, table_of
from app.domain.errors import BadInput

HELP = "show the site's rules, or set them: tighter freely, looser with an approver and a reason"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What rules takes."""
    add_store(parser, is_act=False)
    parser.add_argument("act", choices=("show", "set"))
    parser.add_argument("keys", nargs="*", metavar="KEY=VALUE", help="margin_percent=12; KEY=shipped puts a rule back")
    parser.add_argument("--by", metavar="CODE", help="who sets them")
    parser.add_argument("--approved-by", metavar="CODE", help="who approves a looser rule")
    parser.add_argument("--reason", metavar="WORDS", help="why it may be looser")


def run(args: argparse.Namespace) -> int:
    """Show or set; 0."""
    from app.reports.site_rules import as_values, build
    from app.usecases.set_rule import rules_now, set_rule

    if args.act == "show":
        with desk_of(args) as desk:
            kept, rule_sets = rules_now(desk)
        if args.json:
            show_json(as_values(kept))
        else:
            show(build(kept, rule_sets))
        return DONE
    if args.by is None:
        raise BadInput("arguments", thing="--by is missing: who sets the rules?")
    if not args.keys:
        raise BadInput("rules.nothing-to-set", thing="rules set")
    rules = {key: None if value == "shipped" else value for key, value in table_of(args.keys).items()}
    with desk_of(args, may_make=True) as desk:
        show_saved(args, set_rule(desk, args.by, rules, args.approved_by, args.reason))
    return DONE
