"""What was entered about something, when and by whom; and one piece's card."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import time, tzinfo
from typing import Any

from msgspec import Struct

from app.domain.document import Document, Section, Table
from app.domain.entries import AnyEntry, Correction, Name
from app.domain.piece import Piece
from app.domain.record import Issue
from app.judging.answers import DueRow
from app.reports.due_list import why
from app.reports.worked_case import piece_table, record_keys
from app.store.reads.lines import Line, entry_of_line, piece_of_line
from app.store.reads.out import Out
from app.words.saying import listed, say
from app.words.vocabulary import STANDINGS

CAUTIONS = ("caution.check", "caution.defer")
COLUMNS = ("entry", "when", "by", "what", "content")
_QUIET = ("piece", "what", "reason", "code", "revision", "proof", "records", "until_day")


class Card(Struct, frozen=True):
    """One piece as somebody looks at it: standing, where it is out, labels that mean it, everything entered."""

    piece: Piece
    row: DueRow
    out: Out | None
    labels: tuple[str, ...]
    lines: tuple[Line, ...]


def build(subject: str, lines: Iterable[Line], zone: tzinfo) -> Document:
    """The lines about one subject as people read them."""
    found = list(lines)
    struck = struck_by(found)
    rows = tuple(_row(one, zone, struck.get(one.name)) for one in found)
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


def _row(one: Line, zone: tzinfo, struck: Name | None) -> tuple[str, ...]:
    what = str(one.content.get("what", one.kind)).replace("-", " ").replace("_", " ")
    if what == "issue" and "to" in one.content:
        what = say("history.taken", {})
    said = content_said(one)
    if struck is not None:
        said = f"{say('history.struck', {'entry': str(struck)})}; {said}"
    return str(one.name), f"{one.at.astimezone(zone):%Y-%m-%d %H:%M}", one.actor, what, said


def content_said(one: Line) -> str:
    """The row in short, in the keys and units people enter: what says something, the reason last."""
    entry, piece = entry_of_line(one), piece_of_line(one)
    table: Mapping[str, object] = one.content
    if entry is not None:
        table = {**record_keys(entry.record), **_with_whom(entry.record)}
    elif piece is not None:
        table = {**piece_table(piece), "crib": one.content["crib"]}
    parts = [f"{key.replace('_', ' ')} {_shown(value)}" for key, value in table.items() if _is_said(key, value)]
    if entry is not None and entry.strikes is not None:
        key = "history.strikes" if isinstance(entry.record, Correction) else "history.instead"
        parts.insert(0, say(key, {"entry": str(entry.strikes)}))
    reason = one.content.get("reason")
    return "; ".join([*parts, *([f'reason "{reason}"'] if reason else [])])


def _with_whom(record: AnyEntry) -> dict[str, object]:
    """Who took it, where no decision says so."""
    return {"with": record.to} if isinstance(record, Issue) and record.to else {}


def _is_said(key: str, value: object) -> bool:
    return key not in _QUIET and value not in ("[]", "", None, [])


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
    one = found.row.standing
    subtitle = say("card.subtitle", {"crib": found.row.crib, "standing": one.state, "says": why(one)})
    notes = []
    if found.out is not None:
        until = "an unknown day" if found.out.until is None else found.out.until.isoformat()
        notes.append(say("card.out", {"person": found.out.person, "until": until, "entry": str(found.out.entry)}))
    if found.labels:
        notes.append(say("card.labels", {"labels": listed(found.labels)}))
    marks = marks_said(found.piece)
    table = Table((say("card.column.key", {}), say("card.column.value", {})), marks)
    history = build(found.piece.code, found.lines, zone)
    return Document(
        say("card.title", {"piece": found.piece.code, "kind": found.piece.kind}), subtitle,
        (
            *([Section("", tuple(notes))] if notes else []),
            Section(say("card.marks", {}), (), table if marks else None),
            Section(say("card.records", {}), (), history.sections[0].table),
        ),
        tuple(say(key, {}) for key in CAUTIONS),
    )  # fmt: skip


def marks_said(piece: Piece) -> tuple[tuple[str, str], ...]:
    """What is printed on a piece or known of it, as key and value in words; code and kind stand elsewhere."""
    table = piece_table(piece)
    return tuple(
        (key.replace("_", " "), _shown(value)) for key, value in table.items() if key not in ("code", "kind", "records")
    )


def _shown(value: object) -> str:
    if isinstance(value, time):
        return f"{value:%H:%M}"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return ", ".join(" ".join(map(str, one)) if isinstance(one, list) else str(one) for one in value)
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {one}" for key, one in value.items())
    return str(value)


def card_values(found: Card) -> dict[str, Any]:
    """The card as plain values."""
    one = found.row.standing
    return {
        "piece": found.piece.code, "kind": found.piece.kind, "crib": found.row.crib, "standing": one.state,
        "standing_says": STANDINGS[one.state], "why": why(one),
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
