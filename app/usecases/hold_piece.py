"""Hold pieces: not to be issued until released by the evidence their reason asks."""

from __future__ import annotations

from collections.abc import Iterable

from app.domain.case.reading import nearest
from app.domain.electrical_test import Note
from app.domain.errors import BadInput
from app.domain.record import Hold
from app.judging.answers import Saved
from app.judging.catalogues import catalogues
from app.rules.not_held import cleared_by
from app.usecases.desk import Desk
from app.usecases.entering import enter, judged_kind, on_day, several

WHY = (
    "suspect", "dropped", "wet", "no-protectors", "repair", "defect", "lead", "cap", "mark", "recall", "clock-doubt",
    "failed", "taken-without-issue", "lost", "correction",
)  # fmt: skip


def hold_piece(desk: Desk, by: str, codes: Iterable[str], why: str) -> Saved:
    """Hold them for one reason; BadInput for a reason nobody knows how to clear."""
    if why not in WHY:
        raise BadInput("hold.unknown-reason", thing=why, nearest=nearest(why, WHY), known=", ".join(WHY))
    with desk.write(by) as unit:
        clears: dict[str, None] = {}
        for kept in several(unit, codes):
            judged_kind(kept)
            enter(unit, kept, on_day(desk, Hold(why=why)))
            clears[cleared_by(why, is_classed=catalogues().kinds[kept.piece.kind].is_classed)] = None
        return Saved(tuple(unit.names), tuple(Note("saved.clears", {"why": one}) for one in clears))
