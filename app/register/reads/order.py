"""The order in which entries of several books were made: in one book by number, between books by moment.

A clock that was set back must not turn the order of one book round, so a line counts as made no earlier than the line
before it in its book.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

T = TypeVar("T")


def in_order(lines: Iterable[tuple[str, int, str, T]]) -> list[T]:
    """The things of (book, number, moment as kept, thing), in the order they were entered.

    >>> in_order([("a", 1, "09", "x"), ("a", 2, "07", "y"), ("b", 1, "08", "z")])
    ['z', 'x', 'y']
    """
    latest: dict[str, str] = {}
    placed: list[tuple[str, str, int, T]] = []
    for book, number, moment, thing in sorted(lines, key=lambda line: line[:2]):
        latest[book] = max(moment, latest.get(book, ""))
        placed.append((latest[book], book, number, thing))
    return [thing for *_, thing in sorted(placed, key=lambda entry: entry[:3])]
