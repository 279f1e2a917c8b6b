"""Hold pieces: not to be issued until released by the evidence their reason asks."""

from __future__ import annotations

from collections.abc import Collection

from app.decision.domain.electrical_test import Note
from app.decision.domain.errors import BadInput
from app.decision.domain.finding import Cause
from app.decision.domain.record import Hold
from app.decision.fields.reading import nearest
from app.decision.judging.answers import Saved
from app.decision.judging.catalogues import catalogues
from app.decision.rules.not_held import cleared_by
from app.usecases.books import of_pieces
from app.usecases.desk import Desk
from app.usecases.entering import enter, judged_kind, on_day, several

WHY = (
    "suspect", "dropped", "wet", "no-protectors", "repair", "defect", "lead", "cap", "mark", "recall", "clock-doubt",
    "failed", "taken-without-issue", "lost", "correction",
)  # fmt: skip


# What a person finds or is told; the others are entered by what brings them about: a failed test, a correction.
BY_HAND = ("suspect", "dropped", "wet", "no-protectors", "defect", "lead", "cap", "mark", "recall", "clock-doubt")


def reasons_for(kind: str) -> tuple[str, ...]:
    """The reasons somebody may choose for this kind; all of them for one this version does not judge."""
    declared = catalogues().kinds.get(kind)
    if declared is None:
        return BY_HAND
    has_parts = declared.is_instrument or declared.is_chain_part or declared.has_self_test
    out = {"no-protectors": not declared.wants_air_test, "lead": not has_parts, "cap": not declared.has_caps}
    return tuple(why for why in BY_HAND if not out.get(why, False))


def hold_piece(desk: Desk, by: str, codes: Collection[str], why: str) -> Saved:
    """Hold them for one reason; BadInput for a reason nobody knows how to clear."""
    if why not in WHY:
        raise BadInput("hold.unknown-reason", thing=why, nearest=nearest(why, WHY), known=tuple(WHY))
    with desk.write(by, books=of_pieces(codes)) as unit:
        clears: dict[str, None] = {}
        for kept in several(unit, codes):
            judged_kind(kept)
            enter(unit, kept, on_day(desk, Hold(why=why)))
            clears[cleared_by(why, is_classed=catalogues().kinds[kept.piece.kind].is_classed)] = None
        return Saved(tuple(unit.names), tuple(Note("saved.clears", {"why": why}, Cause.ON_HOLD) for why in clears))
