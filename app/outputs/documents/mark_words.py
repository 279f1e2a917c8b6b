"""Marks of a piece in words where their inner form would not be understood: fuse, volts, categories, letters."""

from __future__ import annotations

from app.decision.domain.chain import Fuse
from app.decision.domain.piece import FirstIssue, Piece
from app.outputs.documents.entry_words import place_words
from app.words.saying import number, say
from app.words.vocabulary import FUSES, PROPERTIES


def mark_words(piece: Piece, key: str, plain: str) -> str:
    """The mark of that key of a worked case; `plain`: how it is said where nothing better is known."""
    if key == "fuse" and piece.fuse is not None:
        return fuse_words(piece.fuse)
    if key == "voltage_mark" and piece.voltage_mark is not None:
        volts = ((piece.voltage_mark.ac_mv, "AC"), (piece.voltage_mark.dc_mv, "DC"))
        return ", ".join(f"{_volts(mv)} {current}" for mv, current in volts if mv is not None)
    if key in ("marks", "marks_cap_off"):
        found = (piece.marks if key == "marks" else piece.marks_cap_off) or ()
        return ", ".join(f"CAT {one.category} {_volts(one.mv)}" for one in found)
    if key == "categories":
        return ", ".join(f"{letter} ({PROPERTIES[letter]})" for letter in piece.categories)
    return place_words(plain) if key == "custody" else plain


def fuse_words(fuse: Fuse) -> str:
    """A fuse as it is printed: its volts, whether they hold for AC alone, its sort.

    >>> fuse_words(Fuse(mv=1_000_000, is_ac_only=False, kind="hbc"))
    '1,000 V, HBC'
    """
    volts = "" if fuse.mv is None else _volts(fuse.mv)
    only = say("card.fuse-ac-only", {"volts": volts}).strip() if fuse.is_ac_only else volts
    return ", ".join(part for part in (only, FUSES.get(fuse.kind or "", "")) if part)


def _volts(millivolts: int) -> str:
    return f"{number(millivolts / 1000, 3)} V"


def first_issue_said(first: FirstIssue) -> str:
    """The first hand-over ever as the clock counts it: what is stated and what is recorded, taken together."""
    if first == "never":
        return say("card.first-issue-never", {})
    return say("card.first-issue-unknown", {}) if first == "unknown" else str(first)
