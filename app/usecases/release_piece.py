"""Release held pieces: only where the evidence their holds ask is there, and by somebody named."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from msgspec.structs import replace

from app.decision.domain.errors import BadInput
from app.decision.domain.finding import Finding
from app.decision.domain.history import History
from app.decision.domain.limits import RuleSet, SiteRules
from app.decision.domain.piece import Piece
from app.decision.domain.record import Release
from app.decision.judging.answers import Saved
from app.decision.judging.catalogues import catalogues, facts_on
from app.decision.judging.offered import holding
from app.decision.rules.not_held import cleared_by
from app.register.reads.pieces import Kept
from app.register.unit import Unit
from app.usecases.books import of_pieces
from app.usecases.desk import Desk
from app.usecases.entering import enter, judged_kind, on_day, several
from app.usecases.second_look import corrections_seen, parts_seen


def release_piece(desk: Desk, by: str, codes: Collection[str]) -> Saved:
    """Release them; BadInput naming the first that is not held, or whose evidence is missing. All or none."""
    with desk.write(by, books=of_pieces(codes)) as unit:
        for kept in several(unit, codes):
            judged_kind(kept)
            if why_held(desk, unit, kept) is None:
                raise BadInput("release.not-held", thing=kept.piece.code)
            release = on_day(desk, Release(by=by))
            assert isinstance(release, Release)
            released = replace(kept.piece, records=(*kept.piece.records, release))
            history = History.of(released, desk.today())
            corrections_seen(unit, kept, history)
            enter(unit, kept, release)
            still = _holding(desk, unit, released)
            if still is not None:
                raise BadInput("release.no-evidence", thing=kept.piece.code, why=why_of(still, kept))
            parts_seen(unit, kept, history, release)
        return Saved(tuple(unit.names))


def why_held(desk: Desk, unit: Unit, kept: Kept) -> Finding | None:
    """What holds the piece, None where nothing does."""
    return _holding(desk, unit, kept.piece)


def why_of(finding: Finding, kept: Kept) -> str:
    """The word for what holds a piece, as what clears it is listed under; kit without a class is cleared by a look."""
    why = str(finding.values.get("why") or finding.values.get("event") or "defect")
    return cleared_by(why, is_classed=catalogues().kinds[kept.piece.kind].is_classed)


def _holding(desk: Desk, unit: Unit, piece: Piece) -> Finding | None:
    return next(iter(open_on(piece, desk.today(), *desk.rules(unit))), None)


def open_on(piece: Piece, today: date, site: SiteRules, rule_sets: tuple[RuleSet, ...]) -> list[Finding]:
    """What holds the piece on this day: an open hold or defect, an event nothing has answered."""
    return holding(facts_on(today, site, rule_sets, piece))
