"""What to change: every proposal really turns it, and none smaller does."""

from __future__ import annotations

from itertools import combinations, product
from typing import Any

import pytest

from app.decision.domain.facts import Facts
from app.decision.domain.piece import Piece
from app.decision.judging.change import Change
from app.decision.judging.changes import what_to_change
from app.decision.judging.judge import judge
from tests import build
from tests.build import Table


def turned(case: Table, *shelf: Table) -> tuple[Change, ...]:
    facts = build.facts(case)
    pieces = tuple(build.piece(one) for one in shelf)
    return what_to_change(facts, judge(facts), (*facts.pieces, *pieces))


def told(changes: tuple[Change, ...]) -> list[tuple[str, str, str]]:
    return [(one.change, one.subject, one.other) for one in changes]


def kit(**by_code: Table | None) -> Table:
    """The good world with pieces replaced (or, None, left out) by code."""
    case = build.world()
    pieces = [by_code.get(one["code"], one) for one in case["pieces"]]
    return {**case, "pieces": [one for one in pieces if one is not None]}


def test_a_kit_that_may_go_needs_no_change() -> None:
    assert turned(build.world()) == ()


@pytest.mark.parametrize(
    ("code", "piece"),
    [
        ("G1", build.gloves(records=[build.electrical_test()])),
        ("G1", build.gloves(records=[build.electrical_test(), build.air_test()])),
        ("D1", build.detector(records=[build.look(jack="current"), build.self_test()])),
    ],
    ids=["not air-tested", "inflation not written", "lead in the current jack"],
)
def test_a_check_not_done_is_cured_by_doing_it(code: str, piece: Table) -> None:
    assert told(turned(kit(**{code: piece}))) == [("check", code, "")]


@pytest.mark.parametrize("records", [[], [build.air_test(on="2025-03-01", inflation=1.2)]], ids=["none", "long ago"])
def test_a_pair_exempted_from_the_electrical_test_wants_its_air_test(records: list[Table]) -> None:
    case = {**kit(G1=build.gloves(records=records)), "rule_sets": ["en-60903-2003"]}
    case["site"]["dielectric_exempt_00_0"] = {"approved_by": "P7", "reason": "by air and by eye each half year"}
    assert told(turned(case)) == [("check", "G1", "")]


def test_every_check_that_lacks_is_named() -> None:
    bare: Table = {"records": []}
    changes = turned(kit(D1=build.detector(**bare), L1=build.protectors(**bare)))
    assert sorted(told(changes)) == [("check", "D1", ""), ("check", "D1", ""), ("check", "L1", "")]


def test_a_bare_date_is_cured_by_seeing_the_certificate() -> None:
    test, air = build.gloves()["records"]
    pair = build.gloves(records=[{**test, "evidence": "sheet-only"}, air])
    assert told(turned(kit(G1=pair))) == [("confirm", "G1", "")]


def test_an_overdue_pair_is_swapped_for_one_in_date() -> None:
    old = build.gloves(records=[{"what": "electrical-test", "on": "2025-01-01", "result": "passed"}])
    assert told(turned(kit(G1=old), build.gloves("G2"))) == [("swap", "G1", "G2")]


def test_a_swap_says_the_checks_the_new_piece_lacks() -> None:
    old = build.gloves(records=[{"what": "electrical-test", "on": "2025-01-01", "result": "passed"}])
    unchecked = build.gloves("G2", records=build.gloves()["records"][:1])
    assert told(turned(kit(G1=old), unchecked)) == [("swap", "G1", "G2"), ("check", "G2", "")]
    # A pair already tested today needs fewer changes and is taken first.
    assert told(turned(kit(G1=old), unchecked, build.gloves("G3"))) == [("swap", "G1", "G3")]


def test_a_missing_role_is_added() -> None:
    assert told(turned(kit(K1=None), build.plain("K2", "lock-off-set"))) == [("add", "K2", "K2")]


def test_a_piece_scanned_twice_is_left_out() -> None:
    case = build.world()
    case["pieces"].append(build.plain("B1", "barrier-set"))
    assert told(turned(case)) == [("remove", "B1", "")]


def test_a_multimeter_goes_with_its_leads() -> None:
    meter = build.plain(
        "M1", "multimeter", marks=[["III", 1000]], max_input_dc_v=1000, tip_mm=2,
        records=[build.look(), {"what": "calibration", "on": "2026-01-01", "result": "passed"}],
    )  # fmt: skip
    leads = build.plain("W1", "test-leads", marks=[["III", 1000]], tip_mm=2, records=[build.look(caps="present")])
    case = kit(D1=meter)
    case["pieces"].append(leads)
    assert told(turned(case, build.detector("D2"))) == [("swap", "M1", "D2"), ("remove", "W1", "")]


def test_where_the_shelf_has_nothing_it_says_for_which_demand() -> None:
    (only,) = turned(kit(D1=build.detector(marks=[["III", 600]])))
    assert (only.change, only.subject) == ("none", "D1")
    assert only.about is not None
    assert only.about.rule == "chain-stands-voltage"


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        ({"person": {"code": "P1", "scopes": [], "glove_sizes": [10]}}, "person-authorised"),
        ({"job": {"task": "isolate-and-prove-dead", "circuits": [{"key": "t", "supply": "isolated-dc", "nominal_v": 300}]}},
         "working-voltage-known"),
        ({"job": {"task": "isolate-and-prove-dead", "circuits": [
            {"key": "t", "supply": "isolated-dc", "reading_v": 300, "cells": {"chemistry": "nmc"}}]}},
         "working-voltage-known"),
        ({"job": {"task": "isolate-and-prove-dead", "place": "wet", "circuits": []}}, "working-voltage-known"),
    ],
)  # fmt: skip
def test_what_no_kit_cures_is_said_as_that(change: Table, rule: str) -> None:
    changes = turned({**build.world(), **change}, build.gloves("G2"))
    assert {one.change for one in changes} == {"none"}
    assert rule in {one.about.rule for one in changes if one.about}


def test_a_second_person_who_is_missing_is_no_piece_of_kit() -> None:
    case = build.world(site={"second_person_isolate": True, "altitude_m": 140})
    (only,) = turned(case, build.gloves("G2"))
    assert (only.change, only.key) == ("none", "change.outside")


def meter(code: str = "M1", **more: Any) -> Table:
    return build.plain(
        code, "multimeter", marks=[["III", 1000]], max_input_dc_v=1000,
        records=[build.look(), {"what": "calibration", "on": "2026-01-01", "result": "passed"}], **more,
    )  # fmt: skip


def leads(code: str = "W1", **more: Any) -> Table:
    piece = build.plain(code, "test-leads", marks=[["III", 1000]], tip_mm=2, records=[build.look(caps="present")])
    return {**piece, **more}


def measuring(**by_code: Table | None) -> Table:
    case = kit(B1=None, K1=None, **by_code)
    case["job"]["task"] = "measure-only"
    case["person"]["scopes"] = ["live"]
    return {**case, "second": {"code": "P2"}}


def test_a_meter_without_leads_is_given_leads() -> None:
    assert told(turned(measuring(D1=meter()), leads())) == [("add", "W1", "W1")]
    unseen = leads(records=[])
    assert told(turned(measuring(D1=meter()), unseen)) == [("add", "W1", "W1"), ("check", "W1", "")]


def test_leads_whose_caps_nobody_looked_at_are_inspected() -> None:
    case = measuring(D1=meter())
    case["pieces"].append(leads(records=[build.look()], marks_cap_off=[["II", 1000]]))
    assert told(turned(case)) == [("check", "W1", "")]


def test_leads_with_caps_missing_are_swapped() -> None:
    case = measuring(D1=meter())
    case["pieces"].append(leads(caps="missing", marks_cap_off=[["II", 1000]]))
    assert told(turned(case, leads("W2"))) == [("swap", "W1", "W2")]


def test_a_pair_of_protectors_is_added_for_a_second_pair_of_gloves() -> None:
    case = build.world()
    case["pieces"].append(build.gloves("G2"))
    changes = turned(case, build.protectors("L2"))
    assert len(changes) == 1
    assert told(changes) in ([("add", "L2", "L2")], [("remove", "G1", "")], [("remove", "G2", "")])


def test_a_shield_is_added_where_the_energy_asks_one() -> None:
    case = build.world()
    case["job"]["incident_energy_cal"] = 8
    weak = build.plain("S1", "arc-face-shield", arc_rating_cal=7, hood=True)
    good = build.plain("S2", "arc-face-shield", arc_rating_cal=8, hood=True)
    assert told(turned(case, weak, good)) == [("add", "S2", "S2")]
    case["pieces"].append(weak)
    assert told(turned(case, good)) == [("swap", "S1", "S2")]


def test_own_gloves_for_the_second_person_are_added() -> None:
    live = ["insulated-tool", "arc-face-shield", "rescue-hook"]
    case = build.world(second={"code": "P2", "glove_sizes": [8]})
    case["job"]["task"] = "work-in-open-live-pack"
    case["person"]["scopes"] = ["live"]
    case["pieces"] += [build.plain(f"X{n}", kind, voltage_mark={"dc_v": 1500}) for n, kind in enumerate(live)]
    assert told(turned(case, build.gloves("G2", size=8), build.protectors("L2"))) == [
        ("add", "G2", "G2"), ("add", "L2", "L2"),
    ]  # fmt: skip
    case["pieces"].append(build.gloves("G2", size=8))
    assert told(turned(case, build.protectors("L2"))) == [("add", "L2", "L2")]


def test_a_piece_over_and_above_the_roles_is_left_out() -> None:
    case = build.world()
    case["pieces"].append(build.plain("H1", "rescue-hook", voltage_mark={"dc_v": 500}))
    assert told(turned(case)) == [("remove", "H1", "")]


def test_two_things_wrong_take_two_changes() -> None:
    case = kit(B1=None, D1=build.detector(tip_mm=9))
    shelf = [build.detector("D2"), build.plain("B2", "barrier-set")]
    assert sorted(told(turned(case, *shelf))) == [("add", "B2", "B2"), ("swap", "D1", "D2")]


def test_what_is_out_with_somebody_is_never_offered() -> None:
    out = build.plain("B2", "barrier-set", custody="P7")
    gone = build.plain("B3", "barrier-set", records=[build.look(), {"what": "issue", "on": "2026-03-01"}])
    held = build.plain(
        "B4", "barrier-set", records=[build.look(), {"what": "hold", "on": "2026-03-01", "why": "recall"}]
    )
    (only,) = turned(kit(B1=None), out, gone, held)
    assert (only.change, only.key) == ("none", "change.nothing-on-shelf")


def test_a_certificate_is_nothing_for_a_test_that_has_run_out() -> None:
    test = {"what": "electrical-test", "on": "2025-01-15", "result": "passed", "evidence": "sheet-only"}
    pair = build.gloves(records=[test, build.gloves()["records"][1]])
    assert {(one.change, one.key) for one in turned(kit(G1=pair))} == {("enter", "change.retest")}


def test_where_a_swap_leads_nowhere_the_piece_in_the_way_is_named() -> None:
    # The pair that fits the hands is of a class for which there are no protectors.
    (only,) = turned(kit(G1=build.gloves(size=12)), build.gloves("G2", **{"class": "1"}))
    assert (only.change, only.key, only.subject) == ("none", "change.nothing-on-shelf", "L1")
    assert only.about is not None
    assert only.about.rule == "protector-fits-class"


def test_where_every_swap_leads_on_and_none_out_nothing_is_claimed() -> None:
    shelf = [build.gloves("G2", **{"class": "1"}), build.protectors("L2", cut_for_class="00")]
    (only,) = turned(kit(G1=build.gloves(size=12)), *shelf)
    assert (only.change, only.key, only.subject) == ("none", "change.not-found", "kit")


def test_a_piece_that_goes_in_the_end_is_not_checked_first() -> None:
    # A second lead fits nothing here and has not been looked over: leaving it out is all there is to do.
    case = kit()
    case["pieces"].append(leads("W9", records=[]))
    assert told(turned(case)) == [("remove", "W9", "")]


def test_what_is_out_is_to_be_taken_back() -> None:
    out = build.plain("B1", "barrier-set", records=[build.look(), {"what": "issue", "on": "2026-03-01"}])
    changes = turned(kit(B1=out))
    assert ("enter", "B1", "change.take-back") in {(one.change, one.subject, one.key) for one in changes}


def test_several_roles_that_lack_are_added_together() -> None:
    changes = turned(
        kit(B1=None, K1=None, U1=None), build.plain("B2", "barrier-set"), build.plain("K2", "lock-off-set")
    )
    # The proving unit is nowhere on the shelf, and the other two are no longer said to be.
    assert {one.about.values.get("roles") for one in changes if one.about} != set()
    both = turned(kit(B1=None, K1=None), build.plain("B2", "barrier-set"), build.plain("K2", "lock-off-set"))
    assert sorted(told(both)) == [("add", "B2", "B2"), ("add", "K2", "K2")]


def test_a_inspection_that_has_to_say_the_caps_says_so() -> None:
    case = measuring(D1=meter())
    case["pieces"].append(leads(records=[]))
    (only,) = turned(case)
    assert (only.subject, only.key) == ("W1", "change.inspection-caps")


def changed_kits(facts: Facts, shelf: tuple[Piece, ...], most: int) -> Any:
    """Every kit that differs by at most `most` swaps, additions or removals."""
    others = [one for one in shelf if one.code not in {piece.code for piece in facts.pieces}]
    single: list[tuple[str, Piece | None, Piece | None]] = [("remove", piece, None) for piece in facts.pieces]
    single += [("add", None, other) for other in others]
    single += [("swap", piece, other) for piece, other in product(facts.pieces, others)]
    for size in range(1, most + 1):
        for chosen in combinations(single, size):
            pieces = list(facts.pieces)
            for _, old, new in chosen:
                if old is not None and old in pieces:
                    pieces.remove(old)
                if new is not None and new not in pieces:
                    pieces.append(new)
            yield size, tuple(pieces)


OLD = [{"what": "electrical-test", "on": "2025-01-01", "result": "passed"}, build.gloves()["records"][1]]
SMALL = [
    (kit(G1=build.gloves(records=OLD)), [build.gloves("G2"), build.gloves("G3", size=8)]),
    (
        kit(G1=build.gloves(size=8), L1=build.protectors(cut_for_class="00")),
        [build.gloves("G2"), build.protectors("L2")],
    ),
    (kit(D1=build.detector(marks=[["II", 1000]])), [build.detector("D2"), build.detector("D3", tip_mm=9)]),
    (kit(K1=None, U1=None), [build.plain("K2", "lock-off-set"), build.proving_unit("U2")]),
    (kit(G1=build.gloves(**{"class": "00"})), [build.gloves("G2"), build.protectors("L2", cut_for_class="00")]),
]


@pytest.mark.parametrize(("case", "shelf"), SMALL)
def test_the_cure_is_the_least_and_is_judged(case: Table, shelf: list[Table]) -> None:
    facts = build.facts(case)
    pieces = (*facts.pieces, *(build.piece(one) for one in shelf))
    changes = what_to_change(facts, judge(facts), pieces)
    by_code = {one.code: one for one in pieces}
    now = {piece.code: piece for piece in facts.pieces}
    for one in changes:
        assert one.change in ("swap", "add", "remove")
        if one.change in ("swap", "remove"):
            now.pop(one.subject)
        if one.other:
            now[one.other] = by_code[one.other]
    assert judge(facts.with_pieces(tuple(now.values()))).may_be_issued
    least = min(
        size for size, kit_ in changed_kits(facts, pieces, len(changes)) if judge(facts.with_pieces(kit_)).may_be_issued
    )
    assert len(changes) == least


def test_what_a_check_mends_or_leaving_out_mends_is_no_reason_why_nothing_cures() -> None:
    old = build.gloves(records=[{"what": "electrical-test", "on": "2025-01-01", "result": "passed"}])
    case = kit(G1=old, L1=build.protectors(records=[]))
    # A mat and boots nobody asked for: each could be left out, one at a time.
    spare = [build.plain("M7", "insulating-matting"), build.plain("F7", "dielectric-footwear")]
    case["pieces"] = [*case["pieces"], *spare]
    changes = turned(case)
    assert {(one.change, one.key, one.subject) for one in changes} == {("enter", "change.retest", "G1")}
    assert [one.about.rule for one in changes if one.about is not None] == ["electrical-test-in-date"]


def whole_shelf() -> list[Table]:
    """A whole kit under other codes, all checks done."""
    pieces = [{**piece, "code": f"{piece['code']}x"} for piece in build.world()["pieces"]]
    return [{key: value for key, value in piece.items() if key != "custody"} for piece in pieces]


@pytest.mark.parametrize("kept", [(), ("G1",), ("D1",), ("B1", "K1")])
def test_a_kit_of_one_piece_or_of_none_is_filled_role_by_role(kept: tuple[str, ...]) -> None:
    case = build.world()
    case["pieces"] = [piece for piece in case["pieces"] if piece["code"] in kept]
    changes = turned(case, *whole_shelf())
    assert {one.change for one in changes} == {"add"}
    assert len(changes) == len(build.world()["pieces"]) - len(kept)


def test_a_kit_nobody_has_checked_yet_is_filled_with_its_checks() -> None:
    case = {**build.world(), "pieces": []}
    unchecked = [
        {**piece, "records": [one for one in piece.get("records", []) if one["what"] == "electrical-test"]}
        for piece in whole_shelf()
    ]
    changes = turned(case, *unchecked)
    assert {one.change for one in changes} == {"add", "check"}
    assert {one.subject for one in changes if one.change == "check"} == {piece["code"] for piece in whole_shelf()}


def test_of_pieces_that_fit_alike_the_one_due_next_is_offered() -> None:
    def pair(code: str, tested: str) -> Table:
        test, air = build.gloves()["records"]
        return build.gloves(code, records=[{**test, "on": tested}, air])

    later, sooner = pair("G2", "2026-02-01"), pair("G3", "2025-10-01")
    assert told(turned(kit(G1=None), later, sooner)) == [("add", "G3", "G3")]
    # A size that needs a caution comes after one that fits, whatever is due.
    assert told(turned(kit(G1=None), later, {**sooner, "size": 11})) == [("add", "G2", "G2")]


def test_a_swap_says_why_the_piece_goes() -> None:
    (swap,) = turned(kit(G1=build.gloves(size=12)), build.gloves("G2"))
    assert swap.about is not None
    assert (swap.about.subject, swap.about.rule) == ("G1", "glove-fits-wearer")


@pytest.mark.parametrize(
    ("piece", "key"),
    [
        (build.gloves(records=[{"what": "electrical-test", "on": "2025-01-01", "result": "passed"}]), "change.retest"),
        (build.gloves(records=[*build.gloves()["records"], {"what": "hold", "on": "2026-03-01", "why": "suspect"}]),
         "change.release"),
        ({**build.gloves(), "class": None}, "change.state"),
    ],
)  # fmt: skip
def test_where_only_an_entry_helps_it_is_named_and_never_nothing(piece: Table, key: str) -> None:
    changes = turned(kit(G1={name: value for name, value in piece.items() if value is not None}))
    assert key in {one.key for one in changes}
    assert "change.nothing-on-shelf" not in {one.key for one in changes}
