"""The class stands the voltage: its maximum use voltage reaches what the circuit asks, DC for DC and AC for AC.

Met when the use voltage is at or above the required voltage, compared unrounded. Cannot tell when the class, the
limit or the working voltage is unknown, or a figure waits to be seen in print. On a DC circuit without a record of a
test with DC: gloves and other goods a caution, boots not met. Source: class tables of the sets;
EN 50321-1 for boots on DC.

>>> asked(RULE, gloves(insulation_class="0"))
met reaches: 1500 V, required 914.76 V
>>> asked(RULE, gloves(insulation_class="00"))
not-met short: 750 V, required 914.76 V
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.electrical_test import Judgement
from app.decision.domain.facts import Facts
from app.decision.domain.finding import Cause, Finding, Remedy, Renewal
from app.decision.domain.limits import Limit, RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.rule import PieceRule
from app.decision.domain.voltage import Circuit, Stress


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per circuit and kind of current."""
    asked = RULE.demand(piece.code, rule_set.basis(RULE.key, piece.kind))
    findings = facts.by_stress(asked, lambda circuit, stress: _under(facts, piece, rule_set, circuit, stress))
    currents = {stress.current for circuit in facts.job.circuits for stress in facts.stresses(circuit)}
    if "dc" in currents and not _is_dc_tested(facts, piece, rule_set):
        demand = RULE.demand(piece.code)
        key = "insulation-class-stands-voltage.no-dc-test"
        refused = demand.not_met(key, cause=Cause.NO_RECORD, remedy=Remedy.RETEST)
        findings.append(refused if facts.kind(piece).wants_dc_test else demand.caution(key))
    return findings


def _limit(piece: Piece, rule_set: RuleSet, stress: Stress) -> Limit | None:
    if piece.insulation_class is None or piece.class_system != rule_set.class_system:
        return None
    return rule_set.class_limit(piece.kind, piece.insulation_class, "use", stress.current)


def _under(facts: Facts, piece: Piece, rule_set: RuleSet, circuit: Circuit, stress: Stress) -> Finding:
    demand = RULE.demand(piece.code, rule_set.basis(RULE.key, piece.kind))
    limit = _limit(piece, rule_set, stress)
    if limit is None:
        asked: dict[str, object] = {"circuit": circuit.key, "required": stress.volts, "unit": "V"}
        if rule_set.class_limit(piece.kind, piece.insulation_class, "use", "ac") is None:
            return demand.cannot_tell("insulation-class-stands-voltage.class-unknown", **asked)
        return demand.cannot_tell(
            "insulation-class-stands-voltage.no-limit", current=stress.current, set=rule_set.title, **asked
        )
    # Where the shared table is only remembered to hold for this kind, that is what the finding rests on.
    leaning = rule_set.leaning(piece.kind)
    demand = demand.on((leaning or limit).basis(rule_set.key))
    values: dict[str, object] = {
        "circuit": circuit.key, "current": stress.current, "insulation_class": piece.insulation_class,
        "measured": limit.value / 1000, "required": stress.volts, "unit": "V",
    }  # fmt: skip
    if not stress.is_stood_by(limit.value):
        short = stress.volts - limit.value / 1000
        return demand.not_met("insulation-class-stands-voltage.short", shortfall_v=short, **values)
    for figure in (limit, leaning):
        if figure is not None and not facts.site.counts_as_seen(figure):
            return demand.not_in_print(figure.key, **values)
    return demand.met("insulation-class-stands-voltage.reaches", **values)


def _is_dc_tested(facts: Facts, piece: Piece, rule_set: RuleSet) -> bool:
    """Marked so; or, where the mark does not say otherwise, with a record of a test with DC that says something."""
    if piece.dc_tested is not None:
        return piece.dc_tested
    return any(_tells_of_dc(judgement, piece, rule_set) for judgement in facts.tested(piece, rule_set).judged)


def _tells_of_dc(judgement: Judgement, piece: Piece, rule_set: RuleSet) -> bool:
    """A passed test with DC; where no retest voltage is known, one the laboratory passed at the class's own volts."""
    test = judgement.test
    if test.kind_of_current != "dc" or judgement.result == "failed":
        return False
    if judgement.result == "passed":
        return True
    own = rule_set.class_limit(piece.kind, piece.insulation_class, "use", "dc")
    only_unknown = {note.cause for note in judgement.reasons} == {Cause.NOT_IN_PRINT}
    reaches = own is not None and test.test_v is not None and test.test_v * 1000 >= own.value
    return only_unknown and test.result == "passed" and reaches


RULE = PieceRule("insulation-class-stands-voltage", Renewal.EACH_ISSUE, "class tables of the sets", check)
