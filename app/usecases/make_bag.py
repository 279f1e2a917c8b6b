"""Make up a bag: several pieces that are scanned as one; the same code again is the bag's next contents."""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.errors import BadInput
from app.decision.judging.answers import Saved
from app.register.journal import SITE_BOOK
from app.register.reads import names
from app.usecases.books import the_site
from app.usecases.desk import Desk
from app.usecases.entering import codes_meant
from app.usecases.said_before import refuse_if_it_stands


def make_bag(desk: Desk, by: str, bag: str, codes: Iterable[str]) -> Saved:
    """Make it up; BadInput where the bag's code is a piece's, nothing is put in, or it stands so already."""
    with desk.write(by, books=the_site) as unit:
        if unit.read(lambda connection: names.piece_meant(connection, bag)) is not None:
            raise BadInput("bag.is-a-piece", thing=bag)
        pieces = tuple(codes_meant(unit, codes))
        if not pieces:
            raise BadInput("bag.empty", thing=bag)
        # In whatever capitals it is scanned, it is the bag that was made up first.
        code, newest = unit.read(lambda connection: names.bag_named(connection, bag))
        row = {"code": code, "revision": newest + 1, "pieces": pieces}
        refuse_if_it_stands(unit, "bag", code, row)
        unit.add(SITE_BOOK, "bag", code, row)
        return Saved(tuple(unit.names))
