"""A record offered as an entry: whether it can be taken about its piece, and what it comes to.

What a register knows beside the piece (who there is, what is reserved, a second press) stands in its use cases.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, time

from msgspec import Struct
from msgspec.structs import replace

from app.decision.domain.calendar import Day
from app.decision.domain.declarations import Kind
from app.decision.domain.entries import AnyEntry
from app.decision.domain.errors import BadInput
from app.decision.domain.facts import Facts
from app.decision.domain.finding import Finding, Outcome
from app.decision.domain.history import has_defect
from app.decision.domain.limits import HousePolicy
from app.decision.domain.piece import Piece
from app.decision.domain.record import (
    AirTest,
    AnyRecord,
    Calibration,
    ElectricalTest,
    HandOver,
    Inspection,
    Issue,
    Release,
    Return,
    SelfTest,
    Withdrawal,
)
from app.decision.judging.judge import ask
from app.decision.judging.status import takes_calibration

CRIB = "crib"


def not_ahead(record: AnyEntry, today: date, now: time | None = None) -> None:
    """BadInput for a record of a later day, or of a later time of this one, where `now` is given."""
    if record.on is None:
        return
    if record.on.first > today:
        raise BadInput("entry.ahead", thing=str(record.on), today=str(today))
    if now is not None and record.on == Day.of(today) and record.at is not None and record.at > now:
        raise BadInput("entry.ahead", thing=f"{today} {record.at}", today=f"{today} {now:%H:%M}")


def suits(record: AnyEntry, code: str, kind: Kind, house: HousePolicy) -> None:
    """BadInput for a check the kind does not have, and for one without its result."""
    if isinstance(record, AirTest):
        _has("log.no-air-test", code, kind, it_has=kind.wants_air_test)
        _says(code, it_says=record.left is not None or record.right is not None or bool(record.defects))
    elif isinstance(record, SelfTest):
        _has("log.no-self-test", code, kind, it_has=kind.has_self_test)
        _says(code, it_says=record.result is not None)
    elif isinstance(record, Calibration):
        _has("log.no-calibration", code, kind, it_has=takes_calibration(house, kind))
        _says(code, it_says=record.result is not None)
    elif isinstance(record, ElectricalTest):
        _has("log.no-electrical-test", code, kind, it_has=kind.is_classed)


def _has(key: str, code: str, kind: Kind, *, it_has: bool) -> None:
    if not it_has:
        raise BadInput(key, thing=code, kind=kind.key)


def _says(code: str, *, it_says: bool) -> None:
    if not it_says:
        raise BadInput("log.no-result", thing=code)


class Offered(Struct, frozen=True):
    """`refused`: the key of what stands against it, "" where it can be taken.

    `result`: "passed", "failed" or "does-not-count", "" of a record that has none.
    """

    refused: str
    result: str = ""


def offer(record: AnyRecord, piece: Piece, facts: Facts) -> Offered:
    """Whether a record can be taken, and what it comes to.

    Refused are records dated ahead, of a piece that is withdrawn, out, not out, held or not held, and checks its kind
    does not have. Of an issue only what stands against it is told: a kit is decided as a whole.
    """
    try:
        not_ahead(record, facts.on)
        suits(record, piece.code, facts.kind(piece), facts.house)
    except BadInput as fault:
        return Offered(fault.key)
    if any(isinstance(record, Withdrawal) for record in piece.records) and not isinstance(record, Return):
        return Offered("entry.withdrawn")
    against = _AGAINST.get(type(record))
    key = "" if against is None else against(record, piece, facts)
    return Offered(key, "" if key else _result(record, piece, facts))


def _moved(record: AnyRecord, piece: Piece, facts: Facts) -> str:
    if facts.history(piece).open_issue() is not None:
        return "piece.out"
    if isinstance(record, HandOver) and piece.is_lost:
        return "hand-over.lost"
    leaves = isinstance(record, HandOver) and record.to != CRIB
    return "hand-over.held" if leaves and _is_held(piece, facts) else ""


def _issued(record: AnyRecord, piece: Piece, facts: Facts) -> str:
    is_past = record.on is None or record.on.first < facts.on
    return "issue.before-today" if is_past else _moved(record, piece, facts)


def _returned(record: AnyRecord, piece: Piece, facts: Facts) -> str:
    del record
    history = facts.history(piece)
    return "" if history.open_issue() is not None or history.places() != {CRIB} else "return.not-out"


def _released(record: AnyRecord, piece: Piece, facts: Facts) -> str:
    if not _is_held(piece, facts):
        return "release.not-held"
    released = replace(piece, records=(*piece.records, record))
    is_named = isinstance(record, Release) and record.by is not None
    return "" if is_named and not _is_held(released, facts) else "release.no-evidence"


def holding(facts: Facts) -> list[Finding]:
    """What holds the pieces of these facts: an open hold or defect, an event nothing has answered.

    What lifts a hold has to be written down: here nothing is taken as being in order.
    """
    return _unmet(replace(facts, rest_in_order=False), "not-held", "no-open-event")


def _is_held(piece: Piece, facts: Facts) -> bool:
    return bool(holding(facts.with_pieces((piece,))))


def _unmet(facts: Facts, *rules: str) -> list[Finding]:
    return [finding for finding in ask(facts, rules) if finding.outcome in (Outcome.NOT_MET, Outcome.CANNOT_TELL)]


_AGAINST: dict[type, Callable[[AnyRecord, Piece, Facts], str]] = {
    HandOver: _moved, Withdrawal: _moved, Issue: _issued, Return: _returned, Release: _released,
}  # fmt: skip


def _result(record: AnyRecord, piece: Piece, facts: Facts) -> str:
    if isinstance(record, (Calibration, SelfTest)):
        return record.result or ""
    if isinstance(record, (AirTest, Inspection)) and has_defect(record):
        return "failed"
    if isinstance(record, AirTest):
        # Judged by itself: another test of that day says nothing of this one.
        alone = replace(piece, records=(record,))
        on = facts.on if record.on is None else record.on.first
        asked = replace(facts.with_pieces((alone,)), on=on, until=on)
        return "does-not-count" if _unmet(asked, "air-test-done") else "passed"
    return "passed" if isinstance(record, Inspection) else ""
