"""Enter late what was taken without issue, at night or in an emergency: no decision, and held until looked over."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from app.domain.calendar import Day
from app.domain.electrical_test import Note
from app.domain.errors import BadInput
from app.domain.record import Hold, Issue
from app.judging.answers import Saved
from app.store.writes.standings import put_out
from app.usecases.desk import Desk
from app.usecases.entering import enter, known_person, on_day, several
from app.usecases.hand_over import not_out

WHY = "taken-without-issue"


def enter_taken(desk: Desk, by: str, codes: Iterable[str], person: str, on: date | None = None) -> Saved:
    """Who took what, on which day; a time of day is not known for a day gone by."""
    with desk.write(by) as unit:
        known_person(unit, person)
        found = several(unit, codes)
        not_out(unit, found)
        gone = None if on is None or on == desk.today() else Day.of(on)
        if gone is not None and gone.first > desk.today():
            raise BadInput("entry.ahead", thing=str(on), today=str(desk.today()))
        outs: list[dict[str, str | int | bytes | None]] = []
        for kept in found:
            issue = on_day(desk, Issue(on=gone, to=person))
            name = enter(unit, kept, issue)
            # Held from now on, not from the day it was taken: a check between the two says nothing of what came after.
            enter(unit, kept, on_day(desk, Hold(why=WHY)), of=name)
            outs.append(
                {"piece": kept.piece.code, "book": name.book, "entry": name.number, "person": person, "until_day": None}
            )
        unit.flush()
        put_out(unit.connection, outs)
        return Saved(tuple(unit.names), tuple(Note("saved.held", {"piece": kept.piece.code}) for kept in found))
