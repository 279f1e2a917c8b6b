"""What is printed on a piece or known of it, as the card says it."""

from __future__ import annotations

from app.decision.domain.piece import FirstIssue, Piece
from app.outputs.documents.field_words import field_line, fields_of, first_issue_said

# Said elsewhere on the card.
_ELSEWHERE = frozenset({"custody", "label", "first_issue"})


def marks_words(piece: Piece, first: FirstIssue) -> list[str]:
    """What is printed on a piece or known of it, a line each with its unit.

    `first`: the first hand-over ever as the clock counts it, which may be another than the one stated.
    """
    lines = [field_line(key, value) for key, value in fields_of(piece) if key not in _ELSEWHERE]
    return [*lines, field_line("first_issue", first_issue_said(first))]
