"""Everything that holds a piece on a day, one by one: a standing and a release name only the first of them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from msgspec.structs import replace

from app.decision.domain.finding import Finding
from app.decision.domain.history import has_defect
from app.decision.domain.limits import RuleSet, SiteRules
from app.decision.domain.piece import Piece
from app.decision.domain.record import AirTest, AnyRecord, Hold, Inspection
from app.usecases.release_piece import open_on


def every_hold(piece: Piece, today: date, site: SiteRules, rule_sets: tuple[RuleSet, ...]) -> list[Finding]:
    """Each hold, defect and event that nothing has cleared; each is judged with the other holds and defects left out.

    What could clear one of them, tests, clean checks, repairs and releases, is there each time.
    """
    findings: dict[tuple[str, str], Finding] = {}
    for alone in _one_by_one(piece):
        for finding in open_on(alone, today, site, rule_sets):
            findings.setdefault((finding.key, str(sorted(finding.values.items()))), finding)
    return list(findings.values())


def _one_by_one(piece: Piece) -> Iterator[Piece]:
    holding = [record for record in piece.records if _holds(record)]
    if len(holding) < 2:
        yield piece
        return
    rest = tuple(record for record in piece.records if not _holds(record))
    for record in holding:
        yield replace(piece, records=(*rest, record))


def _holds(record: AnyRecord) -> bool:
    return isinstance(record, Hold) or (isinstance(record, (AirTest, Inspection)) and has_defect(record))
