"""Which books an act writes in: declared before its first question, so that whoever locks them can do so first.

A declaration is a question itself, because a piece's entries stand in the book of the crib it is in. What nobody knows
has no book: the act says so.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import TYPE_CHECKING

from app.register.journal import SITE_BOOK
from app.register.reads import names, register

if TYPE_CHECKING:
    from app.register.engine import Connection

Books = Callable[["Connection"], set[str]]
#: the crib where none is named and there is none yet
FIRST_CRIB = "main"


def the_site(connection: Connection) -> set[str]:
    """People, systems, rules, bags, labels and cribs."""
    del connection
    return {SITE_BOOK}


def every_book(connection: Connection) -> set[str]:
    """For what may find anything anywhere."""
    return {SITE_BOOK, FIRST_CRIB, *register.cribs(connection)}


def of_pieces(written: Collection[str]) -> Books:
    """Of the cribs these codes, labels and bags stand in."""
    return lambda connection: names.cribs_of(connection, written)


def of_crib(*cribs: str) -> Books:
    """Of these cribs, which may be set up by the act; where none is named, of whichever it turns out to be."""
    return lambda connection: {SITE_BOOK, *cribs} if all(cribs) else every_book(connection) | {*cribs} - {""}


def both(first: Books, other: Books) -> Books:
    """Of one and the other."""
    return lambda connection: first(connection) | other(connection)
