"""Set up a crib by name."""

from __future__ import annotations

from app.decision.domain.errors import BadInput
from app.decision.judging.answers import Saved
from app.register.reads import register
from app.usecases.add_piece import put_crib
from app.usecases.books import the_site
from app.usecases.desk import Desk


def add_crib(desk: Desk, by: str, name: str) -> Saved:
    """Set it up; BadInput where it is there already."""
    with desk.write(by, books=the_site) as unit:
        if name in unit.read(register.cribs):
            raise BadInput("crib.there", thing=name)
        put_crib(unit, name)
        return Saved(tuple(unit.names))
