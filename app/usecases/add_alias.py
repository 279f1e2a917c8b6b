"""Let a label that is already on a piece stand for its code."""

from __future__ import annotations

from app.decision.domain.errors import BadInput
from app.decision.judging.answers import Saved
from app.register.journal import SITE_BOOK
from app.register.reads import names
from app.register.unit import printable
from app.usecases.books import the_site
from app.usecases.desk import Desk
from app.usecases.entering import one_piece


def add_alias(desk: Desk, by: str, label: str, piece: str) -> Saved:
    """Add it; BadInput where the label already means something else."""
    with desk.write(by, books=the_site) as unit:
        code = one_piece(unit, printable(piece)).piece.code
        printable(label)
        meant = unit.read(lambda connection: names.pieces_meant(connection, label))
        if meant:
            key = "alias.there" if meant == (code,) else "alias.taken"
            raise BadInput(key, thing=label, other=meant[0])
        revision = unit.read(lambda connection: names.alias_revision(connection, label)) + 1
        unit.add(SITE_BOOK, "alias", code, {"label": label, "revision": revision, "piece": code})
        return Saved(tuple(unit.names))
