"""List what is due: every piece with its standing, its last good day and the reason, the most pressing first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from types import MappingProxyType
from typing import TYPE_CHECKING

from app.decision.domain.facts import Facts
from app.decision.domain.register import Register
from app.decision.judging.answers import DueAnswer, DueQuestion, DueRow
from app.decision.judging.catalogues import facts_on, rule_sets_of
from app.decision.judging.status import Status, status_of
from app.decision.kinds import kinds
from app.usecases.check_kit import find_piece

# Files are listed without the database library, which takes longer to load than they to be read.
if TYPE_CHECKING:
    from app.register.reads.out import Out

_ORDER = (
    "overdue", "on-hold", "not-tested", "certificate-not-seen", "cannot-tell", "due-soon", "inspect-today", "ready",
    "out",
    "away", "lost", "withdrawn",
)  # fmt: skip
# Pieces that are out of the running have no retest to be made, and those still fine are asked for only by their date.
_NEVER_DUE = frozenset({"withdrawn", "lost"})
_ALWAYS_DUE = frozenset({"overdue", "on-hold", "not-tested", "cannot-tell"})
_NOTHING: Mapping[str, Out] = MappingProxyType({})


def list_due(register: Register, question: DueQuestion, away: Mapping[str, Out] = _NOTHING) -> DueAnswer:
    """Every piece's standing on the day, filtered by how soon it is due. `away`: what is out, by code."""
    asked = [find_piece(register, code) for code in question.pieces] or list(register.pieces.values())
    pieces = tuple(piece for piece in asked if piece.kind in kinds())
    depot = register.depot
    facts = facts_on(question.on, depot.site, rule_sets_of(depot), *pieces)
    rows = (_row(status_of(facts, piece), register, away.get(piece.code)) for piece in pieces)
    return answered(question, facts, rows, len(asked) - len(pieces))


def _row(status: Status, register: Register, out: Out | None) -> DueRow:
    crib = register.cribs.get(status.piece.code, "")
    return DueRow(status, crib) if out is None else DueRow(status, crib, out.person, out.until)


def answered(question: DueQuestion, facts: Facts, rows: Iterable[DueRow], left_out: int) -> DueAnswer:
    """Those rows that are asked for, the most pressing first."""
    listed = [row for row in rows if is_listed(row.status, question)]
    return DueAnswer(question, facts, tuple(sorted(listed, key=urgency)), left_out)


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
