"""One row of the shelf as a standing on a day: what lasts was kept, and the day's part is worked out."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import lru_cache

from app.decision.domain.calendar import last_good_day
from app.decision.domain.facts import Facts
from app.decision.domain.piece import Piece
from app.decision.judging.answers import DueRow
from app.decision.judging.status import Lasting, Status, is_dated, state_on
from app.register.derived import noted
from app.register.reads.shelf import ShelfRow

# Reasons repeat from row to row, and nobody changes one.
_noted = lru_cache(maxsize=4096)(noted)
_NOT_OUT = (None, None)


def dated_kinds(facts: Facts) -> dict[str, bool]:
    """Whether a date is asked of each kind: worked out once, not for every row."""
    return {kind: is_dated(facts, kind) for kind in facts.kinds}


def row_of(
    row: ShelfRow, today: date, facts: Facts, dated: Mapping[str, bool], out: tuple[str | None, str | None] = _NOT_OUT
) -> DueRow:
    """The standing of one row on a day; records are not read for it, so what was weighed is not told.

    `dated` are the `dated_kinds` of these facts; `out` says with whom and until when (ISO text) it is issued.
    """
    due_on = None if row.due_on is None else date.fromisoformat(row.due_on)
    kept = Lasting(
        row.state, _noted(row.why), due_on, row.decides,
        None if row.counted_from is None else date.fromisoformat(row.counted_from), (), row.holder, row.place,
        "unknown", dated[row.kind],
        None if row.checked_on is None else date.fromisoformat(row.checked_on),
        None if row.unchecked is None else _noted(row.unchecked),
    )  # fmt: skip
    state, why = state_on(kept, today, facts.site.warning_days)
    piece = Piece(code=row.piece, kind=row.kind)
    use_until = None if due_on is None else last_good_day(due_on)
    place = row.crib if not row.holder else row.place
    return DueRow(
        Status(
            piece, state, due_on, use_until, why, row.holder, place, row.decides, kept.counted_from, (), today,
            is_dated=kept.is_dated,
        ),
        row.crib, out[0] or "", None if out[1] is None else date.fromisoformat(out[1]),
    )  # fmt: skip
