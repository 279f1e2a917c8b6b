"""A fully issuable world; a test spoils one thing.

`world()` is a worked case of level decision as a plain dict: isolate-and-prove-dead on a 198-cell bus, one person, six
pieces, everything checked this morning.
"""

from __future__ import annotations

from copy import deepcopy
from datetime import date
from typing import Any

from app.decision.case.case import read_case
from app.decision.case.pieces import read_piece
from app.decision.domain.facts import Facts
from app.decision.domain.finding import Finding
from app.decision.domain.piece import Piece
from app.decision.domain.rule import CircuitRule, KitRule, PieceRule, Rule
from app.decision.domain.verdict import Verdict
from app.decision.judging.judge import judge
from app.decision.judging.worked_cases import facts_of

DAY = date(2026, 3, 2)
Table = dict[str, Any]


def look(**more: Any) -> Table:
    return {"what": "inspection", "on": DAY, "at": "07:00", "defects": [], **more}


def air_test(**more: Any) -> Table:
    return {"what": "air-test", "on": DAY, "at": "07:05", "left": "passed", "right": "passed", **more}


def self_test(**more: Any) -> Table:
    return {"what": "self-test", "on": DAY, "at": "07:06", "result": "passed", **more}


def electrical_test(**more: Any) -> Table:
    return {"what": "electrical-test", "on": date(2026, 1, 15), "result": "passed", "kind_of_current": "dc", **more}


def calibration(**more: Any) -> Table:
    return {"what": "calibration", "on": date(2026, 1, 15), "result": "passed", **more}


def event(kind: str, **more: Any) -> Table:
    return {"what": "event", "kind": kind, **more}


def gloves(code: str = "G1", insulation_class: str | None = "0", **more: Any) -> Table:
    piece = {
        "code": code, "kind": "rubber-gloves", "class": insulation_class, "class_system": "iec", "type": "I", "length_mm": 360,
        "size": 10, "first_issue": date(2025, 6, 1),
        "records": [electrical_test(), air_test(inflation=1.2)],
    }  # fmt: skip
    return {**piece, **more}


def protectors(code: str = "L1", **more: Any) -> Table:
    piece = {"code": code, "kind": "leather-protectors", "cut_for_class": "0", "length_mm": 310, "records": [look()]}
    return {**piece, **more}


def detector(code: str = "D1", **more: Any) -> Table:
    piece = {
        "code": code, "kind": "two-pole-detector", "fixed_leads": True, "marks": [["III", 1000], ["IV", 600]],
        "max_input_ac_v": 1000, "max_input_dc_v": 1500, "tip_mm": 2, "threshold_dc_v": 12, "threshold_ac_v": 12,
        "records": [look(), self_test()],
    }  # fmt: skip
    return {**piece, **more}


def proving_unit(code: str = "U1", **more: Any) -> Table:
    piece = {
        "code": code, "kind": "proving-unit", "output_dc_v": 690, "output_ac_v": 690,
        "records": [look(), self_test(at="07:07")],
    }  # fmt: skip
    return {**piece, **more}


def plain(code: str, kind: str, **more: Any) -> Table:
    return {"code": code, "kind": kind, "records": [look()], **more}


def world(**changes: Any) -> Table:
    """The good case; `changes` replace its top-level keys."""
    case: Table = {
        "id": "world", "source": "built for a test", "confidence": "H", "level": "decision", "on": DAY,
        "site": {"altitude_m": 140}, "expect": {},
        "person": {"code": "P1", "scopes": ["isolate"], "valid_until": date(2026, 12, 31), "glove_sizes": [10]},
        "job": {
            "task": "isolate-and-prove-dead",
            "circuits": [{
                "key": "traction", "supply": "isolated-dc", "category": "III",
                "cells": {"series": 198, "chemistry": "nmc", "max_v": 4.20},
            }],
        },
        "pieces": [
            gloves(), protectors(), detector(), proving_unit(), plain("B1", "barrier-set"), plain("K1", "lock-off-set"),
        ],
    }  # fmt: skip
    return {**deepcopy(case), **changes}


def facts(case: Table) -> Facts:
    return facts_of(read_case(case))


def verdict(case: Table) -> Verdict:
    return judge(facts(case))


def piece(table: Table) -> Piece:
    return read_piece(table, "")


def answers(rule: Rule, *pieces: Table, circuit: Table | None = None, **changes: Any) -> list[Finding]:
    """What one rule finds in the good world.

    `pieces` stand in place of the world's, and of them the first is asked about; `circuit` in place of its circuit.
    Other changes are laid over the world's own table of that name, so that an example says only what it is about.
    None anywhere: not known.
    """
    case = world(**({"pieces": [known(piece) for piece in pieces]} if pieces else {}))
    for key, change in changes.items():
        case[key] = known({**case.get(key, {}), **change}) if isinstance(change, dict) else change
    if circuit is not None:
        case["job"]["circuits"] = [{"key": "traction", "supply": "isolated-dc", **circuit}]
    question = facts(known(case))
    if isinstance(rule, PieceRule):
        return list(rule.check(question, question.pieces[0], question.rule_sets[0]))
    if isinstance(rule, CircuitRule):
        return list(rule.check(question, question.job.circuits[0]))
    assert isinstance(rule, KitRule)
    return list(rule.check(question))


def known(table: Table) -> Table:
    """The table without what is None; of a piece its records too."""
    records = {"records": [known(record) for record in table["records"]]} if "records" in table else {}
    return {key: value for key, value in {**table, **records}.items() if value is not None}


def asked(rule: Rule, *pieces: Table, **changes: Any) -> None:
    """Print what one rule finds in the good world, as `answers` asks it: outcome, why, figures, last good day."""
    for finding in answers(rule, *pieces, **changes):
        print(in_a_line(finding))


def in_a_line(finding: Finding) -> str:
    outcome = f"{finding.outcome.value} {finding.key.split('.')[-1]}"
    figures = [
        f"{word}{figure:g}{unit}" if isinstance(figure, float) else f"{word}{figure}{unit}"
        for word, figure in (("", finding.measured), ("required ", finding.required))
        if figure is not None
        for unit in [f" {finding.unit}" if finding.unit else ""]
    ]
    shown = f"{outcome}: {', '.join(figures)}" if figures else outcome
    return f"{shown}, last good day {finding.good_until}" if finding.good_until else shown


def stops(case: Table) -> set[str]:
    """The rules that stop a case."""
    return {one.rule for one in verdict(case).stops}
