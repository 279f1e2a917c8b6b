"""Make up a bag: several pieces that are scanned as one; the same code again is the bag's next contents."""

from __future__ import annotations

from collections.abc import Iterable

from app.domain.errors import BadInput
from app.judging.answers import Saved
from app.store.journal import SITE_BOOK
from app.store.reads import names
from app.usecases.desk import Desk
from app.usecases.entering import codes_meant


def make_bag(desk: Desk, by: str, bag: str, codes: Iterable[str]) -> Saved:
    """Make it up; BadInput where the bag's code is a piece's, or nothing is put in."""
    with desk.write(by) as unit:
        if unit.read(lambda connection: names.piece_meant(connection, bag)) is not None:
            raise BadInput("bag.is-a-piece", thing=bag)
        pieces = tuple(codes_meant(unit, codes))
        if not pieces:
            raise BadInput("bag.empty", thing=bag)
        revision = unit.read(lambda connection: names.bag_revision(connection, bag)) + 1
        unit.add(SITE_BOOK, "bag", bag, {"code": bag, "revision": revision, "pieces": pieces})
        return Saved(tuple(unit.names))
