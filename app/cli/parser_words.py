"""What argparse says by itself, in the words of the catalogue: "usage", its complaints, the blanks of a command line.

argparse looks its texts up by `_` and `ngettext` of its own module, made for exactly this; both are answered here.
"""

from __future__ import annotations

import argparse
from collections.abc import Mapping

from app.words.saying import say

# Each text of argparse that a command of ours can bring up: the message it becomes, and where its blanks go.
_TEXTS: Mapping[str, tuple[str, Mapping[str, str]]] = {
    "usage: ": ("parser.usage", {}),
    "unrecognized arguments: %s": ("parser.unrecognized", {"thing": "%s"}),
    "the following arguments are required: %s": ("parser.required", {"thing": "%s"}),
    "argument %(argument_name)s: %(message)s": (
        "parser.argument", {"argument": "%(argument_name)s", "says": "%(message)s"}
    ),
    "invalid choice: %(value)r (choose from %(choices)s)": (
        "parser.choice", {"thing": "%(value)r", "known": "%(choices)s"}
    ),
    "ignored explicit argument %r": ("parser.takes-nothing", {"thing": "%r"}),
    "expected one argument": ("parser.one", {}),
    "expected at most one argument": ("parser.at-most-one", {}),
    "expected at least one argument": ("parser.at-least-one", {}),
}  # fmt: skip


def _text(text: str) -> str:
    if text not in _TEXTS:
        # Said to whoever declares a command wrongly, or new in a later Python.
        return text
    key, blanks = _TEXTS[text]
    return say(key, blanks)


def _counted(single: str, several: str, count: int) -> str:
    return _text(single if count == 1 else several)


def speak() -> None:
    """Let argparse say its texts as the catalogue does."""
    vars(argparse).update(_=_text, ngettext=_counted)


def name_blanks(parser: argparse.ArgumentParser) -> None:
    """Write what is to be filled in ("FILE", "CODE") in words of the catalogue."""
    for action in parser._actions:  # noqa: SLF001  # argparse offers them nowhere else
        if isinstance(action.metavar, str):
            action.metavar = say(f"blank/{action.metavar}", {})
        elif action.choices is not None and not action.option_strings:
            # A complaint would else name it as the program does.
            action.metavar = f"{{{','.join(map(str, action.choices))}}}"
