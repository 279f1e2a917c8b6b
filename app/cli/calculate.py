"""calculate: one figure of the trade, from the keys of a worked case. Nothing is decided by it."""

from __future__ import annotations

import argparse
from collections.abc import Mapping

from app.cli.arguments import DONE
from app.cli.keys import table_of
from app.cli.output import show_json, show_lines
from app.decision.domain.arc import ASSUMED_CLEARING_S
from app.decision.domain.errors import BadInput
from app.decision.judging.calculate import calculate
from app.decision.judging.calculation import Value
from app.decision.judging.catalogues import calculations
from app.words.saying import say
from app.words.vocabulary import EVERYTHING


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What calculate takes."""
    parser.add_argument("what", nargs="?", metavar="WHAT")
    parser.add_argument("keys", nargs="*", metavar="KEY=VALUE")


def run(args: argparse.Namespace) -> int:
    """Say the figure with what should be known beside it; 0."""
    if args.what is None:
        known = calculations()
        if args.json:
            show_json({name: sorted(calculation.takes) for name, calculation in known.items()})
        else:
            show_lines(
                say("calculate.takes", {"what": name, "keys": ", ".join(calculation.takes)})
                for name, calculation in known.items()
            )
        return DONE
    if "=" in args.what:
        raise BadInput("calculation.not-named", thing=args.what)
    table = table_of(args.keys)
    answer = calculate(args.what, table, args.what)
    told = [say(answer.caution, {})] if answer.caution else []
    if "method" in table:
        told.append(_of_an_arc(table))
    if args.json:
        show_json({"what": args.what, "value": answer.value, "unit": answer.unit, "told": told})
        return DONE
    value = _shown(answer.value)
    show_lines(
        [say("calculate.answer", {"what": args.what, "value": value, "unit": answer.unit or ""}).rstrip(), *told]
    )
    return DONE


def _of_an_arc(table: Mapping[str, object]) -> str:
    """Method, time and multiplier, the assumed ones called so."""
    if "enclosure_factor" in table:
        enclosure = say("calculate.multiplier", {"factor": table["enclosure_factor"]})
    else:
        box = table.get("enclosure", "open")
        enclosure = say("calculate.open-air" if box == "open" else "calculate.box", {"box": box})
    stated = "calculate.time-stated" if "clearing_s" in table else "calculate.time-assumed"
    clearing = table.get("clearing_s", ASSUMED_CLEARING_S)
    values = {"method": table["method"], "clearing_s": clearing, "stated": say(stated, {}), "enclosure": enclosure}
    return say("calculate.arc", values)


def _shown(value: Value) -> str:
    """As people read it: four figures where it was worked out, yes or no, a day."""
    if isinstance(value, bool):
        return EVERYTHING["answer"]["yes" if value else "no"]
    return f"{value:.4g}" if isinstance(value, float) and not value.is_integer() else str(value).removesuffix(".0")
