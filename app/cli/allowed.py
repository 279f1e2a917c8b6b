"""The words a command takes, listed under its --help from where they are declared, so that no list grows old."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

from app.decision.fields.words import CHEMISTRIES, DEFECTS, EVENTS, SCOPES
from app.decision.judging.catalogues import catalogues
from app.decision.rules.repair_allowed import CUFF, WAYS
from app.usecases.hold_piece import WHY
from app.usecases.set_rule import RULES
from app.words.saying import say

WIDTH = 79


#: command -> the heading of a list and its words
_LISTS: dict[str, tuple[tuple[str, Iterable[str]], ...]] = {
    "check": (("help/listed/tasks", catalogues().tasks),),
    "issue": (("help/listed/tasks", catalogues().tasks),),
    "log": (
        ("help/listed/events", EVENTS), ("help/listed/defects-logged", DEFECTS),
        ("help/listed/answered", (*EVENTS, "failed")),
    ),
    "return": (("help/listed/defects", DEFECTS),),
    "hold": (("help/listed/reasons", WHY),),
    "repair": (("help/listed/repairs", WAYS), ("help/listed/places", CUFF)),
    "add": (
        ("help/listed/kinds", catalogues().kinds), ("help/listed/scopes", SCOPES),
        ("help/listed/chemistries", CHEMISTRIES),
    ),
    "rules": (("help/listed/site-rules", RULES),),
}  # fmt: skip


def _listed(words: Iterable[str]) -> str:
    # A word that is to be typed is not broken at its hyphen.
    return textwrap.fill(
        ", ".join(words), WIDTH, initial_indent="  ", subsequent_indent="  ", break_on_hyphens=False
    )  # fmt: skip


def words_of(command: str) -> str:
    """What stands under the help of this command, "" where it takes any words."""
    sections = []
    for title, words in _LISTS.get(command, ()):
        sections += [say(title, {}), _listed(words)]
    return "\n".join(["", *sections, ""]) if sections else ""
