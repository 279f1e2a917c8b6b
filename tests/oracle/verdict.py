"""The demands gathered, and the decision over their findings."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from . import chains, checks, electrical, gloves, job
from .electrical import Answer
from .world import KINDS_IN_SCOPE, MET, RULE_SET, Finding, OutOfScope, World, worst

PIECE_RULES: dict[str, Callable[..., Answer | None]] = {
    "not-held": checks.not_held,
    "at-hand": checks.at_hand,
    "not-withdrawn": checks.not_withdrawn,
    "class-known": gloves.class_known,
    "insulation-class-stands-voltage": gloves.insulation_class_stands_voltage,
    "voltage-mark-stands-voltage": checks.voltage_mark_stands_voltage,
    "electrical-test-counts": electrical.electrical_test_counts,
    "electrical-test-in-date": electrical.electrical_test_in_date,
    "no-open-event": electrical.no_open_event,
    "air-test-done": checks.air_test_done,
    "looked-over": checks.looked_over,
    "protectors-worn": gloves.protectors_worn,
    "cuff-clearance": gloves.cuff_clearance,
    "glove-fits-wearer": gloves.glove_fits_wearer,
    "repair-allowed": gloves.repair_allowed,
    "tip-exposure": checks.tip_exposure,
    "fuse-fit": checks.fuse_fit,
    "altitude-within-mark": checks.altitude_within_mark,
    "calibration-in-date": checks.calibration_in_date,
    "self-test-done": checks.self_test_done,
    "look-over-in-date": checks.look_over_in_date,
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
    answer, found = PIECE_RULES[rule], []
    for piece in world.pieces:
        answered = answer(world, piece)
        if answered is not None:
            found.append(Finding(rule, piece.code, *answered))
    return found


def _refuse_out_of_scope(case: dict[str, Any], asked: list[str]) -> None:
    if case.get("level", "decision") not in {"decision", "finding"}:
        raise OutOfScope(f"level {case['level']!r}")
    if list(case.get("rule_sets") or [RULE_SET]) != [RULE_SET]:
        raise OutOfScope(f"rule sets {case['rule_sets']!r}")
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
    groups: dict[tuple[str, str], list[Finding]] = {}
    for f in findings:
        groups.setdefault((f.rule, f.subject), []).append(f)
    merged = []
    for (rule, subject), group in groups.items():
        outcome = worst(f.outcome for f in group)
        days: list[date] = [f.good_until for f in group if f.good_until is not None]
        merged.append(Finding(rule, subject, outcome, min(days) if days and outcome == MET else None))
    return merged


def judge(case: dict[str, Any]) -> dict[str, Any]:
    """Decision and findings of one `[[case]]` table of level "decision" or "finding".

    Returns {"decision": "may-be-issued" | "refused", "findings": [{"rule", "subject", "outcome", "good_until"}, ...]}.
    Subjects are piece, person and circuit codes, "kit" and "second". At level finding only the rules the case expects
    are asked, and the decision is over those alone. Raises OutOfScope for what this judge was not written for.
    """
    expected = case.get("expect", {}).get("findings", []) if case.get("level") == "finding" else []
    asked = list(dict.fromkeys(e["rule"] for e in expected))
    _refuse_out_of_scope(case, asked)
    world = World(case)
    if world.as_finding:
        findings = _with_no_demands([f for rule in asked for f in _ask(world, rule)], expected)
    else:
        findings = [f for rule in (*PIECE_RULES, *KIT_RULES) for f in _ask(world, rule)]
    findings = _merged(findings)
    good = all(f.outcome == MET and (f.good_until is None or f.good_until >= world.until) for f in findings)
    return {
        "decision": "may-be-issued" if good and findings else "refused",
        "findings": [f._asdict() for f in findings],
    }
