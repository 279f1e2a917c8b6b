"""What is asked of whoever sits at the window, and what hears the answer. No toolkit here."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

#: Gets the key of the verb chosen and the words filled in.
Answered = Callable[[str, str], None]


class Question(NamedTuple):
    """What is asked. `choices`: key and verb, in order; `wants`: label of a line of words that must be filled in."""

    title: str
    lines: tuple[str, ...]
    choices: tuple[tuple[str, str], ...]
    wants: str = ""
