"""The instrument suits the task: a two-pole detector proves dead; a multimeter only where the profile allows it.

Under gs38 a multimeter refuses unless every circuit's card says the vehicle maker's procedure names one; under iec it
is a caution. A clamp meter, and an insulation tester, which puts its own volts on, never prove dead. A detector whose
threshold lies above 60 V DC or 30 V AC is cautioned: by indication alone it proves nothing below its threshold.
Source: GS38; house policy.

>>> asked(RULE, detector(), job={"task": "isolate-and-prove-dead"})
met detector
>>> asked(RULE, plain("M1", "multimeter"), job={"task": "isolate-and-prove-dead"})
not-met multimeter
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Basis, Demand, Finding, Renewal
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.rule import PieceRule
from app.decision.domain.voltage import CLASS_A_AC_MV, CLASS_A_DC_MV


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per instrument, cautions beside it."""
    del rule_set
    demand = RULE.demand(piece.code, Basis("GS38, proving dead; house policy", "S", "house"))
    task = facts.job.task
    if task is None or not task.proves_dead:
        return [demand.met("instrument-suits-task.not-asked")]
    if facts.kind(piece).is_detector:
        return [demand.met("instrument-suits-task.detector"), *_threshold(piece, demand)]
    if piece.kind != "multimeter":
        return [demand.not_met("instrument-suits-task.other", what=piece.kind)]
    is_named = bool(facts.job.circuits) and all(circuit.maker_names_multimeter for circuit in facts.job.circuits)
    if facts.tip_profile() == "gs38" and not is_named:
        return [demand.not_met("instrument-suits-task.multimeter")]
    return [demand.met("instrument-suits-task.multimeter-named"), demand.caution("instrument-suits-task.multimeter")]


def _threshold(piece: Piece, demand: Demand) -> list[Finding]:
    above = (piece.threshold_dc_mv or 0) > CLASS_A_DC_MV or (piece.threshold_ac_mv or 0) > CLASS_A_AC_MV
    return [demand.caution("instrument-suits-task.threshold")] if above else []


RULE = PieceRule("instrument-suits-task", Renewal.EACH_ISSUE, "GS38; house policy", check)
