"""Correct an entry: a new one that names the one it strikes, with a reason; nothing is ever taken out.

Where what is struck spoke against the piece, the piece is held until a second person has looked and released it: a
correction is no way round a hold.
"""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.case.pieces import read_piece, read_record
from app.decision.case.writing import piece_table, record_keys
from app.decision.domain.electrical_test import Note
from app.decision.domain.entries import AnyEntry, Correction, Entry, Name, Transfer, speaks_against, unstruck
from app.decision.domain.errors import BadInput
from app.decision.domain.record import ElectricalTest, Hold, Issue, Release, Return, Withdrawal
from app.decision.fields.records import SORTS
from app.decision.judging.answers import Saved
from app.register.reads import out, pieces
from app.register.reads.lines import books_with, line
from app.register.reads.pieces import WHATS, Kept
from app.register.unit import Unit
from app.register.writes.statuses import put_out, take_back
from app.usecases.add_piece import revise_piece
from app.usecases.books import every_book
from app.usecases.desk import Desk
from app.usecases.entering import enter, in_service, on_day
from app.usecases.log_electrical_test import follow_from, judged

# What decides about going out, or lifts and sets holds, is struck and entered anew under a day of its own.
_STRIKE_ONLY = (Issue, Return, Hold, Release, Withdrawal)


def correct_entry(desk: Desk, by: str, written: str, reason: str, changes: Mapping[str, object] | None = None) -> Saved:
    """Strike an entry (a decision: with everything issued by it), or put a corrected one in its place.

    `changes`: keys of the worked-case format with their right values; a value of None takes a key out.
    """
    if not reason.strip():
        raise BadInput("correct.no-reason", thing=written)
    with desk.write(by, books=every_book) as unit:
        name = entry_named(unit, written)
        decided = unit.read(lambda connection: out.decision(connection, name))
        if decided is not None:
            if changes:
                raise BadInput("correct.decision-not-changed", thing=written)
            return _strike_decision(desk, unit, name, decided.kit, reason)
        of_piece = unit.read(lambda connection: pieces.entry(connection, name))
        if of_piece is None:
            return _marks_put_right(desk, unit, name, reason, dict(changes or {}))
        kept = unit.read(lambda connection: pieces.pieces(connection, [of_piece[0]]))[of_piece[0]]
        told = _strike(desk, unit, kept, of_piece[1], reason, dict(changes or {}))
        return Saved(tuple(unit.names), tuple(told))


def entry_named(unit: Unit, written: str) -> Name:
    """The entry meant by BOOK:NUMBER, or by a number alone where one book only has it."""
    book, mark, number = written.rpartition(":")
    if not number.isdigit() or len(number) > 15 or (mark and not book):
        raise BadInput("entry.unknown", thing=written)
    if mark:
        return Name(book, int(number))
    there = [book for book in unit.read(lambda connection: books_with(connection, int(number))) if book != "site"]
    if len(there) != 1:
        key = "entry.say-which" if there else "entry.unknown"
        raise BadInput(key, thing=written, known=tuple(f"{book}:{number}" for book in there))
    return Name(there[0], int(number))


def _marks_put_right(desk: Desk, unit: Unit, name: Name, reason: str, changes: dict[str, object]) -> Saved:
    """The marks of a piece, entered wrong: its next revision, held until a second person has compared them."""
    entered = unit.read(lambda connection: line(connection, name))
    if entered is None:
        raise BadInput("entry.unknown", thing=str(name))
    if entered.kind != "piece" or not changes or {"code", "kind", "records", "lost"} & set(changes):
        key = "correct.marks" if entered.kind == "piece" else "correct.not-about-a-piece"
        raise BadInput(key, thing=str(name))
    kept = unit.read(lambda connection: pieces.pieces(connection, [entered.subject]))[entered.subject]
    in_service(kept)
    marks = {**piece_table(kept.registered), **changes}
    given = {key: value for key, value in marks.items() if value is not None and key != "records"}
    piece = read_piece(given, "correction of")
    if piece == kept.registered:
        raise BadInput("correct.no-change", thing=str(name))
    revise_piece(unit, kept, piece, kept.crib)
    enter(unit, kept, on_day(desk, Hold(why="correction")), reason=reason)
    return Saved(tuple(unit.names), (Note("saved.held-by-marks", {"piece": piece.code}),))


def _strike_decision(desk: Desk, unit: Unit, name: Name, kit: tuple[str, ...], reason: str) -> Saved:
    told: list[Note] = []
    kept_by_code = unit.read(lambda connection: pieces.pieces(connection, kit))
    mine = [(kept, entry) for kept in kept_by_code.values() for entry in kept.entries if entry.of == name]
    if not mine:
        raise BadInput("correct.nothing-issued", thing=str(name))
    # A piece that was taken off the job before by itself stays off it; with none left, the first says so.
    for kept, entry in [pair for pair in mine if _struck_by(*pair) is None] or mine:
        told += _strike(desk, unit, kept, entry, reason, {})
    return Saved(tuple(unit.names), tuple(told))


def _strike(desk: Desk, unit: Unit, kept: Kept, entry: Entry, reason: str, changes: dict[str, object]) -> list[Note]:
    _may_be_struck(kept, entry)
    _is_not_in_a_pair(unit, entry)
    code = kept.piece.code
    followed = [later for later in unstruck(kept.entries) if later.of == entry.name]
    is_against = _is_against(desk, unit, kept, entry, followed)
    if changes:
        name, record = _put_right(desk, unit, kept, entry, reason, changes)
    else:
        record = on_day(desk, Correction())
        name = enter(unit, kept, record, strikes=entry.name, reason=reason)
    # What followed from the entry falls with it: the hold of a failed test, the withdrawal of a breakdown.
    for later in followed:
        enter(unit, kept, on_day(desk, Correction()), strikes=later.name, reason=reason)
    now = unit.read(lambda connection: pieces.pieces(connection, [code]))[code]
    told: list[Note] = []
    if isinstance(entry.record, (Issue, Return)):
        _settle_out(unit, now)
    if isinstance(entry.record, Issue):
        told.append(Note("saved.first-issue-unknown", {"piece": code}))
    if any(isinstance(record, Withdrawal) for record in now.piece.records):
        return told
    if isinstance(record, ElectricalTest):
        told += follow_from(desk, unit, now, judged(now, record, *desk.rules(unit)), name)
    if is_against:
        enter(unit, now, on_day(desk, Hold(why="correction")))
        told.append(Note("saved.held-by-correction", {"piece": code}))
    return told


def _is_against(desk: Desk, unit: Unit, kept: Kept, entry: Entry, followed: list[Entry]) -> bool:
    """Whether the entry, or what followed from it, speaks against the piece; of a test its judgement says so."""
    if any(speaks_against(later.record) for later in followed):
        return True
    if isinstance(entry.record, ElectricalTest):
        return judged(kept, entry.record, *desk.rules(unit)).result == "failed"
    return speaks_against(entry.record)


def _struck_by(kept: Kept, entry: Entry) -> Name | None:
    return next((other.name for other in kept.entries if other.strikes == entry.name), None)


def _may_be_struck(kept: Kept, entry: Entry) -> None:
    by = _struck_by(kept, entry)
    if by is not None:
        raise BadInput("correct.already", thing=str(entry.name), other=str(by))
    if isinstance(entry.record, Correction):
        raise BadInput("correct.a-correction", thing=str(entry.name))
    if isinstance(entry.record, Transfer):
        raise BadInput("correct.transfer", thing=str(entry.name))
    # Entries stand in the order they were made, which numbers of several books do not tell.
    standing = unstruck(kept.entries)
    later = standing[[other.name for other in standing].index(entry.name) + 1 :]
    since = next((other for other in later if isinstance(other.record, Issue)), None)
    if isinstance(entry.record, Return) and since is not None:
        raise BadInput("correct.issued-since", thing=str(entry.name), other=str(since.name))


def _is_not_in_a_pair(unit: Unit, entry: Entry) -> None:
    """BadInput for the withdrawal of a single glove that a pair was made of: it would be in the register twice."""
    of = entry.of
    origin = None if of is None else unit.read(lambda connection: line(connection, of))
    if isinstance(entry.record, Withdrawal) and origin is not None and origin.kind == "piece":
        raise BadInput("correct.paired", thing=str(entry.name), other=origin.subject)


def _put_right(
    desk: Desk, unit: Unit, kept: Kept, entry: Entry, reason: str, changes: dict[str, object]
) -> tuple[Name, AnyEntry]:
    what = WHATS.get(type(entry.record))
    if what not in SORTS or isinstance(entry.record, _STRIKE_ONLY):
        raise BadInput("correct.strike-only", thing=str(entry.name))
    table = {**record_keys(entry.record), **changes}
    given = {key: value for key, value in table.items() if value is not None}
    record = on_day(desk, read_record({**given, "what": what}, f"correction of {entry.name}"))
    if record == entry.record:
        raise BadInput("correct.no-change", thing=str(entry.name))
    return enter(unit, kept, record, strikes=entry.name, reason=reason), record


def _settle_out(unit: Unit, now: Kept) -> None:
    """Out or not, as the issues and returns that stand have it: a return that never was leaves the piece out."""
    code, away = now.piece.code, None
    for entry in unstruck(now.entries):
        if isinstance(entry.record, (Issue, Return)):
            away = entry if isinstance(entry.record, Issue) else None
    unit.flush()
    take_back(unit.connection, [code])
    if away is None:
        return
    of = away.of
    decided = None if of is None else unit.read(lambda connection: out.decision(connection, of))
    entered = away.name if decided is None else decided.name
    person = getattr(away.record, "to", None) if decided is None else decided.person
    until = None if decided is None else decided.until.isoformat()
    row = {"piece": code, "book": entered.book, "entry": entered.number, "person": person, "until_day": until}
    put_out(unit.connection, [row])
