"""The class stands the voltage: its maximum use voltage reaches what the circuit asks, DC for DC and AC for AC.

Met when the use voltage is at or above the required voltage, compared unrounded. Cannot tell when the class, the
limit or the working voltage is unknown. Gloves without a DC test record on a DC circuit: caution.
Source: 1910.137(c)(2)(i), Table I-4; DC volts from the IEC family's class table.
"""

from __future__ import annotations

from collections.abc import Iterable

from app.domain.facts import Facts
from app.domain.finding import Basis, Finding, Renewal
from app.domain.limits import Limit, RuleSet
from app.domain.piece import Piece
from app.domain.record import ElectricalTest
from app.domain.rule import PieceRule
from app.domain.voltage import Circuit, Stress


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per circuit and kind of current."""
    found: list[Finding] = []
    for circuit in facts.job.circuits:
        stresses = facts.stresses(circuit)
        if not stresses:
            demand = RULE.demand(piece.code, Basis("1910.137(c)(2)(i), Table I-4", "S", rule_set.key))
            found.append(demand.cannot_tell("stands.voltage-unknown", circuit=circuit.key))
        found += [_one(facts, piece, rule_set, circuit, stress) for stress in stresses]
    currents = {stress.current for circuit in facts.job.circuits for stress in facts.stresses(circuit)}
    if "dc" in currents and not _is_dc_tested(facts, piece):
        found.append(RULE.demand(piece.code).caution("insulation-class-stands-voltage.no-dc-test"))
    return found


def _limit(piece: Piece, rule_set: RuleSet, stress: Stress) -> Limit | None:
    if piece.insulation_class is None or piece.class_system != rule_set.class_system:
        return None
    return rule_set.limit("use", stress.current, piece.insulation_class)


def _one(facts: Facts, piece: Piece, rule_set: RuleSet, circuit: Circuit, stress: Stress) -> Finding:
    demand = RULE.demand(piece.code, Basis("1910.137(c)(2)(i), Table I-4", "S", rule_set.key))
    limit = _limit(piece, rule_set, stress)
    if limit is None:
        return demand.cannot_tell(
            "insulation-class-stands-voltage.class-unknown", circuit=circuit.key, required=stress.volts, unit="V"
        )
    demand = demand.on(limit.basis(rule_set.key))
    values: dict[str, object] = {
        "circuit": circuit.key, "current": stress.current, "insulation_class": piece.insulation_class,
        "measured": limit.value / 1000, "required": stress.volts, "unit": "V",
    }  # fmt: skip
    if not stress.is_stood_by(limit.value):
        short = stress.volts - limit.value / 1000
        return demand.not_met("insulation-class-stands-voltage.short", shortfall_v=short, **values)
    if not facts.site.counts_as_seen(limit):
        return demand.cannot_tell("limit-not-seen-in-print", limit=limit.key, **values)
    return demand.met("insulation-class-stands-voltage.reaches", **values)


def _is_dc_tested(facts: Facts, piece: Piece) -> bool:
    tests = facts.history(piece).all(ElectricalTest)
    return piece.dc_tested is True or any(test.kind_of_current == "dc" for test in tests)


RULE = PieceRule("insulation-class-stands-voltage", Renewal.EACH_ISSUE, "1910.137(c)(2)(i), Table I-4", check)
