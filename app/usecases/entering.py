"""What every entry about a piece goes through: the code found, the day looked at, the same entry not taken twice."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from msgspec.structs import replace

from app.decision.domain.calendar import Day
from app.decision.domain.entries import AnyEntry, Entry, Name
from app.decision.domain.errors import BadInput
from app.decision.domain.record import ElectricalTest, Return, Withdrawal
from app.decision.fields.reading import nearest
from app.decision.judging.catalogues import catalogues
from app.decision.judging.offered import not_ahead
from app.register.engine import Connection
from app.register.reads import names, pieces, register
from app.register.reads.lines import line
from app.register.reads.pieces import Kept
from app.register.unit import Unit
from app.register.writes.rows import record_row
from app.usecases.desk import Desk

# An entry made again in this time without a time of day of its own is taken for a double press, not for a second act.
DOUBLE = timedelta(seconds=120)


def one_piece(unit: Unit, written: str) -> Kept:
    """The piece somebody typed or scanned; BadInput naming the nearest code."""
    meant = several(unit, [written])
    if len(meant) != 1:
        raise BadInput("entry.one-piece", thing=written)
    return meant[0]


def several(unit: Unit, written: Iterable[str]) -> list[Kept]:
    """The pieces meant by codes, labels and bags, each once, in the order given."""
    codes = codes_meant(unit, written)
    kept = unit.read(lambda connection: pieces.pieces(connection, codes))
    return [kept[code] for code in codes]


def codes_meant(unit: Unit, written: Iterable[str]) -> list[str]:
    """The pieces' own codes; BadInput for the first thing that is no piece, label or bag."""
    return unit.read(lambda connection: codes_of(connection, written))


def codes_of(connection: Connection, written: Iterable[str]) -> list[str]:
    """The same outside a unit; takes the connection a question is given."""
    codes: dict[str, None] = {}
    for code in written:
        meant = names.pieces_meant(connection, code)
        if not meant:
            near = names.nearest_code(connection, code)
            raise BadInput("store.unknown-piece", thing=code, nearest=near)
        codes.update(dict.fromkeys(meant))
    return list(codes)


def on_day(desk: Desk, record: AnyEntry) -> AnyEntry:
    """The record with today and now where it names no day; BadInput where it lies ahead."""
    today = desk.today()
    if record.on is None and isinstance(record, ElectricalTest):
        # A certificate without a day is taken in as that, and does not count.
        return record
    if record.on is None:
        return replace(record, on=Day.of(today), at=record.at or desk.now())
    not_ahead(record, today, desk.now())
    return record


def enter(  # what an entry is
    unit: Unit, kept: Kept, record: AnyEntry, *, strikes: Name | None = None, reason: str | None = None,
    of: Name | None = None,
) -> Name:  # fmt: skip
    """Write one entry about a piece into its crib's book and mark its standing to be worked out again.

    `of`: the entry it follows from. What follows is no double press: two tests failed on one day hold twice.
    """
    code = kept.piece.code
    # What was withdrawn while somebody had it, by a certificate that came late, still comes back.
    if strikes is None and not isinstance(record, Return):
        in_service(kept)
    twin = twin_of(unit, kept, record) if strikes is None and of is None else None
    if twin is not None:
        raise BadInput("entry.twice", thing=code, entry=str(twin))
    name = unit.add(kept.crib, "record", code, record_row(code, record, strikes, reason, of))
    unit.enter(kept, Entry(name=name, record=record, strikes=strikes, reason=reason, of=of))
    return name


def in_service(kept: Kept) -> None:
    """BadInput for a piece that is withdrawn for good."""
    if any(isinstance(record, Withdrawal) for record in kept.piece.records):
        raise BadInput("entry.withdrawn", thing=kept.piece.code)


def twin_of(unit: Unit, kept: Kept, record: AnyEntry) -> Name | None:
    """The same entry made before: in every word, or a moment ago but for the time of day the program put in.

    A moment ago means that nothing else was entered about the piece since: what was issued, returned and issued again
    within the minute was issued twice.
    """
    struck = {entry.strikes for entry in kept.entries}
    standing = [entry for entry in kept.entries if type(entry.record) is type(record) and entry.name not in struck]
    for entry in reversed(standing):
        if entry.record == record and record.on is not None:
            return entry.name
    last = kept.entries[-1] if kept.entries else None
    if record.at is not None and not record.at.second and not record.at.microsecond:
        # A time somebody gave says that it is another act; the program's own has its seconds.
        return None
    if last is None or last not in standing or replace(last.record, at=None) != replace(record, at=None):
        return None
    return last.name if _is_fresh(unit, last) else None


def _is_fresh(unit: Unit, entry: Entry) -> bool:
    entered = unit.read(lambda connection: line(connection, entry.name))
    return entered is not None and timedelta(0) <= unit.now - entered.at <= DOUBLE and entered.actor == unit.actor


def known_person(unit: Unit, code: str) -> str:
    """A person's code; BadInput naming the nearest."""
    people = unit.read(register.people_kept)
    return known_code(people, code, "store.unknown-person")


def known_code(known: Iterable[str], code: str, key: str) -> str:
    """The code, if it is known."""
    there = list(known)
    if code not in there:
        raise BadInput(key, thing=code, nearest=nearest(code, there))
    return code


def judged_kind(kept: Kept) -> None:
    """BadInput for a piece of a kind this version does not judge."""
    if kept.piece.kind not in catalogues().kinds:
        raise BadInput("kind.not-yet", thing=kept.piece.code, kind=kept.piece.kind)


def day_of(record: AnyEntry) -> date:
    """The first day a record may be of; only an electrical test may be without."""
    return date.min if record.on is None else record.on.first
