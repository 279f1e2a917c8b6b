"""The due list: each piece with standing, last good day, retest day and reason; as a Document and as plain values."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Any

from app.decision.judging.answers import DueAnswer, DueRow
from app.decision.judging.status import Status
from app.outputs.document import Cell, Document, Section, Table
from app.outputs.document import row as cells
from app.words.saying import listed, say
from app.words.vocabulary import KINDS, STATUSES

COLUMNS = ("piece", "kind", "status", "use-until", "due", "why", "holder", "place")


def build(answer: DueAnswer, faults: Iterable[str] = (), headings: Iterable[str] = ()) -> Document:
    """The list as people read it.

    `faults` are the sentences of rows that could not be used, `headings` say how the sheet's headings were read.
    """
    question = answer.question
    subtitle = say(
        "due.subtitle" if question.within is None else "due.subtitle-within",
        {
            "on": question.on, "days": question.within, "count": len(answer.rows),
            "set": listed(rule_set.title for rule_set in answer.facts.rule_sets),
        },
    )  # fmt: skip
    table = Table(tuple(say(f"due.column.{key}", {}) for key in COLUMNS), tuple(_cells(row) for row in answer.rows))
    notes = [say("due.left-out", {"count": answer.left_out})] if answer.left_out else []
    if not answer.rows:
        notes.insert(0, say("due.nothing", {}))
    sections = [Section("", tuple(notes), table if answer.rows else None)]
    bad = tuple(faults)
    if bad:
        sections.append(Section(say("due.faults-heading", {}), bad))
    guessed = tuple(headings)
    if guessed:
        sections.append(Section(say("headings.all", {}), guessed))
    return Document(
        say("due.title", {}), subtitle, tuple(sections), (say("caution.check", {}), say("caution.defer", {}))
    )


def why(status: Status) -> str:
    """The reason in a sentence; a date that only stands on the sheet is said beside it."""
    says = say(status.why.key, {"subject": status.piece.code, **status.why.values})
    if status.due_on is None or status.is_of_a_date or status.use_until is None:
        return says
    if status.state != "certificate-not-seen":
        return says
    key = "status.and-overdue" if status.is_past else "status.and-dated"
    return say(key, {"says": says, "use_until": status.use_until, "due_on": status.due_on})


def with_said(row: DueRow, names: Mapping[str, str] = MappingProxyType({})) -> str:
    """Who has a piece: the person it is issued to and until when, else who keeps it; "" where it is in its crib.

    `names`: people in words by code, where they are not to be said by their codes alone.
    """
    if not row.out_with:
        holder = row.status.holder
        return names.get(holder, holder)
    person = names.get(row.out_with, row.out_with)
    if row.out_until is None:
        return say("row.out-no-day", {"person": person})
    return say("row.out", {"person": person, "until": row.out_until})


def _cells(row: DueRow) -> tuple[Cell, ...]:
    status = row.status
    return cells(
        status.piece.code,
        KINDS[status.piece.kind],
        STATUSES[status.state],
        status.use_until,
        status.due_on,
        why(status),
        with_said(row),
        _place(row),
    )


def _place(row: DueRow) -> str:
    return row.crib if row.crib and not row.status.holder else row.status.place


def as_values(answer: DueAnswer) -> list[dict[str, Any]]:
    """The list as plain values: keys of states and kinds, days as ISO text or null."""
    return [
        {
            "piece": row.status.piece.code,
            "kind": row.status.piece.kind,
            "status": row.status.state,
            "due_on": row.status.due_on.isoformat() if row.status.due_on else None,
            "use_until": row.status.use_until.isoformat() if row.status.use_until else None,
            "why": why(row.status),
            "holder": row.status.holder or None,
            "place": _place(row) or None,
            "out": None if not row.out_with else {
                "person": row.out_with, "until": None if row.out_until is None else row.out_until.isoformat(),
            },
        }
        for row in answer.rows
    ]  # fmt: skip
