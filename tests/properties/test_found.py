"""Counterexamples that the properties, or the work on them, have turned up, each kept as the smallest case."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import permutations
from typing import Any

from app.decision.domain.finding import Outcome
from app.decision.judging.catalogues import catalogues
from tests.oracle.kits import described
from tests.properties.drawn import Table, decide, said

ON = date(2026, 3, 2)


def _issued(task: str) -> Table:
    """A generated kit in good order under the shipped set, with rubber gloves, for one day."""
    for number in range(2_000):
        case, spoilers = described(5, number)
        kinds = {piece["kind"] for piece in case["pieces"]}
        if spoilers or case.get("rule_sets", ["us-osha-137"]) != ["us-osha-137"] or "composite-gloves" in kinds:
            continue
        if case["job"]["task"] == task and case["on"] == case["until"]:
            assert decide(case).may_be_issued
            return case
    raise AssertionError(task)


def _gloves(case: Table) -> Table:
    found: Table = next(piece for piece in case["pieces"] if piece["kind"] == "rubber-gloves")
    return found


def _in_any_order(rule: str, extra: list[Table], what: str) -> set[bool]:
    """Whether `rule` holds, with `extra` in place of the gloves' records of one sort, in every order of them."""
    case = _issued("isolate-and-prove-dead")
    gloves = _gloves(case)
    gloves["type"] = "I"
    others = [one for one in gloves["records"] if one["what"] != what]
    found = set()
    for order in permutations(extra):
        gloves["records"] = [*others, *({"what": what, "on": case["on"], **one} for one in order)]
        found.add(said(decide(case))[(rule,)].is_good)
    return found


def test_of_two_air_tests_without_times_the_one_of_one_hand_decides() -> None:
    whole = {"left": "passed", "right": "passed", "inflation": 1}
    assert _in_any_order("air-test-done", [whole, {"left": "passed", "inflation": 1}], "air-test") == {False}


def test_of_two_air_tests_without_times_a_defect_decides_over_a_high_inflation() -> None:
    high = {"left": "passed", "right": "passed", "inflation": 1.4}
    cut = {"left": "passed", "right": "passed", "inflation": 1, "defects": ["cut"]}
    assert _in_any_order("air-test-done", [high, cut], "air-test") == {False}


def test_an_untimed_good_check_beside_a_bad_one_that_a_later_one_answers_takes_nothing_away() -> None:
    whole: dict[str, Any] = {"left": "passed", "right": "passed", "inflation": 1}
    bad = {"left": "passed", "inflation": 1, "at": "08:00"}
    assert _in_any_order("air-test-done", [bad, whole | {"at": "09:00"}, whole], "air-test") == {True}


def test_two_hand_overs_of_one_day_leave_the_piece_wherever_it_may_be() -> None:
    assert _in_any_order("at-hand", [{"to": "P1"}, {"to": "V9"}], "hand-over") == {False}


def test_of_two_hand_overs_of_one_day_with_times_the_later_one_counts() -> None:
    assert _in_any_order("at-hand", [{"to": "V9", "at": "08:00"}, {"to": "crib", "at": "09:00"}], "hand-over") == {True}


def test_a_return_known_by_its_month_alone_does_not_bring_back_what_went_out_within_it() -> None:
    case = _issued("isolate-and-prove-dead")
    case["on"] = case["until"] = ON
    gloves = _gloves(case)
    gloves["records"] += [
        {"what": "hand-over", "on": date(2026, 2, 20), "to": "V9"},
        {"what": "return", "on": "2026-02"},
    ]
    assert not said(decide(case))[("at-hand",)].is_good


def test_a_failure_answered_by_a_test_of_its_day_is_answered_in_any_order() -> None:
    passes: list[Table] = [{"result": "passed", "after": "failed"}, {"result": "passed"}, {"result": "failed"}]
    assert _in_any_order("electrical-test-in-date", passes, "electrical-test") == {True}


def test_a_first_issue_after_the_day_is_not_known_on_that_day() -> None:
    case = _issued("isolate-and-prove-dead")
    case["on"] = case["until"] = ON
    gloves = _gloves(case)
    # A spare pair or other rubber goods, where the generator drew them, stay at home: they would be judged as well.
    kinds = catalogues().kinds
    case["pieces"] = [one for one in case["pieces"] if not kinds[one["kind"]].is_classed or one is gloves]
    gloves["records"] = [{"what": "electrical-test", "on": date(2025, 8, 1), "result": "passed"}]
    gloves.pop("maker_interval_months", None)
    outcomes = {}
    for first_issue in (date(2026, 5, 1), "unknown", date(2026, 2, 1)):
        gloves["first_issue"] = first_issue
        outcomes[first_issue] = said(decide(case))[("electrical-test-in-date",)].is_good
    assert outcomes == {date(2026, 5, 1): False, "unknown": False, date(2026, 2, 1): True}


def test_seven_pairs_that_fit_the_first_person_leave_the_second_without_any() -> None:
    case = _issued("work-in-open-live-pack")
    case["person"]["glove_sizes"], case["second"]["glove_sizes"] = [9], [12]
    for pairs in (2, 6, 7, 9):
        kit = {**case, "pieces": []}
        for piece in case["pieces"]:
            copies = 0 if piece["kind"] in ("rubber-gloves", "leather-protectors") else 1
            kit["pieces"] += [piece] * copies
        for number in range(pairs):
            for kind in ("rubber-gloves", "leather-protectors"):
                one = next(piece for piece in case["pieces"] if piece["kind"] == kind)
                kit["pieces"].append(
                    {**one, "code": f"{one['code']}-{number}"} | ({"size": 9} if "size" in one else {})
                )
        verdict = decide(kit)
        assert [one.outcome for one in verdict.stops if one.rule == "glove-fits-wearer"] == [Outcome.NOT_MET]


def test_caps_once_seen_on_a_clip_stay_something_to_be_looked_at() -> None:
    """A day later the clip still has caps, though nobody has said today whether they are there."""
    for number in range(4_000):
        case, spoilers = described(5, number)
        clips = [piece for piece in case["pieces"] if piece["kind"] == "tip-or-clip" and "caps" not in piece]
        if clips and not spoilers:
            break
    assert decide(case).may_be_issued
    clips[0]["records"].append(
        {"what": "inspection", "on": case["on"] - timedelta(days=1), "defects": [], "caps": "missing"}
    )
    assert not said(decide(case))[("chain-stands-voltage",)].is_good
