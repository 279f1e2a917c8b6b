"""Correct an entry: a new one that names the one it strikes, with a reason; nothing is ever taken out.

Where what is struck spoke against the piece, the piece is held until a second person has looked and released it: a
correction is no way round a hold.
"""

from __future__ import annotations

from collections.abc import Mapping

from app.domain.case.pieces import RECORDS, read_record
from app.domain.electrical_test import Note
from app.domain.entries import Correction, Entry, Name, speaks_against
from app.domain.errors import BadInput
from app.domain.record import Hold, Issue, Return
from app.judging.answers import Saved
from app.reports.worked_case import record_keys
from app.store.reads import out, pieces
from app.store.reads.lines import books_with
from app.store.reads.pieces import WHATS, Kept
from app.store.unit import Unit
from app.store.writes.standings import take_back
from app.usecases.desk import Desk
from app.usecases.entering import enter, on_day


def correct_entry(desk: Desk, by: str, written: str, reason: str, changes: Mapping[str, object] | None = None) -> Saved:
    """Strike an entry (a decision: with everything issued by it), or put a corrected one in its place.

    `changes`: keys of the worked-case format with their right values; a value of None takes a key out.
    """
    if not reason.strip():
        raise BadInput("correct.no-reason", thing=written)
    with desk.write(by) as unit:
        name = entry_named(unit, written)
        decided = unit.read(lambda connection: out.decision(connection, name))
        if decided is not None:
            if changes:
                raise BadInput("correct.decision-not-changed", thing=written)
            return _strike_decision(desk, unit, name, decided.kit, reason)
        found = unit.read(lambda connection: pieces.entry(connection, name))
        if found is None:
            raise BadInput("correct.not-about-a-piece", thing=written)
        kept = unit.read(lambda connection: pieces.pieces(connection, [found[0]]))[found[0]]
        told = _strike(desk, unit, kept, found[1], reason, dict(changes or {}))
        return Saved(tuple(unit.names), tuple(told))


def entry_named(unit: Unit, written: str) -> Name:
    """The entry meant by BOOK:NUMBER, or by a number alone where one book only has it."""
    book, mark, number = written.rpartition(":")
    if not number.isdigit() or len(number) > 15 or (mark and not book):
        raise BadInput("entry.unknown", thing=written)
    if mark:
        return Name(book, int(number))
    there = [one for one in unit.read(lambda connection: books_with(connection, int(number))) if one != "site"]
    if len(there) != 1:
        key = "entry.say-which" if there else "entry.unknown"
        raise BadInput(key, thing=written, known=", ".join(f"{one}:{number}" for one in there))
    return Name(there[0], int(number))


def _strike_decision(desk: Desk, unit: Unit, name: Name, kit: tuple[str, ...], reason: str) -> Saved:
    told: list[Note] = []
    found = unit.read(lambda connection: pieces.pieces(connection, kit))
    mine = [(kept, entry) for kept in found.values() for entry in kept.entries if entry.of == name]
    if not mine:
        raise BadInput("correct.nothing-issued", thing=str(name))
    for kept, entry in mine:
        told += _strike(desk, unit, kept, entry, reason, {})
    return Saved(tuple(unit.names), tuple(told))


def _strike(desk: Desk, unit: Unit, kept: Kept, entry: Entry, reason: str, changes: dict[str, object]) -> list[Note]:
    _may_be_struck(kept, entry)
    code = kept.piece.code
    if changes:
        _put_right(desk, unit, kept, entry, reason, changes)
    else:
        enter(unit, kept, on_day(desk, Correction()), strikes=entry.name, reason=reason)
    # What followed from the entry falls with it: the hold of a failed test, the withdrawal of a breakdown.
    for followed in _following(kept, entry):
        enter(unit, kept, on_day(desk, Correction()), strikes=followed.name, reason=reason)
    told: list[Note] = []
    if isinstance(entry.record, Issue):
        told += _back_on_the_shelf(unit, kept, entry)
    if speaks_against(entry.record):
        now = unit.read(lambda connection: pieces.pieces(connection, [code]))[code]
        enter(unit, now, on_day(desk, Hold(why="correction")))
        told.append(Note("saved.held-by-correction", {"piece": code}))
    return told


def _following(kept: Kept, entry: Entry) -> list[Entry]:
    struck = {one.strikes for one in kept.entries}
    return [one for one in kept.entries if one.of == entry.name and one.name not in struck]


def _may_be_struck(kept: Kept, entry: Entry) -> None:
    by = next((one for one in kept.entries if one.strikes == entry.name), None)
    if by is not None:
        raise BadInput("correct.already", thing=str(entry.name), other=str(by.name))
    if isinstance(entry.record, Correction):
        raise BadInput("correct.a-correction", thing=str(entry.name))
    later = [one for one in kept.entries if isinstance(one.record, Issue) and one.name > entry.name]
    if isinstance(entry.record, Return) and later:
        raise BadInput("correct.issued-since", thing=str(entry.name), other=str(later[0].name))


def _put_right(desk: Desk, unit: Unit, kept: Kept, entry: Entry, reason: str, changes: dict[str, object]) -> None:
    what = WHATS.get(type(entry.record))
    if what not in RECORDS or isinstance(entry.record, (Issue, Return, Hold)):
        raise BadInput("correct.strike-only", thing=str(entry.name))
    table = {**record_keys(entry.record), **changes}
    given = {key: value for key, value in table.items() if value is not None}
    record = on_day(desk, read_record({**given, "what": what}, f"correction of {entry.name}"))
    if record == entry.record:
        raise BadInput("correct.no-change", thing=str(entry.name))
    enter(unit, kept, record, strikes=entry.name, reason=reason)


def _back_on_the_shelf(unit: Unit, kept: Kept, entry: Entry) -> list[Note]:
    """A struck issue that is still open: the piece was not taken, so it is not out."""
    code = kept.piece.code
    away = unit.read(lambda connection: out.out_now(connection, [code])).get(code)
    if away is not None and away.entry in (entry.name, entry.of):
        unit.flush()
        take_back(unit.connection, [code])
    return [Note("saved.first-issue-unknown", {"piece": code})]
