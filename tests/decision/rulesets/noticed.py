"""Asking worked cases for one that fails, the likeliest first: the answer is the same in any order."""

from __future__ import annotations

import sys
from collections.abc import Collection, Iterable
from functools import cache
from pathlib import Path
from types import ModuleType

import pytest
from msgspec.structs import replace

from app.decision.case.case import Case
from app.decision.domain.limits import RuleSet
from app.decision.domain.record import ElectricalTest
from app.decision.fields.words import CLASSES, RULE_SETS
from app.decision.judging.catalogues import Catalogues, catalogues
from app.decision.judging.worked_cases import run_case
from app.decision.kinds import kinds
from tests.decision.rulesets.test_cases import OURS, cases_of

# Every module that judges a case has the function under its own name: found, not listed, so that none is forgotten.
MODULES: tuple[ModuleType, ...] = tuple(
    module
    for name, module in sorted(sys.modules.items())
    if name.startswith("app.") and getattr(module, "catalogues", None) is catalogues
)
# What a part of a figure's key is about, in the words a case is known by.
_ABOUT = {
    "use": "rule:insulation-class-stands-voltage",
    "class-table": "rule:insulation-class-stands-voltage",
    "phase-to-earth": "rule:insulation-class-stands-voltage",
    "retest": "rule:electrical-test-counts",
    "current": "rule:electrical-test-counts",
    "withstand": "level:entry",
    "test-dwell": "level:entry",
    "bare": "rule:protectors-worn",
    "repair-place": "rule:repair-allowed",
    "trim-least": "rule:repair-allowed",
    "interval": "rule:electrical-test-in-date",
    "dielectric-exempt": "rule:electrical-test-in-date",
    "keep-record": "what:keep-record-until",
    "inflation": "rule:air-test-done",
    "calibration-months": "rule:calibration-in-date",
    "inspection-months": "rule:inspection-in-date",
    "derived-clearance-allowance": "rule:cuff-clearance",
    "clearance": "rule:cuff-clearance",
    "glove-size-step": "rule:glove-fits-wearer",
    "altitude-if-silent": "rule:altitude-within-mark",
    "tip": "rule:tip-exposure",
    "leather": "rule:protector-fits-class",
    "arc": "rule:arc-rating",
}


def fails(case: Case) -> bool:
    """Whether a case no longer comes out as written."""
    return run_case(case).state != "passed"


Known = tuple[tuple[frozenset[str], Case], ...]


@cache
def _written(path: Path) -> str:
    return path.read_text(encoding="utf-8")


@cache
def house_cases() -> Known:
    """The cases of every file that is not one set's own, the shipped set's beside them."""
    own = {key.replace("-", "_") for key in RULE_SETS} - {"us_osha_137"}
    return _known(case for path in OURS if path.stem not in own for case in cases_of(path))


@cache
def cases_naming(rule_set: str) -> Known:
    """Every case judged under this set, alone or with others."""
    files = [path for path in OURS if f'"{rule_set}"' in _written(path)]
    return _known(case for path in files for case in cases_of(path) if _names(case, rule_set))


def _known(cases: Iterable[Case]) -> Known:
    """Cases with the words each is known by, those first that are soonest judged."""
    quick = sorted(cases, key=lambda one: (one.level == "decision", len(one.pieces)))
    return tuple((_words(case), case) for case in quick)


def _names(case: Case, rule_set: str) -> bool:
    return case.ask.get("rule_set") == rule_set if case.level == "calculation" else rule_set in case.rule_sets


def _words(case: Case) -> frozenset[str]:
    """What a case is about: level, kinds, classes, lengths, currents, rules."""
    tests = [record for piece in case.pieces for record in piece.records if isinstance(record, ElectricalTest)]
    currents = {test.kind_of_current for test in tests} | {case.entry.get("kind_of_current")}
    currents |= {"ac" if circuit.supply.startswith("ac-") else "dc" for circuit in case.job.circuits}
    return frozenset(
        {f"level:{case.level}", f"what:{case.ask.get('what')}", f"kind:{case.ask.get('kind')}"}
        | {f"kind:{piece.kind}" for piece in case.pieces}
        | {f"class:{piece.insulation_class}" for piece in case.pieces}
        | {f"mm:{piece.length_um // 1000}" for piece in case.pieces if piece.length_um is not None}
        | {f"flow:{current}" for current in currents}
        | {f"rule:{expected.rule}" for expected in case.expected}
    )


def about(*parts: str) -> frozenset[str]:
    """The words of a figure's key, or of a kind, class or rule."""
    found = set()
    for part in parts:
        if part in kinds():
            found.add(f"kind:{part}")
        elif part in CLASSES:
            found.add(f"class:{part}")
        elif part in ("ac", "dc"):
            found.add(f"flow:{part}")
        elif part.isdecimal():
            found.add(f"mm:{part}")
        else:
            found.add(_ABOUT.get(part, part))
    return frozenset(found)


def some_fails(cases: Known, words: Collection[str]) -> bool:
    """Whether any of the cases fails now; asked first are those that share most words, left out is none."""
    ordered = sorted(cases, key=lambda one: -len(one[0].intersection(words)))
    return any(fails(case) for _, case in ordered)


def notice(changed: RuleSet, words: Collection[str], monkeypatch: pytest.MonkeyPatch) -> bool:
    """Whether some case that names the set fails under the changed one."""
    known = catalogues()
    with monkeypatch.context() as patch:
        put(replace(known, rule_sets={**known.rule_sets, changed.key: changed}), patch)
        return some_fails(cases_naming(changed.key), words)


def put(known: Catalogues, patch: pytest.MonkeyPatch) -> None:
    """Let everything that judges see these catalogues."""
    for module in MODULES:
        patch.setattr(module, "catalogues", lambda: known)
