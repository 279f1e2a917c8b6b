"""What was entered about something, when and by whom; and one piece's card."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import tzinfo
from types import MappingProxyType
from typing import Any, NamedTuple

from app.decision.case.writing import piece_table
from app.decision.domain import former
from app.decision.domain.electrical_test import Judgement
from app.decision.domain.entries import Correction, Entry, Name
from app.outputs.document import Cell, Document, Section, Table, row
from app.outputs.documents.due_list import why
from app.outputs.documents.entry_words import brought_back, day_words, decision_words, record_words, went_with
from app.outputs.documents.field_words import content_words, field_line, fields_of, first_issue_said, named
from app.register.reads.card import Card
from app.register.reads.given import Given
from app.register.reads.lines import Line, entry_of_line, piece_of_line
from app.words.saying import listed, say, say_finding
from app.words.vocabulary import EVERYTHING, STATUSES

CAUTIONS = ("caution.check", "caution.defer")
COLUMNS = ("entry", "when", "by", "what", "content")


def build(
    subject: str, lines: Iterable[Line], zone: tzinfo, given: Mapping[Name, Given] = MappingProxyType({})
) -> Document:
    """The lines about one subject as people read them; `given`: the decisions a piece went out by."""
    entered = list(lines)
    struck = struck_by(entered)
    entries = [(entry, line.name in struck) for line in entered if (entry := entry_of_line(line)) is not None]
    beside = Said(given, brought_back(entries, given), zone)
    rows = tuple(_row(line, beside, struck.get(line.name)) for line in entered)
    heads = tuple(say(f"history.column.{key}", {}) for key in COLUMNS)
    subtitle = say("history.subtitle", {"count": len(entered)})
    return Document(
        say("history.title", {"subject": subject}), subtitle, (Section("", (), Table(heads, rows)),), ()
    )  # fmt: skip


def struck_by(lines: Iterable[Line]) -> dict[Name, Name]:
    """Which entries were struck, and by which."""
    striking = (line for line in lines if "strikes" in line.content)
    return {Name(line.content["strikes_in"], line.content["strikes"]): line.name for line in striking}


class Said(NamedTuple):
    """What the words of an entry need beside it."""

    given: Mapping[Name, Given]
    brought: Mapping[Name, str]
    zone: tzinfo


def _row(line: Line, said_with: Said, struck: Name | None) -> tuple[Cell, ...]:
    sort = str(line.content.get("what", line.kind))
    what = say("history.taken", {}) if sort == "issue" and "to" in line.content else sort_words(sort)
    words = content_said(line, said_with)
    if struck is not None:
        words = say("history.struck-entry", {"entry": str(struck), "says": words})
    at = line.at.astimezone(said_with.zone)
    moment = say("day.at", {"day": at.date(), "time": f"{at:%H:%M}"})
    return row(str(line.name), moment, line.actor, what, words)


def content_said(line: Line, said_with: Said) -> str:
    """The row in short, in words; what went out with it and the reason last."""
    entry, piece = entry_of_line(line), piece_of_line(line)
    reason = line.content.get("reason")
    last = [say("history.reason", {"reason": reason})] if reason else []
    if entry is not None:
        parts = [
            *_strikes(entry), day_words(entry.record, line.at.astimezone(said_with.zone).date()),
            *record_words(entry, said_with.given, said_with.brought), went_with(entry, said_with.given, line.subject),
        ]  # fmt: skip
    elif piece is not None:
        marks = [field_line(key, value) for key, value in fields_of(piece)]
        parts = [say("history.in-crib", {"crib": line.content["crib"]}), *marks]
    elif line.kind == "decision":
        parts = decision_words(line.content)
    else:
        parts = content_words(line.content)
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
            "entry": str(line.name), "at": line.at.isoformat(), "by": line.actor, "kind": line.kind,
            "subject": line.subject, "content": dict(line.content),
        }
        for line in lines
    ]  # fmt: skip


def card(piece_card: Card, zone: tzinfo) -> Document:
    """One piece: how it stands and why, where it is, its marks, what was entered."""
    status = piece_card.row.status
    subtitle = say("card.subtitle", {"crib": piece_card.row.crib, "status": status.state, "says": why(status)})
    notes = more_said(piece_card)
    if piece_card.out is not None:
        until = "" if piece_card.out.until is None else piece_card.out.until.isoformat()
        notes.append(
            say("shelf.out", {"person": piece_card.out.person, "until": until, "entry": str(piece_card.out.entry)})
        )
    if piece_card.labels:
        notes.append(say("card.labels", {"labels": listed(piece_card.labels)}))
    marks = [(named(key), value) for key, value in fields_of(piece_card.piece) if key != "first_issue"]
    marks.append((named("first_issue"), first_issue_said(status.first_issue)))
    table = Table((say("card.column.key", {}), say("card.column.value", {})), tuple(row(*mark) for mark in marks))
    history = build(piece_card.piece.code, piece_card.lines, zone, piece_card.given)
    return Document(
        say("card.title", {"piece": piece_card.piece.code, "kind": piece_card.piece.kind}), subtitle,
        (
            *([Section("", tuple(notes))] if notes else []),
            Section(say("card.marks", {}), (), table),
            Section(say("card.records", {}), (), history.sections[0].table),
        ),
        tuple(say(key, {}) for key in CAUTIONS),
    )  # fmt: skip


def more_said(piece_card: Card) -> list[str]:
    """What the standing does not say: every further hold, and what the newest electrical test came to, and why."""
    status = piece_card.row.status
    first = say(status.why.key, {"subject": status.piece.code, **status.why.values})
    holds = [sentence for hold in piece_card.holds if (sentence := say_finding(hold)) != first]
    is_said = piece_card.test is None or status.why.key in {note.key for note in piece_card.test.reasons}
    return [
        *dict.fromkeys(holds),
        *([] if is_said or piece_card.test is None else [test_said(status.piece.code, piece_card.test)]),
    ]


def test_said(code: str, judgement: Judgement) -> str:
    """The newest electrical test with its result, and the reasons where it did not pass or does not count yet."""
    day = "" if judgement.test.on is None else str(judgement.test.on)
    if judgement.result == "passed":
        return say("card.test-passed" if not judgement.unconfirmed else "card.test-not-in-print", {"day": day})
    reasons = [say(note.key, {"subject": code, "day": day, **note.values}) for note in judgement.reasons]
    key = "card.test-failed" if judgement.result == "failed" else "card.test-does-not-count"
    return say(key, {"day": day, "reasons": " ".join(reasons)})


def card_values(piece_card: Card) -> dict[str, Any]:
    """The card as plain values."""
    status = piece_card.row.status
    return {
        "piece": piece_card.piece.code, "kind": piece_card.piece.kind, "crib": piece_card.row.crib,
        "status": status.state, "status_says": STATUSES[status.state], "why": why(status),
        "due_on": None if status.due_on is None else status.due_on.isoformat(),
        "use_until": None if status.use_until is None else status.use_until.isoformat(),
        "holder": status.holder or None,
        "out": None if piece_card.out is None else {
            "person": piece_card.out.person, "entry": str(piece_card.out.entry),
            "until": None if piece_card.out.until is None else piece_card.out.until.isoformat(),
        },
        "labels": list(piece_card.labels), "marks": _plain(piece_table(piece_card.piece)),
        "entries": as_values(piece_card.lines),
    }  # fmt: skip


def _plain(value: object) -> object:
    if isinstance(value, Mapping):
        return {str(key): _plain(inner) for key, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(inner) for inner in value]
    if value is None or isinstance(value, (bool, int, str)):
        return value
    return str(value) if hasattr(value, "isoformat") else float(str(value))
