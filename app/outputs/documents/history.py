"""What was entered about something, when and by whom; and one piece's card."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import tzinfo
from types import MappingProxyType
from typing import Any, NamedTuple

from msgspec import Struct

from app.decision.case.writing import piece_table
from app.decision.domain import former
from app.decision.domain.electrical_test import Judgement
from app.decision.domain.entries import Correction, Entry, Name
from app.decision.domain.finding import Finding
from app.decision.domain.piece import Piece
from app.decision.judging.answers import DueRow
from app.outputs.document import Cell, Document, Section, Table, row
from app.outputs.documents.due_list import why
from app.outputs.documents.entry_words import brought_back, day_words, decision_words, record_words, went_with
from app.outputs.documents.field_words import content_words, field_line, fields_of, first_issue_said, named
from app.register.reads.given import Given
from app.register.reads.lines import Line, entry_of_line, piece_of_line
from app.register.reads.out import Out
from app.words.saying import listed, say, say_finding
from app.words.vocabulary import EVERYTHING, STATUSES

CAUTIONS = ("caution.check", "caution.defer")
COLUMNS = ("entry", "when", "by", "what", "content")


class Card(Struct, frozen=True):
    """One piece as somebody looks at it: standing, where it is out, labels that mean it, everything entered.

    `given`: the decisions it went out by; `test`: its newest electrical test, judged; `holds`: all that holds it now.
    """

    piece: Piece
    row: DueRow
    out: Out | None
    labels: tuple[str, ...]
    lines: tuple[Line, ...]
    given: Mapping[Name, Given] = MappingProxyType({})
    test: Judgement | None = None
    holds: tuple[Finding, ...] = ()


def build(
    subject: str, lines: Iterable[Line], zone: tzinfo, given: Mapping[Name, Given] = MappingProxyType({})
) -> Document:
    """The lines about one subject as people read them; `given`: the decisions a piece went out by."""
    found = list(lines)
    struck = struck_by(found)
    entries = [(entry, one.name in struck) for one in found if (entry := entry_of_line(one)) is not None]
    said = Said(given, brought_back(entries, given), zone)
    rows = tuple(_row(one, said, struck.get(one.name)) for one in found)
    heads = tuple(say(f"history.column.{key}", {}) for key in COLUMNS)
    subtitle = say("history.subtitle", {"count": len(found)})
    return Document(
        say("history.title", {"subject": subject}), subtitle, (Section("", (), Table(heads, rows)),), ()
    )  # fmt: skip


def struck_by(lines: Iterable[Line]) -> dict[Name, Name]:
    """Which entries were struck, and by which."""
    return {
        Name(one.content["strikes_in"], one.content["strikes"]): one.name for one in lines if "strikes" in one.content
    }  # fmt: skip


class Said(NamedTuple):
    """What the words of an entry need beside it."""

    given: Mapping[Name, Given]
    brought: Mapping[Name, str]
    zone: tzinfo


def _row(one: Line, said_with: Said, struck: Name | None) -> tuple[Cell, ...]:
    sort = str(one.content.get("what", one.kind))
    what = say("history.taken", {}) if sort == "issue" and "to" in one.content else sort_words(sort)
    said = content_said(one, said_with)
    if struck is not None:
        said = say("history.struck-entry", {"entry": str(struck), "says": said})
    moment = f"{one.at.astimezone(said_with.zone):%Y-%m-%d %H:%M}"
    return row(str(one.name), moment, one.actor, what, said)


def content_said(one: Line, said_with: Said) -> str:
    """The row in short, in words; what went out with it and the reason last."""
    entry, piece = entry_of_line(one), piece_of_line(one)
    reason = one.content.get("reason")
    last = [say("history.reason", {"reason": reason})] if reason else []
    if entry is not None:
        parts = [
            *_strikes(entry), day_words(entry.record, one.at.astimezone(said_with.zone).date()),
            *record_words(entry, said_with.given, said_with.brought), went_with(entry, said_with.given, one.subject),
        ]  # fmt: skip
    elif piece is not None:
        marks = [field_line(key, value) for key, value in fields_of(piece)]
        parts = [say("history.in-crib", {"crib": one.content["crib"]}), *marks]
    elif one.kind == "decision":
        parts = decision_words(one.content)
    else:
        parts = content_words(one.content)
    return "; ".join([*(part for part in parts if part), *last])


def _strikes(entry: Entry) -> list[str]:
    if entry.strikes is None:
        return []
    key = "history.strikes" if isinstance(entry.record, Correction) else "history.instead"
    return [say(key, {"entry": str(entry.strikes)})]


def sort_words(sort: str) -> str:
    """What an entry is, in words."""
    return EVERYTHING["sort"].get(former.RECORDS.get(sort, sort), sort)


def as_values(lines: Iterable[Line]) -> list[dict[str, Any]]:
    """The lines as plain values; moments in UTC."""
    return [
        {
            "entry": str(one.name), "at": one.at.isoformat(), "by": one.actor, "kind": one.kind, "subject": one.subject,
            "content": dict(one.content),
        }
        for one in lines
    ]  # fmt: skip


def card(found: Card, zone: tzinfo) -> Document:
    """One piece: how it stands and why, where it is, its marks, what was entered."""
    one = found.row.status
    subtitle = say("card.subtitle", {"crib": found.row.crib, "status": one.state, "says": why(one)})
    notes = more_said(found)
    if found.out is not None:
        until = "" if found.out.until is None else found.out.until.isoformat()
        notes.append(say("shelf.out", {"person": found.out.person, "until": until, "entry": str(found.out.entry)}))
    if found.labels:
        notes.append(say("card.labels", {"labels": listed(found.labels)}))
    marks = [(named(key), value) for key, value in fields_of(found.piece) if key != "first_issue"]
    marks.append((named("first_issue"), first_issue_said(one.first_issue)))
    table = Table((say("card.column.key", {}), say("card.column.value", {})), tuple(row(*mark) for mark in marks))
    history = build(found.piece.code, found.lines, zone, found.given)
    return Document(
        say("card.title", {"piece": found.piece.code, "kind": found.piece.kind}), subtitle,
        (
            *([Section("", tuple(notes))] if notes else []),
            Section(say("card.marks", {}), (), table),
            Section(say("card.records", {}), (), history.sections[0].table),
        ),
        tuple(say(key, {}) for key in CAUTIONS),
    )  # fmt: skip


def more_said(found: Card) -> list[str]:
    """What the standing does not say: every further hold, and what the newest electrical test came to, and why."""
    one = found.row.status
    first = say(one.why.key, {"subject": one.piece.code, **one.why.values})
    holds = [said for hold in found.holds if (said := say_finding(hold)) != first]
    is_said = found.test is None or one.why.key in {note.key for note in found.test.reasons}
    return [*dict.fromkeys(holds), *([] if is_said or found.test is None else [test_said(one.piece.code, found.test)])]


def test_said(code: str, found: Judgement) -> str:
    """The newest electrical test with its result, and the reasons where it did not pass or does not count yet."""
    day = "" if found.test.on is None else str(found.test.on)
    if found.result == "passed":
        return say("card.test-passed" if not found.unconfirmed else "card.test-not-in-print", {"day": day})
    reasons = [say(note.key, {"subject": code, "day": day, **note.values}) for note in found.reasons]
    key = "card.test-failed" if found.result == "failed" else "card.test-does-not-count"
    return say(key, {"day": day, "reasons": " ".join(reasons)})


def card_values(found: Card) -> dict[str, Any]:
    """The card as plain values."""
    one = found.row.status
    return {
        "piece": found.piece.code, "kind": found.piece.kind, "crib": found.row.crib, "status": one.state,
        "status_says": STATUSES[one.state], "why": why(one),
        "due_on": None if one.due_on is None else one.due_on.isoformat(),
        "use_until": None if one.use_until is None else one.use_until.isoformat(), "holder": one.holder or None,
        "out": None if found.out is None else {
            "person": found.out.person, "entry": str(found.out.entry),
            "until": None if found.out.until is None else found.out.until.isoformat(),
        },
        "labels": list(found.labels), "marks": _plain(piece_table(found.piece)), "entries": as_values(found.lines),
    }  # fmt: skip


def _plain(value: object) -> object:
    if isinstance(value, Mapping):
        return {str(key): _plain(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(one) for one in value]
    if value is None or isinstance(value, (bool, int, str)):
        return value
    return str(value) if hasattr(value, "isoformat") else float(str(value))
