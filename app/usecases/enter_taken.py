"""Enter late what was taken without issue, at night or in an emergency: no decision, and on hold until inspected.

Reality is not locked out: held, lost and withdrawn pieces are taken too, and who has them has to be known.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from msgspec.structs import replace

from app.decision.domain.calendar import Day
from app.decision.domain.electrical_test import Note
from app.decision.domain.entries import AnyEntry, Entry, Name, unstruck
from app.decision.domain.errors import BadInput
from app.decision.domain.history import History
from app.decision.domain.record import Hold, Issue, Return, Withdrawal
from app.decision.judging.answers import Saved
from app.register.reads.pieces import Kept
from app.register.unit import Unit
from app.register.writes.rows import record_row
from app.register.writes.statuses import put_out
from app.usecases.books import of_pieces
from app.usecases.desk import Desk
from app.usecases.entering import enter, known_person, on_day, several
from app.usecases.hand_over import not_out

WHY = "taken-without-issue"


def enter_taken(desk: Desk, by: str, codes: Collection[str], person: str, on: date | None = None) -> Saved:
    """Who took what, on which day; a time of day is not known for a day gone by."""
    with desk.write(by, books=of_pieces(codes)) as unit:
        known_person(unit, person)
        pieces_kept = several(unit, codes)
        not_out(unit, pieces_kept)
        gone = None if on is None or on == desk.today() else Day.of(on)
        if gone is not None and gone.first > desk.today():
            raise BadInput("entry.ahead", thing=str(on), today=str(desk.today()))
        outs: list[dict[str, str | int | bytes | None]] = []
        for kept in pieces_kept:
            issue = on_day(desk, Issue(on=gone, to=person))
            _not_back_since(desk, kept, issue)
            name = _enter(unit, kept, issue)
            # Held from now on, not from the day it was taken: a check between the two says nothing of what came after.
            _enter(unit, kept, on_day(desk, Hold(why=WHY)), of=name)
            outs.append(
                {"piece": kept.piece.code, "book": name.book, "entry": name.number, "person": person, "until_day": None}
            )
        unit.flush()
        put_out(unit.connection, outs)
        told = {True: "saved.taken-withdrawn", False: "saved.held"}
        return Saved(
            tuple(unit.names), tuple(Note(told[_is_gone(kept)], {"piece": kept.piece.code}) for kept in pieces_kept)
        )


def _is_gone(kept: Kept) -> bool:
    return any(isinstance(record, Withdrawal) for record in kept.piece.records)


def _enter(unit: Unit, kept: Kept, record: AnyEntry, of: Name | None = None) -> Name:
    """Enter it about a withdrawn piece too: that it should not have been taken is no reason not to know of it."""
    if not _is_gone(kept):
        return enter(unit, kept, record, of=of)
    name = unit.add(kept.crib, "record", kept.piece.code, record_row(kept.piece.code, record, of=of))
    unit.enter(kept, Entry(name=name, record=record, of=of))
    return name


def _not_back_since(desk: Desk, kept: Kept, issue: AnyEntry) -> None:
    """BadInput where a return of a later day is entered: by the entries the piece has come back from this already."""
    taken = replace(kept.piece, records=(*kept.piece.records, issue))
    if History.of(taken, desk.today()).open_issue() is not None:
        return
    back = next(entry for entry in reversed(unstruck(kept.entries)) if isinstance(entry.record, Return))
    raise BadInput(
        "taken.returned-since", thing=kept.piece.code, taken=str(issue.on), returned=str(back.record.on),
        entry=str(back.name),
    )  # fmt: skip
