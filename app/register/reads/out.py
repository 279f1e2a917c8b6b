"""What is out now, and decisions taken."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.engine import Connection

from app.decision.domain.entries import Name
from app.decision.judging.answers import OpenIssue
from app.register.proof import Proof, read_proof
from app.register.reads.order import in_order
from app.register.statements import Question
from app.register.tables import DECISION, JOURNAL, OUT_NOW, RECORD


class Out(Struct, frozen=True):
    """One piece that is out: with whom, until which planned day, by which entry."""

    piece: str
    person: str
    until: date | None
    entry: Name


class Decided(Struct, frozen=True):
    """One decision as taken; `proof`: the whole answer with what it was made from."""

    name: Name
    decision: str
    person: str
    second: str | None
    system: str
    circuits: tuple[str, ...]
    task: str
    on: date
    until: date
    kit: tuple[str, ...]
    program: str
    proof: Proof


def out_now(connection: Connection, codes: Iterable[str] | None = None) -> dict[str, Out]:
    """Pieces that are out, by code; of these codes only where some are given."""
    question = select(OUT_NOW)
    if codes is not None:
        question = question.where(OUT_NOW.c.piece.in_(list(codes)))
    return {
        row.piece: Out(row.piece, row.person, row.until_day, Name(row.book, row.entry))
        for row in connection.execute(question)
    }


def open_issues(connection: Connection, system: str, circuits: Iterable[str]) -> tuple[OpenIssue, ...]:
    """What is out for any of these circuits of a system, by the entry of its decision."""
    rows = connection.execute(
        select(DECISION.c.book, DECISION.c.entry, DECISION.c.person, DECISION.c.until_day, DECISION.c.circuits,
               OUT_NOW.c.piece)
        .join(OUT_NOW, (OUT_NOW.c.book == DECISION.c.book) & (OUT_NOW.c.entry == DECISION.c.entry))
        .where(DECISION.c.system == system)
        .order_by(DECISION.c.book, DECISION.c.entry, OUT_NOW.c.piece)
    )  # fmt: skip
    asked, issues = set(circuits), dict[Name, OpenIssue]()
    for row in rows:
        if asked.isdisjoint(row.circuits):
            continue
        name = Name(row.book, row.entry)
        before = issues[name].pieces if name in issues else ()
        issues[name] = OpenIssue(name, row.person, row.until_day, (*before, row.piece))
    return tuple(issues.values())


def decision(connection: Connection, name: Name) -> Decided | None:
    """The decision of one entry; None where that entry is none."""
    rows = connection.execute(select(DECISION).where(DECISION.c.book == name.book, DECISION.c.entry == name.number))
    return next((_decided(row) for row in rows), None)


def refusals_of(connection: Connection, person: str, on: date) -> list[Decided]:
    """What this person was refused for that day, oldest first."""
    question = select(DECISION).where(
        DECISION.c.person == person, DECISION.c.on_day == on, DECISION.c.decision == "refused"
    )
    return [_decided(row) for row in connection.execute(question.order_by(DECISION.c.book, DECISION.c.entry))]


def _decided(row: Any) -> Decided:  # noqa: ANN401  # a row of the library, which stays in this room
    return Decided(
        Name(row.book, row.entry), row.decision, row.person, row.second, row.system, row.circuits, row.task,
        row.on_day, row.until_day, row.kit, row.program, read_proof(row.proof),
    )  # fmt: skip


_KEPT = Question(select(OUT_NOW.c.piece, OUT_NOW.c.book, OUT_NOW.c.entry, OUT_NOW.c.person, OUT_NOW.c.until_day))
_STRUCK = Question(select(RECORD.c.strikes_in, RECORD.c.strikes).where(RECORD.c.strikes.is_not(None)))
_MOVED = Question(
    select(
        RECORD.c.piece, RECORD.c.what, RECORD.c.book, RECORD.c.entry, RECORD.c.of_in, RECORD.c.of_entry, RECORD.c.to,
        DECISION.c.person, DECISION.c.until_day, JOURNAL.c.at,
    )
    .join(JOURNAL, (JOURNAL.c.book == RECORD.c.book) & (JOURNAL.c.number == RECORD.c.entry))
    .outerjoin(DECISION, (DECISION.c.book == RECORD.c.of_in) & (DECISION.c.entry == RECORD.c.of_entry))
    .where(RECORD.c.what.in_(("issue", "return")))
)  # fmt: skip


def out_kept(connection: Connection) -> dict[str, tuple[str, int, str, str | None]]:
    """What is out as it stands in the file."""
    return {row[0]: (row[1], row[2], row[3], row[4]) for row in _KEPT.rows(connection)}


def out_worked_out(connection: Connection) -> dict[str, tuple[str, int, str, str | None]]:
    """What must be out by the entries: issued, the issue not struck, and no return since.

    The entry is the decision's, or the issue's own where it was taken without one; the person then stands nowhere but
    in the entry itself.
    """
    struck = set(_STRUCK.rows(connection))
    away: dict[str, tuple[str, int, str, str | None]] = {}
    kept = [row for row in _MOVED.rows(connection) if (row[2], row[3]) not in struck]
    lines = in_order((str(row[2]), int(row[3]), str(row[9]), row) for row in kept)
    for piece, what, book, entry, of_in, of_entry, to, person, until, _ in lines:
        if what == "return":
            away.pop(piece, None)
        elif of_in is not None:
            away[piece] = (of_in, of_entry, person, until)
        else:
            away[piece] = (book, entry, to, None)
    return away
