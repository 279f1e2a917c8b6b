"""Keep pieces for somebody on days to come; nobody else is issued them on those days."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import date

from app.decision.domain.calendar import Day
from app.decision.domain.entries import Reservation, unstruck
from app.decision.domain.errors import BadInput
from app.decision.judging.answers import Saved
from app.register.reads.pieces import Kept
from app.usecases.books import of_pieces
from app.usecases.desk import Desk
from app.usecases.entering import enter, known_person, several


def reserve_pieces(desk: Desk, by: str, codes: Collection[str], person: str, on: date, until: date | None) -> Saved:
    """Reserve them, for one day where no `until` is given.

    BadInput for days gone by or the wrong way round, and for a piece kept for another.
    """
    until = until or on
    if until < on:
        raise BadInput("job.until-before-on", thing=str(until), on=str(on))
    with desk.write(by, books=of_pieces(codes)) as unit:
        if until < desk.today():
            raise BadInput("reserve.gone-by", thing=str(until), today=str(desk.today()))
        known_person(unit, person)
        for kept in several(unit, codes):
            not_kept_for_another(kept, (person,), on, until)
            enter(unit, kept, Reservation(on=Day.of(on), to=person, until_day=until))
        return Saved(tuple(unit.names))


def not_kept_for_another(kept: Kept, people: Iterable[str | None], on: date, until: date) -> None:
    """BadInput where a reservation for somebody else touches these days."""
    own = set(people)
    for entry in unstruck(kept.entries):
        reservation = entry.record
        if (
            not isinstance(reservation, Reservation)
            or reservation.to in own
            or reservation.on is None
            or reservation.until_day is None
        ):
            continue
        if reservation.on.first <= until and on <= reservation.until_day:
            raise BadInput(
                "piece.reserved", thing=kept.piece.code, person=reservation.to, on=str(reservation.on),
                until=str(reservation.until_day), entry=str(entry.name),
            )  # fmt: skip
