"""The words a command takes, listed under its --help from where they are declared, so that no list grows old."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable

from app.words.saying import say

WIDTH = 79


def _kinds() -> Iterable[str]:
    from app.decision.judging.catalogues import catalogues

    return catalogues().kinds


def _tasks() -> Iterable[str]:
    from app.decision.judging.catalogues import catalogues

    return catalogues().tasks


def _events() -> Iterable[str]:
    from app.decision.fields.words import EVENTS

    return EVENTS


def _answered() -> Iterable[str]:
    return (*_events(), "failed")


def _defects() -> Iterable[str]:
    from app.decision.fields.words import DEFECTS

    return DEFECTS


def _reasons() -> Iterable[str]:
    from app.usecases.hold_piece import WHY

    return WHY


def _mended() -> Iterable[str]:
    from app.decision.rules.repair_allowed import WAYS

    return WAYS


def _places() -> Iterable[str]:
    from app.decision.rules.repair_allowed import CUFF

    return CUFF


def _scopes() -> Iterable[str]:
    from app.decision.fields.words import SCOPES

    return SCOPES


def _chemistries() -> Iterable[str]:
    from app.decision.fields.words import CHEMISTRIES

    return CHEMISTRIES


def _site_rules() -> Iterable[str]:
    from app.usecases.set_rule import RULES

    return RULES


# Loaded only where --help asks for them: start-up is part of what people wait for.
_LISTS: dict[str, tuple[tuple[str, Callable[[], Iterable[str]]], ...]] = {
    "check": (("help/listed/tasks", _tasks),),
    "issue": (("help/listed/tasks", _tasks),),
    "log": (
        ("help/listed/events", _events),
        ("help/listed/defects-logged", _defects),
        ("help/listed/answered", _answered),
    ),
    "return": (("help/listed/defects", _defects),),
    "hold": (("help/listed/reasons", _reasons),),
    "repair": (
        ("help/listed/repairs", _mended),
        ("help/listed/places", _places),
    ),
    "add": (
        ("help/listed/kinds", _kinds),
        ("help/listed/scopes", _scopes),
        ("help/listed/chemistries", _chemistries),
    ),
    "rules": (("help/listed/site-rules", _site_rules),),
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
        sections += [say(title, {}), _listed(words())]
    return "\n".join(["", *sections, ""]) if sections else ""
