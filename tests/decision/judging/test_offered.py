"""What can be entered about a piece, by what is written of it; and what a check comes to."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from msgspec.structs import replace

from app.decision.case.pieces import read_piece, read_record
from app.decision.domain.facts import Facts
from app.decision.judging.offered import Offered, offer
from tests.build import DAY, detector, facts, gloves, plain, world

TODAY = {"on": DAY}
LONG_AGO = DAY - timedelta(days=30)
BLANK: dict[str, Any] = {"records": []}


def asked(piece: dict[str, Any], *records: dict[str, Any], rest_in_order: bool = True) -> tuple[Any, Facts]:
    """A piece with these records, in the good world."""
    made = read_piece({**piece, "records": list(records)}, "piece")
    return made, replace(facts(world()).with_pieces((made,)), rest_in_order=rest_in_order)


def offered(record: dict[str, Any], piece: dict[str, Any], *records: dict[str, Any]) -> Offered:
    made, question = asked(piece, *records)
    return offer(read_record(record, "entry"), made, question)


ISSUED = {"what": "issue", "on": LONG_AGO}
HELD = {"what": "hold", "on": LONG_AGO, "why": "recall"}
WITHDRAWN = {"what": "withdrawal", "on": LONG_AGO}
KEPT = {"what": "hand-over", "on": LONG_AGO, "to": "P2"}
OUT = {"what": "hand-over", "to": "P2", **TODAY}
BACK = {"what": "return", **TODAY}
AIR = {"what": "air-test", "left": "passed", "right": "passed", "inflation": 1.5, **TODAY}
ROD = plain("B1", "barrier-set")
REFUSED: list[tuple[dict[str, Any], dict[str, Any], list[dict[str, Any]], str]] = [
    ({**AIR, "on": DAY + timedelta(days=1)}, gloves(), [], "entry.ahead"),
    ({"what": "return", "on": "2026-04"}, gloves(), [ISSUED], "entry.ahead"),
    (AIR, ROD, [], "log.no-air-test"),
    ({"what": "air-test", **TODAY}, gloves(), [], "log.no-result"),
    ({"what": "calibration", **TODAY, "result": "passed"}, gloves(), [], "log.no-calibration"),
    ({"what": "self-test", **TODAY, "result": "passed"}, gloves(), [], "log.no-self-test"),
    ({"what": "self-test", **TODAY}, detector(), [], "log.no-result"),
    ({"what": "electrical-test", **TODAY, "result": "passed"}, ROD, [], "log.no-electrical-test"),
    (AIR, gloves(), [WITHDRAWN], "entry.withdrawn"),
    (OUT, gloves(), [ISSUED], "piece.out"),
    (OUT, gloves(), [HELD], "hand-over.held"),
    (OUT, gloves(lost=True), [], "hand-over.lost"),
    ({**WITHDRAWN, **TODAY}, gloves(), [ISSUED], "piece.out"),
    ({"what": "issue", **TODAY}, gloves(), [ISSUED], "piece.out"),
    (ISSUED, gloves(), [], "issue.before-today"),
    (BACK, gloves(), [], "return.not-out"),
    ({"what": "release", "by": "P9", **TODAY}, gloves(), [], "release.not-held"),
    ({"what": "release", **TODAY}, gloves(), [HELD], "release.no-evidence"),
    ({"what": "release", "by": "P9", **TODAY}, gloves(), [{**HELD, "why": "dropped"}], "release.no-evidence"),
]
TAKEN: list[tuple[dict[str, Any], dict[str, Any], list[dict[str, Any]], str]] = [
    (AIR, gloves(), [], "passed"),
    ({**AIR, "inflation": 1.51}, gloves(), [], "does-not-count"),
    ({**AIR, "right": "failed"}, gloves(), [], "failed"),
    ({**AIR, "defects": ["cut"]}, gloves(), [], "failed"),
    ({"what": "air-test", "left": "passed", **TODAY}, gloves(), [], "does-not-count"),
    ({"what": "inspection", "defects": [], **TODAY}, gloves(), [], "passed"),
    ({"what": "inspection", "defects": ["cut"], **TODAY}, gloves(), [], "failed"),
    ({"what": "self-test", "result": "failed", **TODAY}, detector(), [], "failed"),
    ({"what": "calibration", "result": "passed", **TODAY}, detector(), [], "passed"),
    ({"what": "event", "kind": "dropped", **TODAY}, gloves(), [], ""),
    ({**WITHDRAWN, **TODAY}, gloves(), [], ""),
    (OUT, gloves(), [], ""),
    ({**OUT, "to": "crib"}, gloves(), [HELD], ""),
    ({"what": "issue", **TODAY}, gloves(), [], ""),
    (BACK, gloves(), [ISSUED], ""),
    (BACK, gloves(), [KEPT], ""),
    (BACK, gloves(), [ISSUED, WITHDRAWN], ""),
    ({"what": "hold", "why": "wet", **TODAY}, gloves(), [], ""),
    ({"what": "release", "by": "P9", **TODAY}, gloves(), [HELD], ""),
]


@pytest.mark.parametrize(("record", "piece", "before", "why"), REFUSED)
def test_what_cannot_be_entered_is_refused_for_its_reason(
    record: dict[str, Any], piece: dict[str, Any], before: list[dict[str, Any]], why: str
) -> None:
    assert offered(record, piece, *before) == Offered(why)


@pytest.mark.parametrize(("record", "piece", "before", "result"), TAKEN)
def test_what_can_be_entered_comes_to_its_result(
    record: dict[str, Any], piece: dict[str, Any], before: list[dict[str, Any]], result: str
) -> None:
    assert offered(record, piece, *before) == Offered("", result)
