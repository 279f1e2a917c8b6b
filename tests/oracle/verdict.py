"""The demands gathered, and the decision over their findings."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from . import chains, checks, electrical, gloves, goods, job
from .electrical import Answer
from .sets import (
    CALIBRATED,
    CLASSED,
    DEFAULT_SET,
    GLOVES,
    INSPECTED_YEARLY,
    KINDS_IN_SCOPE,
    MARKED_IN_VOLTS,
    SETS,
    TOOLS,
    RuleSet,
)
from .world import MET, Finding, OutOfScope, Piece, World, worst

PieceRule = Callable[[World, Piece], Answer | None]
# Each rule of single pieces with the kinds it is asked of; a function may still find that it makes no demand.
PIECE_RULES: dict[str, tuple[PieceRule, frozenset[str]]] = {
    "not-held": (checks.not_held, KINDS_IN_SCOPE),
    "at-hand": (checks.at_hand, KINDS_IN_SCOPE),
    "not-withdrawn": (checks.not_withdrawn, KINDS_IN_SCOPE),
    "class-known": (goods.class_known, frozenset(CLASSED)),
    "insulation-class-stands-voltage": (goods.insulation_class_stands_voltage, frozenset(CLASSED)),
    "voltage-mark-stands-voltage": (checks.voltage_mark_stands_voltage, frozenset(MARKED_IN_VOLTS)),
    "electrical-test-counts": (electrical.electrical_test_counts, frozenset(CLASSED)),
    "electrical-test-in-date": (electrical.electrical_test_in_date, frozenset(CLASSED)),
    "no-open-event": (electrical.no_open_event, KINDS_IN_SCOPE),
    "air-test-done": (checks.air_test_done, frozenset(GLOVES)),
    "inspected": (checks.inspected, KINDS_IN_SCOPE),
    "protectors-worn": (gloves.protectors_worn, frozenset(GLOVES)),
    "cuff-clearance": (gloves.cuff_clearance, frozenset(GLOVES)),
    "glove-fits-wearer": (gloves.glove_fits_wearer, frozenset(GLOVES)),
    "repair-allowed": (goods.repair_allowed, frozenset(CLASSED)),
    "tip-exposure": (checks.tip_exposure, frozenset(checks.MEASURING)),
    "fuse-fit": (checks.fuse_fit, frozenset(checks.MEASURING)),
    "altitude-within-mark": (checks.altitude_within_mark, frozenset((*checks.MEASURING, "proving-unit"))),
    "calibration-in-date": (checks.calibration_in_date, frozenset(CALIBRATED)),
    "self-test-done": (checks.self_test_done, frozenset({"two-pole-detector", "proving-unit"})),
    "inspection-in-date": (checks.inspection_in_date, frozenset((*TOOLS, *INSPECTED_YEARLY))),
}
KIT_RULES: dict[str, Callable[[World], list[Finding]]] = {
    "protector-fits-class": gloves.protector_fits_class,
    "chain-stands-voltage": chains.chain_stands_voltage,
    "chain-complete": chains.chain_complete,
    "input-stands-voltage": chains.input_stands_voltage,
    "proving-unit-fits": chains.proving_unit_fits,
    "instrument-suits-task": chains.instrument_suits_task,
    "task-roles-filled": job.task_roles_filled,
    "person-authorised": job.person_authorised,
    "second-person-present": job.second_person_present,
    "working-voltage-known": job.working_voltage_known,
    "circuit-in-scope": job.circuit_in_scope,
    "data-agrees-with-reading": job.data_agrees_with_reading,
    "arc-rating": job.arc_rating,
    "no-piece-twice": job.no_piece_twice,
    "place-dry": job.place_dry,
}
# The format writes a pair as one piece and has no key for a hand of another pair, so nothing written can break this.
WITHOUT_A_KEY = frozenset({"hands-belong-together"})
RULES_IN_SCOPE = frozenset(PIECE_RULES) | frozenset(KIT_RULES) | WITHOUT_A_KEY


def _ask(world: World, rule: str) -> list[Finding]:
    if rule in WITHOUT_A_KEY:
        return []
    if rule in KIT_RULES:
        return KIT_RULES[rule](world)
    answer, kinds = PIECE_RULES[rule]
    asked = world.pieces if kinds is KINDS_IN_SCOPE else [p for p in world.pieces if p.kind in kinds]
    answers = [(piece.code, answer(world, piece)) for piece in asked]
    return [Finding(rule, code, *answered) for code, answered in answers if answered is not None]


def _refuse_out_of_scope(case: dict[str, Any], asked: list[str]) -> None:
    if case.get("level", "decision") not in {"decision", "finding"}:
        raise OutOfScope(f"level {case['level']!r}")
    for name in case.get("rule_sets") or [DEFAULT_SET]:
        if name not in SETS:
            raise OutOfScope(f"rule set {name!r}")
    for piece in case.get("pieces", []):
        if piece.get("kind") not in KINDS_IN_SCOPE:
            raise OutOfScope(f"kind {piece.get('kind')!r}")
    for rule in asked:
        if rule not in RULES_IN_SCOPE:
            raise OutOfScope(f"rule {rule!r}")


def _with_no_demands(findings: list[Finding], expected: list[dict[str, Any]]) -> list[Finding]:
    """At level finding a rule that makes no demand of the subject asked after is met, without a good day."""
    answered = {(f.rule, f.subject) for f in findings}
    rules = {f.rule for f in findings}
    for e in expected:
        subject = e.get("subject", "")
        if (e["rule"], subject) not in answered and (subject or e["rule"] not in rules):
            findings.append(Finding(e["rule"], subject, MET))
    return findings


def _merged(findings: list[Finding]) -> list[Finding]:
    """One finding per rule and subject: the worst outcome and the earliest last good day."""
    merged: dict[tuple[str, str], Finding] = {}
    for f in findings:
        about = (f.rule, f.subject)
        # Only a met finding lasts until a day.
        one = f if f.good_until is None or f.outcome == MET else f._replace(good_until=None)
        other = merged.get(about)
        merged[about] = one if other is None else _the_worse(one, other)
    return list(merged.values())


def _the_worse(one: Finding, other: Finding) -> Finding:
    if one.outcome != other.outcome:
        return one if worst((one.outcome, other.outcome)) == one.outcome else other
    days: list[date] = [f.good_until for f in (one, other) if f.good_until is not None]
    return one._replace(good_until=min(days, default=None))


def _by_set(case: dict[str, Any], rule_set: RuleSet, asked: list[str]) -> list[Finding]:
    """What one rule set finds: only the rules asked after at level finding, every rule at level decision."""
    world = World(case, rule_set)
    rules = asked if world.as_finding else (*PIECE_RULES, *KIT_RULES)
    return [f for rule in rules for f in _ask(world, rule)]


def judge(case: dict[str, Any]) -> dict[str, Any]:
    """Decision and findings of one `[[case]]` table of level "decision" or "finding".

    Returns {"decision": "may-be-issued" | "refused", "findings": [{"rule", "subject", "outcome", "good_until"}, ...]}.
    Subjects are piece, person and circuit codes, "kit" and "second". At level finding only the rules the case expects
    are asked, and the decision is over those alone. Raises OutOfScope for what this judge was not written for.
    """
    expected = case.get("expect", {}).get("findings", []) if case.get("level") == "finding" else []
    asked = list(dict.fromkeys(e["rule"] for e in expected))
    _refuse_out_of_scope(case, asked)
    names = dict.fromkeys(case.get("rule_sets") or [DEFAULT_SET])
    # Each set judges by itself; what they find is laid together, and all must allow.
    findings = [f for name in names for f in _by_set(case, SETS[name], asked)]
    if case.get("level") == "finding":
        findings = _with_no_demands(findings, expected)
    findings = _merged(findings)
    until = max(case.get("until") or case["on"], case["on"])
    good = all(f.outcome == MET and (f.good_until is None or f.good_until >= until) for f in findings)
    return {
        "decision": "may-be-issued" if good and findings else "refused",
        "findings": [
            {"rule": rule, "subject": subject, "outcome": outcome, "good_until": good_until}
            for rule, subject, outcome, good_until in findings
        ],
    }
