"""A piece as a member of a chain: its marks, and the state its tip caps are in today."""

from __future__ import annotations

from app.decision.domain.chain import Member
from app.decision.domain.facts import Facts
from app.decision.domain.history import has_defect
from app.decision.domain.piece import Piece
from app.decision.domain.record import Inspection


def member(facts: Facts, piece: Piece) -> Member:
    """The piece as used today.

    Loose leads always have a state of caps (unknown if nobody says); anything else has one only where caps are
    stated. At an issue caps count as present only if today's inspection says so; a piece that says "missing" stays so.
    """
    return Member(piece.code, piece.marks, piece.marks_cap_off, _caps(facts, piece))


def _caps(facts: Facts, piece: Piece) -> str | None:
    stated = piece.caps
    looks = [look for look in facts.history(piece).of_today(Inspection) if look.caps is not None]
    seen = {look.caps for look in looks if not has_defect(look)}
    # A tip whose caps somebody once looked at has caps, though nobody may have looked today.
    ever = any(look.caps is not None for look in facts.history(piece).all(Inspection))
    if facts.kind(piece).has_caps and piece.kind != "test-leads" and stated is None and not ever:
        return None
    if not facts.kind(piece).has_caps:
        return None
    if facts.rest_in_order and not looks:
        return stated or "unknown"
    if stated == "missing" or "missing" in seen:
        return "missing"
    return "present" if seen == {"present"} else "unknown"
