"""The place is not above the altitude the instrument or lead is made for; 2,000 m where its maker says nothing.

A site that does not state its altitude counts as up to 2,000 m, with a caution. Stepping the rating down is advice and
never changes this: where a mark's impulse and the next lower one can be named, they ride along with a refusal.
Source: IEC 61243-3 scope (P); makers' sheets for meters (S); the advice: IEC 60664-1:2020 Table A.2 (S) and clearances
from memory (M).

>>> asked(RULE, detector(max_altitude_m=2000), site={"altitude_m": 2000})
met within: 2000 m, required 2000 m
>>> asked(RULE, detector(max_altitude_m=1000), site={"altitude_m": 1001})
not-met above: 1001 m, required 1000 m
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from app.decision.domain.altitude import step_down
from app.decision.domain.chain import Mark
from app.decision.domain.facts import Facts
from app.decision.domain.finding import Basis, Demand, Finding, Renewal
from app.decision.domain.impulse import rated_v
from app.decision.domain.limits import RuleSet
from app.decision.domain.member import member
from app.decision.domain.piece import Piece
from app.decision.domain.rule import PieceRule

_ADVICE = Basis("IEC 60664-1:2020, Table A.2; clearances from memory", "M", "house")


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece; above the mark also one caution for each mark whose step down can be named."""
    del rule_set
    silent = facts.house.limits["altitude-if-silent"]
    demand = RULE.demand(piece.code, silent.basis("house"))
    limit = silent.value if piece.max_altitude_m is None else piece.max_altitude_m
    site = facts.site.altitude_m
    height = silent.value if site is None else site
    if height > limit:
        advice = tuple(_advice(facts, piece, height))
        lowest = {"advice": min(left for _, _, left in advice)} if advice else {}
        refused = demand.not_met("altitude-within-mark.above", measured=height, required=limit, unit="m", **lowest)
        return [refused, *_cautions(demand.on(_ADVICE), advice, height)]
    findings = [demand.met("altitude-within-mark.within", measured=height, required=limit, unit="m")]
    if site is None:
        findings.append(demand.caution("altitude-within-mark.site-not-stated", required=limit, unit="m"))
    return findings


def _cautions(demand: Demand, advice: Iterable[tuple[Mark, int, int]], height: int) -> Iterator[Finding]:
    for mark, rated, left in advice:
        yield demand.caution(
            "altitude-within-mark.step-down-advice", category=mark.category, marked_v=mark.mv / 1000, rated_v=rated,
            advice_v=left, altitude_m=height,
        )  # fmt: skip


def _advice(facts: Facts, piece: Piece, height: int) -> Iterator[tuple[Mark, int, int]]:
    """Mark, its impulse and what is left of it, in volts.

    The clearance is taken as that of 2,000 m even where a higher mark is printed, which never flatters the piece;
    where thin air takes nothing away yet there is no advice.
    """
    used = member(facts, piece)
    marks = used.marks if used.caps in (None, "present") else used.marks_cap_off
    for mark in dict.fromkeys(marks or ()):
        rated = rated_v(mark)
        left = None if rated is None else step_down(rated, height)
        if rated is not None and left is not None and left < rated:
            yield mark, rated, left


RULE = PieceRule("altitude-within-mark", Renewal.EACH_ISSUE, "IEC 61243-3 scope; makers' sheets", check)
