"""Acts whose command is one use case: each declared as the words it takes, named as the use case names them."""

from __future__ import annotations

import argparse
import importlib
from collections.abc import Callable, Mapping
from typing import Any

from msgspec import Struct

from app.cli.arguments import DONE, day
from app.cli.keys import table_of
from app.cli.register_arguments import add_store, defects_of, desk_of, show_saved


def _as_typed(typed: object) -> object:
    return typed


class Given(Struct, frozen=True):
    """A word or option a command takes.

    `name`: the use case's argument. Its help text is "help/COMMAND/NAME", or "help/option/NAME" where it is shared.
    `settings`: as argparse takes them. `option`: how it is typed, "" for a word in its place.
    `reads`: what makes the use case's value of what was typed; None where the use case takes none of it.
    """

    name: str
    settings: Mapping[str, Any]
    option: str = ""
    reads: Callable[[Any], Any] | None = _as_typed


class Act(Struct, frozen=True):
    """A command that enters something: the use case of this name, called with what is given besides desk and keeper."""

    use_case: str
    given: tuple[Given, ...]

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """--store, --by and what this act takes."""
        add_store(parser)
        for given in self.given:
            if given.option:
                parser.add_argument(given.option, dest=given.name, **given.settings)
            else:
                parser.add_argument(given.name, **given.settings)

    def call(self) -> Callable[..., Any]:
        """The use case; loaded only where it is asked for, since start-up is part of what people wait for."""
        name = self.use_case
        return getattr(importlib.import_module(f"app.usecases.{name}"), name)  # type: ignore[no-any-return]

    def run(self, args: argparse.Namespace) -> int:
        """Enter it and show what was written; 0, or BadInput from the use case."""
        values = {given.name: given.reads(getattr(args, given.name)) for given in self.given if given.reads}
        with desk_of(args) as desk:
            show_saved(args, self.call()(desk, args.by, **values))
        return DONE


def _changes(pairs: list[str]) -> dict[str, object]:
    """KEY=VALUE pairs as what is to be put right; KEY=none takes a value out."""
    return {key: None if value == "none" else value for key, value in table_of(pairs).items()}


def _words(name: str, option: str, metavar: str = "CODE") -> Given:
    return Given(name, {"required": True, "metavar": metavar}, option)


def _day(name: str, option: str, *, is_required: bool = False) -> Given:
    return Given(name, {"type": day, "metavar": "DATE", "required": is_required}, option)


CODES = Given("codes", {"nargs": "+", "metavar": "CODE"})
PERSON = _words("person", "--person")
ACTS: dict[str, Act] = {
    "return": Act(
        "return_kit",
        (
            CODES,
            Given(
                "defects", {"action": "append", "default": [], "metavar": "CODE:DEFECT"}, "--defect", reads=defects_of
            ),
        ),
    ),
    "confirm": Act(
        "confirm_certificates", (Given("what", {"choices": ("certificate-seen",)}, reads=None), CODES)
    ),
    "hold": Act("hold_piece", (CODES, _words("why", "--why", "WORD"))),
    "release": Act("release_piece", (CODES,)),
    "repair": Act(
        "repair_piece",
        (
            Given("piece", {"metavar": "CODE"}),
            Given("table", {"nargs": "*", "metavar": "KEY=VALUE"}, reads=table_of),
        ),
    ),
    "withdraw": Act("withdraw_piece", (CODES, _words("reason", "--reason", "WORDS"))),
    "hand-over": Act("hand_over", (CODES, _words("to", "--to"))),
    "reserve": Act(
        "reserve_pieces", (CODES, PERSON, _day("on", "--from", is_required=True), _day("until", "--until"))
    ),
    "transfer": Act("transfer_pieces", (CODES, _words("crib", "--to", "CRIB"))),
    "taken-without-issue": Act("enter_taken", (CODES, PERSON, _day("on", "--on"))),
    "stocktake": Act(
        "take_stock",
        (
            CODES,
            Given("crib", {"default": "", "metavar": "NAME"}, "--crib"),
            Given("mark_lost", {"action": "store_true"}, "--mark-lost"),
        ),
    ),
    "bag": Act("make_bag", (Given("bag", {"metavar": "BAG"}), CODES)),
    "alias": Act("add_alias", (Given("label", {"metavar": "LABEL"}), Given("piece", {"metavar": "CODE"}))),
    "make-pair": Act(
        "make_pair",
        (Given("left", {"metavar": "LEFT"}), Given("right", {"metavar": "RIGHT"}), _words("code", "--code")),
    ),
    "correct": Act(
        "correct_entry",
        (
            Given("written", {"metavar": "ENTRY"}),
            _words("reason", "--reason", "WORDS"),
            Given(
                "changes", {"nargs": "+", "action": "extend", "default": [], "metavar": "KEY=VALUE"}, "--set",
                reads=_changes,
            ),
        ),
    ),
}  # fmt: skip
