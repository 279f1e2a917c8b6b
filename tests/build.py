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
from app.decision.domain.piece import Piece
from app.decision.domain.verdict import Verdict
from app.decision.judging.judge import judge
from app.decision.judging.worked_cases import facts_of

DAY = date(2026, 3, 2)
Table = dict[str, Any]


def look(**more: Any) -> Table:
    return {"what": "inspection", "on": DAY, "at": "07:00", "defects": [], **more}


def gloves(code: str = "G1", **more: Any) -> Table:
    records = [
        {"what": "electrical-test", "on": date(2026, 1, 15), "result": "passed", "kind_of_current": "dc"},
        {"what": "air-test", "on": DAY, "at": "07:05", "left": "passed", "right": "passed", "inflation": 1.2},
    ]
    piece = {
        "code": code, "kind": "rubber-gloves", "class": "0", "class_system": "iec", "type": "I", "length_mm": 360,
        "size": 10, "first_issue": date(2025, 6, 1), "records": records,
    }  # fmt: skip
    return {**piece, **more}


def protectors(code: str = "L1", **more: Any) -> Table:
    piece = {"code": code, "kind": "leather-protectors", "cut_for_class": "0", "length_mm": 310, "records": [look()]}
    return {**piece, **more}


def detector(code: str = "D1", **more: Any) -> Table:
    piece = {
        "code": code, "kind": "two-pole-detector", "fixed_leads": True, "marks": [["III", 1000], ["IV", 600]],
        "max_input_ac_v": 1000, "max_input_dc_v": 1500, "tip_mm": 2, "threshold_dc_v": 12, "threshold_ac_v": 12,
        "records": [look(), {"what": "self-test", "on": DAY, "at": "07:06", "result": "passed"}],
    }  # fmt: skip
    return {**piece, **more}


def proving_unit(code: str = "U1", **more: Any) -> Table:
    piece = {
        "code": code, "kind": "proving-unit", "output_dc_v": 690, "output_ac_v": 690,
        "records": [look(), {"what": "self-test", "on": DAY, "at": "07:07", "result": "passed"}],
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


def stops(case: Table) -> set[str]:
    """The rules that stop a case."""
    return {one.rule for one in verdict(case).stops}
