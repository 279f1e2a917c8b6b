"""What lifts a hold at an issue: somebody's release, and the evidence that kind of hold asks."""

from __future__ import annotations

import pytest

from app.decision.domain.finding import Outcome
from app.decision.judging.judge import ask
from tests import build
from tests.build import Table

HOLD = {"what": "hold", "on": "2026-01-20"}
RELEASE = {"what": "release", "on": "2026-02-10", "by": "P9"}
TEST = {"what": "electrical-test", "on": "2026-02-01", "result": "passed"}
CUT = {"what": "inspection", "on": "2026-01-20", "defects": ["cut"]}
MENDED = {"what": "event", "kind": "patched", "on": "2026-01-25", "place": "cuff"}
WORN = {"what": "inspection", "on": "2026-01-20", "defects": ["mark-worn"]}
CLEAN = {"what": "inspection", "on": "2026-02-01", "defects": []}
REPLACED = {"what": "event", "kind": "repaired", "on": "2026-01-25", "repair": "new leads"}


def is_free(piece: Table, *records: Table, level: str = "decision") -> bool:
    case = build.world(pieces=[{**piece, "records": [*records, *piece["records"]]}], level=level)
    return all(one.outcome is Outcome.MET for one in ask(build.facts(case), {"not-held"}))


@pytest.mark.parametrize(
    ("records", "free"),
    [
        (({**HOLD, "why": "suspect"},), False),
        (({**HOLD, "why": "suspect"}, RELEASE), False),
        (({**HOLD, "why": "suspect"}, TEST, RELEASE), False),  # the test does not name it
        (({**HOLD, "why": "suspect"}, {**TEST, "after": "suspect"}, RELEASE), True),
        (({**HOLD, "why": "suspect"}, {**TEST, "after": "suspect"}), False),  # nobody released it
        (({**HOLD, "why": "suspect"}, {**TEST, "after": "suspect", "on": "2026-02-11"}, RELEASE), False),
        (({**HOLD, "why": "no-protectors"}, {**TEST, "after": "used-without-protectors"}, RELEASE), True),
        (({**HOLD, "why": "repair"}, {**TEST, "after": "repaired"}, RELEASE), True),
        (({**HOLD, "why": "failed"}, RELEASE), False),
        (({**HOLD, "why": "failed"}, TEST, RELEASE), True),
        (({**HOLD, "why": "recall"}, RELEASE), True),
        (({**HOLD, "why": "recall"}, {"what": "release", "on": "2026-02-10"}), False),
        (({**HOLD, "why": "recall"}, RELEASE, {**HOLD, "on": "2026-02-20", "why": "recall"}), False),
        ((CUT, RELEASE), False),
        ((CUT, MENDED, {**TEST, "after": "patched"}, RELEASE), True),
        ((CUT, {**TEST, "after": "patched"}, RELEASE), False),
    ],
)
def test_gloves(records: tuple[Table, ...], free: bool) -> None:
    assert is_free(build.gloves(), *records) is free


@pytest.mark.parametrize(
    ("records", "free"),
    [
        ((WORN, RELEASE), False), ((WORN, CLEAN, RELEASE), False), ((WORN, REPLACED, CLEAN, RELEASE), True),
        ((WORN, REPLACED, CLEAN), False), (({**HOLD, "why": "lead"}, REPLACED, CLEAN, RELEASE), True),
        (({**HOLD, "why": "lead"}, CLEAN, RELEASE), False), (({**HOLD, "why": "cap"}, RELEASE), False),
        (({**HOLD, "why": "mark"}, REPLACED, RELEASE), False),
        # Replaced before it was held, looked over before it was replaced, both on one day without hours.
        (({**HOLD, "why": "lead"}, {**REPLACED, "on": "2026-01-10"}, CLEAN, RELEASE), False),
        (({**HOLD, "why": "lead"}, {**REPLACED, "on": "2026-02-02"}, CLEAN, RELEASE), False),
        (({**HOLD, "why": "lead"}, {**REPLACED, "on": "2026-02-01"}, CLEAN, RELEASE), False),
        (({**HOLD, "why": "lead"}, {**REPLACED, "on": "2026-02-01", "at": "08:00"}, {**CLEAN, "at": "08:01"}, RELEASE), True),
        (({**HOLD, "why": "lead"}, {**REPLACED, "kind": "patched"}, CLEAN, RELEASE), False),
    ],
)  # fmt: skip
def test_a_part_of_a_detector_is_replaced_and_inspected(records: tuple[Table, ...], free: bool) -> None:
    assert is_free(build.detector(), *records) is free


def test_a_defect_of_anything_else_is_never_lifted() -> None:
    assert not is_free(build.plain("K1", "lock-off-set"), WORN, REPLACED, CLEAN, RELEASE)


def test_a_worked_case_of_level_finding_asks_for_the_evidence_and_not_by_whom() -> None:
    nobody = {key: value for key, value in RELEASE.items() if key != "by"}
    held = {**HOLD, "why": "suspect"}
    tested = {"what": "electrical-test", "on": "2026-02-01", "result": "passed", "after": "suspect"}
    assert not is_free(build.gloves(), held, RELEASE, level="finding")
    assert is_free(build.gloves(), held, tested, nobody, level="finding")
    assert not is_free(build.gloves(), held, tested, nobody)


SOUND = {"what": "air-test", "on": "2026-02-01", "left": "passed", "right": "passed"}


@pytest.mark.parametrize(
    ("air", "free"),
    [
        (SOUND, True), ({**SOUND, "right": "failed"}, False), ({**SOUND, "left": "failed"}, False),
        ({**SOUND, "defects": ["cut"]}, False), ({**SOUND, "on": "2026-01-19"}, False),
        ({**SOUND, "on": "2026-02-11"}, False), ({key: SOUND[key] for key in ("what", "on", "left")}, False),
    ],
)  # fmt: skip
def test_an_air_test_of_both_hands_is_the_inspection_that_lifts_a_hold_of_gloves(air: Table, free: bool) -> None:
    bare = build.gloves(records=[build.gloves()["records"][0]])
    assert is_free(bare, {**HOLD, "why": "taken-without-issue"}, air, RELEASE) is free


@pytest.mark.parametrize(("repaired", "free"), [("2026-01-20", True), ("2026-01-19", False)])
def test_a_repair_of_the_day_of_the_defect_came_after_it(repaired: str, free: bool) -> None:
    mended, tested = {**MENDED, "on": repaired}, {**TEST, "after": "patched"}
    assert is_free(build.gloves(), CUT, mended, tested, RELEASE) is free


def test_one_release_with_its_evidence_lifts_a_hold_that_another_did_not() -> None:
    held, early = {**HOLD, "why": "suspect"}, {**RELEASE, "on": "2026-01-25"}
    assert is_free(build.gloves(), held, early, {**TEST, "after": "suspect"}, RELEASE)
