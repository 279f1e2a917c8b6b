"""What a register was told about a piece, entry by entry, and the piece as it stands when all is taken together.

A correction strikes an earlier entry and may put another in its place; nothing is taken out. Striking an issue never
gives back a first issue of *never*: from then on it is unknown, which is the least over every day it may have been.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from app.decision.domain.calendar import Day
from app.decision.domain.history import has_defect
from app.decision.domain.piece import FirstIssue, Piece
from app.decision.domain.record import (
    AirTest,
    AnyRecord,
    Calibration,
    ElectricalTest,
    Event,
    HandOver,
    Hold,
    Inspection,
    Issue,
    Record,
    SelfTest,
    Withdrawal,
)


class Name(Struct, frozen=True, order=True):
    """An entry's name: the book it stands in and its number there."""

    book: str
    number: int

    def __str__(self) -> str:
        return f"{self.book}:{self.number}"


class CertificateSeen(Record, frozen=True, kw_only=True):
    """Somebody has seen the certificates of the tests entered before this."""


class Correction(Record, frozen=True, kw_only=True):
    """An entry struck and nothing put in its place."""


class Transfer(Record, frozen=True, kw_only=True):
    """Moved to another crib, `to`; the entry stands in both cribs' books."""

    to: str = ""


class Reservation(Record, frozen=True, kw_only=True):
    """Kept for the person `to`, from `on` to `until_day`, both included."""

    to: str = ""
    until_day: date | None = None


class Lost(Record, frozen=True, kw_only=True):
    """Missing at a stocktake and given up, until it is found."""


class Found(Record, frozen=True, kw_only=True):
    """Found again after it was lost."""


AnyEntry = AnyRecord | CertificateSeen | Correction | Transfer | Reservation | Lost | Found
# What the register keeps about a piece that no rule judges by itself.
_OF_THE_REGISTER = frozenset({CertificateSeen, Correction, Transfer, Reservation, Lost, Found})


class Entry(Struct, frozen=True, kw_only=True):
    """One entry about one piece. `strikes`: the entry it corrects; `of`: the decision it belongs to."""

    name: Name
    record: AnyEntry
    strikes: Name | None = None
    reason: str | None = None
    of: Name | None = None


def unstruck(entries: Iterable[Entry]) -> list[Entry]:
    """The entries nobody has struck, in the order they were made."""
    all_of_them = list(entries)
    struck = {entry.strikes for entry in all_of_them if entry.strikes is not None}
    return [entry for entry in all_of_them if entry.name not in struck] if struck else all_of_them


def as_entered(piece: Piece, entries: Iterable[Entry]) -> Piece:
    """The piece with its records as they stand: corrections applied, certificates seen, lost or found."""
    entered = list(entries)
    kept = unstruck(entered)
    sorts = {type(entry.record) for entry in kept}
    is_lost = piece.is_lost
    if not sorts.isdisjoint((Lost, Found)):
        is_lost = next(type(entry.record) is Lost for entry in reversed(kept) if type(entry.record) in (Lost, Found))
    records = tuple(
        [entry.record for entry in kept] if sorts.isdisjoint(_OF_THE_REGISTER) else _with_certificates(kept)
    )
    return replace(piece, records=records, first_issue=_first_issue(piece, entered, kept), is_lost=is_lost)


def _with_certificates(kept: list[Entry]) -> Iterable[AnyRecord]:
    """The records a rule knows; a test entered before a certificate was seen counts as seen."""
    seen_from = max((at for at, entry in enumerate(kept) if isinstance(entry.record, CertificateSeen)), default=-1)
    for at, entry in enumerate(kept):
        record = entry.record
        if isinstance(record, (CertificateSeen, Correction, Transfer, Reservation, Lost, Found)):
            continue
        if isinstance(record, ElectricalTest) and at < seen_from:
            yield replace(record, confirmed_seen=True)
        else:
            yield record


def _first_issue(piece: Piece, entered: list[Entry], kept: list[Entry]) -> FirstIssue:
    """F as stated, or unknown where an entry that gave the piece out was struck and none before it stands."""
    if len(kept) == len(entered):
        return piece.first_issue
    names = {entry.name for entry in kept}
    struck = [_day(entry) for entry in entered if entry.name not in names and gives_out(entry.record)]
    if not struck or piece.first_issue == "unknown":
        return piece.first_issue
    out = [_day(entry) for entry in kept if gives_out(entry.record)]
    if isinstance(piece.first_issue, Day):
        out.append(piece.first_issue.first)
    # What stands on or before the struck day decides F, whatever was struck after it.
    return piece.first_issue if out and min(out) <= min(struck) else "unknown"


def gives_out(record: AnyEntry) -> bool:
    """Whether the piece left the crib by this entry, which is what a first issue is."""
    return isinstance(record, Issue) or (isinstance(record, HandOver) and record.to != "crib")


def speaks_against(record: AnyEntry) -> bool:
    """Whether striking this entry could make the piece look better than it did."""
    if isinstance(record, (AirTest, Inspection)):
        return has_defect(record)
    if isinstance(record, ElectricalTest):
        return record.result != "passed" or record.breakdown
    if isinstance(record, (Calibration, SelfTest)):
        return record.result != "passed"
    return isinstance(record, (Issue, Event, Hold, Withdrawal, Lost))


def _day(entry: Entry) -> date:
    on = entry.record.on
    return date.min if on is None else on.first
