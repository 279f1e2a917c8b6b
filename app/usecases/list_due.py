"""List what is due: every piece with its standing, its last good day and the reason, the most pressing first."""

from __future__ import annotations

from datetime import date, timedelta

from app.decision.domain.facts import Facts, Job
from app.decision.domain.register import Register
from app.decision.judging.answers import DueAnswer, DueQuestion, DueRow
from app.decision.judging.catalogues import catalogues, rule_sets_of
from app.decision.judging.status import Status, status_of
from app.usecases.check_kit import find_piece

_ORDER = (
    "overdue", "on-hold", "not-tested", "certificate-not-seen", "cannot-tell", "due-soon", "inspect-today", "ready",
    "out",
    "away", "lost", "withdrawn",
)  # fmt: skip
# Pieces that are out of the running have no retest to be made, and those still fine are asked for only by their date.
_NEVER_DUE = frozenset({"withdrawn", "lost"})
_ALWAYS_DUE = frozenset({"overdue", "on-hold", "not-tested", "cannot-tell"})


def list_due(register: Register, question: DueQuestion) -> DueAnswer:
    """Every piece's standing on the day, filtered by how soon it is due."""
    known = catalogues()
    asked = [find_piece(register, code) for code in question.pieces] or list(register.pieces.values())
    pieces = tuple(piece for piece in asked if piece.kind in known.kinds)
    facts = Facts(
        on=question.on, until=question.on, job=Job(), pieces=pieces, kinds=known.kinds, house=known.house,
        rule_sets=rule_sets_of(register.depot), site=register.depot.site,
    )  # fmt: skip
    rows = [DueRow(status_of(facts, piece), register.cribs.get(piece.code, "")) for piece in pieces]
    rows = [row for row in rows if is_listed(row.status, question)]
    rows.sort(key=urgency)
    return DueAnswer(question, facts, tuple(rows), len(asked) - len(pieces))


def is_listed(status: Status, question: DueQuestion) -> bool:
    """Whether a piece belongs in a list that looks so far ahead."""
    if question.within is None:
        return True
    if status.state in _NEVER_DUE:
        return False
    last = question.on + timedelta(days=question.within)
    return status.state in _ALWAYS_DUE or (status.due_on is not None and status.due_on <= last)


def urgency(row: DueRow) -> tuple[int, date, str]:
    """Order of a list: the most pressing first."""
    status = row.status
    return _ORDER.index(status.state), status.due_on or date.max, status.piece.code
