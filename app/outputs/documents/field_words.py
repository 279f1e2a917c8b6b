"""A field of a piece, a person or a system in words: its name, and its value with its unit."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from datetime import time
from decimal import Decimal

from app.decision.case.writing import piece_table
from app.decision.domain.chain import Fuse
from app.decision.domain.piece import FirstIssue, Piece
from app.decision.fields.every import DECLARED
from app.decision.fields.sorts import YES_NO
from app.outputs.documents.entry_words import place_words
from app.words.saying import day, listed, number, say
from app.words.vocabulary import EVERYTHING

# What a value of a field carries, by its key and, in parts of that unit, by the attribute that keeps it.
_UNITS: Mapping[str, tuple[int, str]] = {
    **{field.key: (1, field.sort.unit) for field in DECLARED},
    **{field.name: (10**field.sort.decimals, field.sort.unit) for field in DECLARED},
    "cells_max_mv": (1000, "V"),
}
_KEYS = {field.name: field.key for field in DECLARED}
# Stored as 1 and 0.
_ANSWERED = {field.name for field in DECLARED if field.sort is YES_NO}
# Fields whose values are words of the trade.
_TABLES = {field.key: field.table for field in DECLARED if field.table}
# Said elsewhere beside the fields of a piece.
_ELSEWHERE = ("code", "kind", "records")
_QUIET = ("piece", "what", "reason", "code", "revision", "proof", "records", "until_day")


def named(key: str) -> str:
    """The name of a field in words, by its key or by the attribute that keeps it; of one without words its key."""
    declared = _KEYS.get(key, key)
    return EVERYTHING["field"].get(declared, declared)


def field_line(key: str, value: object) -> str:
    """A field with its value, as one line."""
    return say("field.line", {"field": named(key), "value": value_words(key, value)})


def value_words(key: str, value: object) -> str:
    """The value of a field with its unit; lists, days and yes or no as the language says them."""
    if isinstance(value, str) and (value[:1] in ("[", "{") or value in ("true", "false")):
        value = json.loads(value)
    if isinstance(value, bool) or key in _ANSWERED:
        return EVERYTHING["answer"]["yes" if value else "no"]
    if isinstance(value, (list, tuple)):
        return listed(value_words(key, part) for part in value)
    if isinstance(value, Mapping):
        return listed(field_line(str(inner), part) for inner, part in value.items())
    if isinstance(value, time):
        return f"{value:%H:%M}"
    if isinstance(value, (int, float, Decimal)):
        return _figure(key, float(value))
    words = EVERYTHING.get(_TABLES.get(key, ""))
    return str(value) if words is None else words.get(str(value), str(value))


def _figure(key: str, value: float) -> str:
    parts, unit = _UNITS.get(key, (1, ""))
    if unit == "months":
        return say("unit.months", {"count": int(value), "number": number(value)})
    return f"{number(value / parts, 3)} {unit}".rstrip()


def fields_of(piece: Piece) -> Iterator[tuple[str, str]]:
    """What is printed on a piece or known of it: each field's key and its value in words."""
    for key, value in piece_table(piece).items():
        if key not in _ELSEWHERE:
            yield key, _of_piece(piece, key) or value_words(key, value)


def _of_piece(piece: Piece, key: str) -> str:
    """What of a piece reads better than its plain value; "" where nothing does."""
    if key == "fuse" and piece.fuse is not None:
        return fuse_words(piece.fuse)
    if key == "voltage_mark" and piece.voltage_mark is not None:
        volts = (("current/ac", piece.voltage_mark.ac_mv), ("current/dc", piece.voltage_mark.dc_mv))
        return listed(say("field.volts", {"v": mv / 1000, "current": word[8:]}) for word, mv in volts if mv is not None)
    if key in ("marks", "marks_cap_off"):
        marks = (piece.marks if key == "marks" else piece.marks_cap_off) or ()
        return listed(say("field.mark", {"category": mark.category, "v": mark.mv / 1000}) for mark in marks)
    if key == "categories":
        return listed(say("field.property", {"letter": letter}) for letter in piece.categories)
    if key == "first_issue":
        return first_issue_said(piece.first_issue)
    return place_words(piece.custody) if key == "custody" else ""


def fuse_words(fuse: Fuse) -> str:
    """A fuse as it is printed: its volts, whether they hold for AC alone, its sort.

    >>> fuse_words(Fuse(mv=1_000_000, is_ac_only=False, kind="hbc"))
    '1,000 V, HBC'
    """
    keys = {
        (True, True): "fuse.ac-only",
        (True, False): "fuse.volts",
        (False, True): "fuse.ac",
        (False, False): "fuse.kind",
    }
    values = {"v": None if fuse.mv is None else fuse.mv / 1000, "kind": fuse.kind or "unknown"}
    return say(keys[fuse.mv is not None, bool(fuse.is_ac_only)], values)


def content_words(content: Mapping[str, object]) -> list[str]:
    """The fields of a stored row that say something, each with its value."""
    return [
        field_line(key, value) for key, value in content.items()
        if key not in _QUIET and value not in ("[]", "", None, [])
    ]  # fmt: skip


def first_issue_said(first: FirstIssue) -> str:
    """The first hand-over ever as the clock counts it: what is stated and what is recorded, taken together."""
    if first == "never":
        return say("card.first-issue-never", {})
    return say("card.first-issue-unknown", {}) if first == "unknown" else day(first)
