"""Custody, wearers and the second person: who may have what, and which pair goes to whom."""

from __future__ import annotations

from typing import Any

import pytest

from app.decision.judging.judge import ask
from tests import build
from tests.build import DAY, Table

SECOND = {"code": "P2", "glove_sizes": [8]}
LIVE = {"code": "P1", "scopes": ["live"], "valid_until": "2026-12-31", "glove_sizes": [10]}


def told(rule: str, case: Table) -> set[tuple[str, str]]:
    found = ask(build.facts(case), {rule})
    return {(one.subject, one.key) for one in found if one.outcome.value != "caution" and one.key != "no-demand"}


@pytest.mark.parametrize("task", ["isolate-and-prove-dead", "work-in-open-live-pack"])
def test_nobody_is_their_own_second_person_asked_or_not(task: str) -> None:
    case = {**build.world(), "second": {"code": "P1", "glove_sizes": [10]}}
    case["job"]["task"] = task
    assert told("second-person-present", case) == {("kit", "second-person-present.same")}


def barrier(*records: Table, **keys: Any) -> Table:
    return build.plain("B1", "barrier-set", records=list(records), **keys)


def move(to: str, at: str | None = None, on: object = DAY) -> Table:
    found: Table = {"what": "hand-over", "on": on, "to": to}
    return found if at is None else {**found, "at": at}


def back(at: str | None = None, on: object = DAY) -> Table:
    found: Table = {"what": "return", "on": on}
    return found if at is None else {**found, "at": at}


@pytest.mark.parametrize(
    ("piece", "key"),
    [
        (barrier(), "at-hand.here"),
        (barrier(custody="P1"), "at-hand.here"),
        (barrier(custody="P2"), "at-hand.here"),
        (barrier(custody="P9"), "at-hand.elsewhere"),
        (barrier(move("P1")), "at-hand.here"),
        (barrier(move("V7")), "at-hand.elsewhere"),
        (barrier(move("V7", on="2026-02-27"), back(on="2026-02-28")), "at-hand.here"),
        # Handed over and returned on one day without times: it may still be out.
        (barrier(move("V7"), back()), "at-hand.elsewhere"),
        (barrier(move("V7", "07:00"), back("08:00")), "at-hand.here"),
        (barrier(move("V7", "08:00"), back("07:00")), "at-hand.elsewhere"),
        # A month that may reach up to today counts as today against the piece.
        (barrier(move("V7", on="2026-03"), back(on="2026-03-01")), "at-hand.elsewhere"),
        (barrier(move("V7", on="2026-02"), back(on="2026-03-01")), "at-hand.here"),
        # Stated with the doer, moved elsewhere since: one of the two is wrong.
        (barrier(move("V7", on="2026-02-27"), custody="P1"), "at-hand.elsewhere"),
        (barrier({"what": "issue", "on": "2026-02-27"}), "at-hand.out"),
        (barrier({"what": "issue", "on": "2026-02-27"}, back(on="2026-02-27")), "at-hand.out"),
        (barrier({"what": "issue", "on": "2026-02-27"}, back(on="2026-02-28")), "at-hand.here"),
    ],
)
def test_at_hand(piece: Table, key: str) -> None:
    assert told("at-hand", build.world(pieces=[piece], second=SECOND)) == {("B1", key)}


def test_without_a_second_person_their_kit_is_another_persons() -> None:
    assert told("at-hand", build.world(pieces=[barrier(custody="P2")])) == {("B1", "at-hand.elsewhere")}


def live(*gloves: Table, second: Table = SECOND) -> Table:
    return build.world(pieces=list(gloves), person=LIVE, second=second,
                       job={"task": "work-in-open-live-pack", "circuits": []})  # fmt: skip


def pair(code: str, size: float | None, custody: str = "crib") -> Table:
    made = build.gloves(code, custody=custody)
    if size is None:
        del made["size"]
    else:
        made["size"] = size
    return made


@pytest.mark.parametrize(
    ("gloves", "keys"),
    [
        ([("G1", 10), ("G2", 8)], {"G1": "fits", "G2": "fits"}),
        ([("G1", 8), ("G2", 10)], {"G1": "fits", "G2": "fits"}),
        ([("G1", 9), ("G2", 9)], {"G1": "fits", "G2": "fits"}),
        ([("G1", 10), ("G2", 10)], {"G1": "fits", "G2": "off"}),
        # A third pair is measured against whoever it suits best.
        ([("G1", 10), ("G2", 8), ("G3", 8)], {"G1": "fits", "G2": "fits", "G3": "fits"}),
        ([("G1", 10), ("G2", 8), ("G3", 12)], {"G1": "fits", "G2": "fits", "G3": "off"}),
        ([("G1", 10), ("G2", None)], {"G1": "fits", "G2": "no-size"}),
    ],
)
def test_pairs_are_shared_out_between_two_wearers(gloves: list[tuple[str, float]], keys: dict[str, str]) -> None:
    made = [pair(code, size) for code, size in gloves]
    for order in (made, made[::-1]):
        found = told("glove-fits-wearer", live(*order))
        if keys == {"G1": "fits", "G2": "off"}:  # two alike: which of them is off is nobody's business
            assert sorted(key for _, key in found) == ["glove-fits-wearer.fits", "glove-fits-wearer.off"]
        else:
            said = {(code, key.replace("near", "fits")) for code, key in found}
            assert said == {(code, f"glove-fits-wearer.{key}") for code, key in keys.items()}


def test_a_pair_in_anothers_keeping_goes_to_nobody_else() -> None:
    # G1 would fit P2 but is kept by P1, so P1 would have to wear it.
    found = told("glove-fits-wearer", live(pair("G1", 8, "P1"), pair("G2", 9)))
    assert found == {("G1", "glove-fits-wearer.off"), ("G2", "glove-fits-wearer.near")}


def test_the_second_person_wears_nothing_of_the_kit_where_the_task_does_not_say_so() -> None:
    found = told("glove-fits-wearer", build.world(pieces=[pair("G1", 8)], second=SECOND))
    assert found == {("G1", "glove-fits-wearer.off")}


@pytest.mark.parametrize(("size", "cautions"), [(10, 0), (10.01, 1), (11, 1)])
def test_one_size_off_is_a_caution(size: float, cautions: int) -> None:
    found = ask(build.facts(build.world(pieces=[pair("G1", size)])), {"glove-fits-wearer"})
    assert sum(one.outcome.value == "caution" for one in found) == cautions


@pytest.mark.parametrize(
    ("task", "site", "second", "key"),
    [
        ("isolate-and-prove-dead", {}, None, "not-asked"),
        ("isolate-and-prove-dead", {"second_person_isolate": True}, None, "missing"),
        ("isolate-and-prove-dead", {"second_person_isolate": True}, SECOND, "present"),
        ("measure-only", {}, None, "missing"),
        ("measure-only", {}, SECOND, "present"),
        ("measure-only", {}, {"code": "P1"}, "same"),
        # Switching it off is looser and stands only with an approver.
        ("measure-only", {"second_person_measure": False}, None, "missing"),
        ("measure-only", {"second_person_measure": False, "approvals": [
            {"key": "second_person_measure", "approved_by": "P9", "reason": "agreed"}]}, None, "not-asked"),
        ("work-in-open-live-pack", {}, None, "missing"),
        ("work-in-open-live-pack", {}, SECOND, "no-own-gloves"),
    ],
)  # fmt: skip
def test_second_person(task: str, site: Table, second: Table | None, key: str) -> None:
    case = build.world(job={"task": task, "circuits": []}, site=site)
    if second is not None:
        case["second"] = second
    assert told("second-person-present", case) == {("kit", f"second-person-present.{key}")}


@pytest.mark.parametrize(
    ("gloves", "protectors", "bare", "key"),
    [(2, 2, False, "present"), (1, 2, False, "no-own-gloves"), (2, 1, False, "no-own-gloves"), (2, 1, True, "present"),
     (2, 0, True, "no-own-gloves"), (1, 1, True, "no-own-gloves")],
)  # fmt: skip
def test_own_gloves_and_protectors(gloves: int, protectors: int, bare: bool, key: str) -> None:
    pieces = [build.gloves(f"G{n}") for n in range(gloves)] + [build.protectors(f"L{n}") for n in range(protectors)]
    case = live(*pieces)
    case["job"]["without_protectors"] = bare
    assert told("second-person-present", case) == {("kit", f"second-person-present.{key}")}


def test_each_class_needs_its_own_protectors() -> None:
    high = build.gloves("G2", **{"class": "1"})
    low_only = build.world(pieces=[build.gloves(), high, build.protectors(), build.protectors("L2")])
    # As many protectors as pairs, but one pair would go without its own.
    assert told("protector-fits-class", low_only) == {
        ("L1", "protector-fits-class.too-few"), ("L2", "protector-fits-class.too-few"),
    }  # fmt: skip
    own = build.protectors("L2", cut_for_class="1")
    both = build.world(pieces=[build.gloves(), high, build.protectors(), own])
    assert {key for _, key in told("protector-fits-class", both)} == {"protector-fits-class.fits"}
    spare = build.world(pieces=[build.gloves(), build.protectors(), build.protectors("L2")])
    assert {key for _, key in told("protector-fits-class", spare)} == {"protector-fits-class.fits"}
    one_short = build.world(
        pieces=[build.gloves(), build.gloves("G3"), high, build.protectors(), own, {**own, "code": "L3"}]
    )
    assert told("protector-fits-class", one_short) == {
        ("L1", "protector-fits-class.too-few"), ("L2", "protector-fits-class.too-few"),
        ("L3", "protector-fits-class.too-few"),
    }  # fmt: skip
    too_few = build.world(pieces=[build.gloves(), build.gloves("G2"), build.protectors()])
    assert told("protector-fits-class", too_few) == {("L1", "protector-fits-class.too-few")}
    assert told("protectors-worn", too_few) == {
        ("G1", "protectors-worn.missing"), ("G2", "protectors-worn.missing"),
    }  # fmt: skip
