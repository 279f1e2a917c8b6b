"""A decision and a due list as the values the pictures take: the verdict's own figures, nothing worked out again."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from typing import Literal

from app.decision.domain.calendar import Day
from app.decision.domain.finding import Finding
from app.decision.domain.piece import Piece
from app.decision.domain.voltage import X10K, Circuit
from app.decision.judging.answers import DueAnswer, KitAnswer
from app.decision.judging.status import Status
from app.outputs.documents.due_list import why
from app.outputs.pictures.due_sheet import DueSheet
from app.outputs.pictures.due_value import DueRibbon
from app.outputs.pictures.headroom_value import Bar, Headroom, Member
from app.words.saying import limit_said, number, say
from app.words.vocabulary import KINDS, STATUSES, SUPPLIES

_PIECE_RULES = ("insulation-class-stands-voltage", "voltage-mark-stands-voltage")
_HELD_BACK = frozenset(
    {"on-hold", "out", "away", "lost", "withdrawn", "cannot-tell", "certificate-not-seen", "not-tested"}
)


def headroom_of(answer: KitAnswer, circuit: Circuit) -> Headroom:
    """One circuit's headroom: a bar for each piece that has to stand the voltage, one for each chain."""
    needed = answer.facts.required(circuit)
    findings = [finding for finding in answer.verdict.findings if finding.values.get("circuit") == circuit.key]
    stress = next(iter(answer.facts.stresses(circuit)), None)
    current = None if stress is None else stress.current
    return Headroom(
        system=say(f"headroom.{answer.verdict.decision}", {"system": answer.system.name}),
        circuit=circuit.key,
        supply=SUPPLIES[circuit.supply],
        working_mv=None if needed is None else needed.mv,
        required_mv=None if stress is None else -(-stress.x10k // X10K),
        margin_percent="" if needed is None else f"{number(needed.margin_bp / 100)} %",
        bars=tuple(_bars(answer, findings, current)),
        caution=say("caution.check", {}),
    )


def narrowest(answer: KitAnswer) -> Circuit | None:
    """The circuit whose shortest bar stands worst to the line, figures missing worst of all; None without circuits."""
    circuits = answer.facts.job.circuits

    def room(circuit: Circuit) -> float:
        value = headroom_of(answer, circuit)
        if value.required_mv is None:
            return float("-inf")
        needed = value.required_mv
        rooms = (float("-inf") if bar.offers_mv is None else bar.offers_mv - needed for bar in value.bars)
        return min(rooms, default=float("inf"))

    return min(circuits, key=room, default=None)


def _bars(answer: KitAnswer, findings: list[Finding], current: str | None) -> list[Bar]:
    by_code = {piece.code: piece for piece in answer.facts.pieces}
    bars: list[Bar] = []
    for finding in findings:
        if finding.rule in _PIECE_RULES and finding.values.get("current", current) == current:
            bars.append(Bar(finding.subject, KINDS[by_code[finding.subject].kind], _millivolts(finding.measured)))
        if finding.rule == "chain-stands-voltage":
            bars.append(_chain(finding, by_code))
    shown = {bar.code: bar for bar in bars}
    return list(shown.values())


def _chain(finding: Finding, by_code: dict[str, Piece]) -> Bar:
    offers = finding.values.get("offers", ())
    assert isinstance(offers, tuple)
    members = tuple(Member(code, KINDS[by_code[code].kind], mv) for code, mv in offers)
    if len(members) == 1:
        return Bar(finding.subject, members[0].label, _millivolts(finding.measured))
    shortest = finding.values.get("member")
    return Bar(
        finding.subject, KINDS[by_code[members[0].code].kind] if members else "", _millivolts(finding.measured), True,
        members, None if shortest is None else str(shortest),
    )  # fmt: skip


def _millivolts(volts: object) -> int | None:
    return round(volts * 1000) if isinstance(volts, (int, float)) else None


def ribbon_of(status: Status, warning_days: int) -> DueRibbon:
    """One piece's due ribbon, with every limit that was weighed."""
    first = status.first_issue
    limits = tuple((limit_said(key), day) for day, key in status.weighed)
    return DueRibbon(
        code=status.piece.code,
        label=KINDS[status.piece.kind],
        test_on=status.counted_from,
        first_issue_on=first.first if isinstance(first, Day) else first,
        today=status.today,
        due_on=status.due_on,
        warning_from=None if status.use_until is None else status.use_until - timedelta(days=warning_days),
        limits=limits,
        deciding=limit_said(status.decides),
        status=STATUSES[status.state],
        sentence=why(status),
        is_held_back=status.state in _HELD_BACK,
        is_undated=not status.is_dated,
        counted=_COUNTED.get(status.decides.partition("/")[0], "tested"),
    )


_COUNTED: Mapping[str, Literal["calibrated", "inspected", "air-tested"]] = {
    "calibration": "calibrated", "inspection": "inspected", "exempted": "air-tested",
}  # fmt: skip


def due_sheet_of(answer: DueAnswer, heading: str) -> DueSheet:
    """The due list as one picture, in the list's own order."""
    days = answer.facts.site.warning_days
    return DueSheet(heading, answer.question.on, tuple(ribbon_of(row.status, days) for row in answer.rows))
