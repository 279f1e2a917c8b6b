"""What a command and its options are for, as the catalogue says it: "help/COMMAND" and "help/COMMAND/OPTION"."""

from __future__ import annotations

from app.words.catalogue import CATALOGUE


def about(command: str) -> str:
    """What the command does; KeyError for a command without a text.

    >>> about("withdraw")
    'withdraw pieces for good'
    """
    return str(CATALOGUE[f"help/{command}"])


def option(command: str, name: str) -> str:
    """What the command's option or word of this name is for; commands that mean the same by it share one text.

    >>> option("hold", "store") == option("release", "store")
    True
    """
    own = f"help/{command}/{name}"
    return str(CATALOGUE[own if own in CATALOGUE else f"help/option/{name}"])
