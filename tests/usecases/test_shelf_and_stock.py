"""Keeping, night work, transfer, recall, stocktake, labels and bags, repairs, certificates seen."""

from __future__ import annotations

import json
from datetime import date, timedelta

import pytest

from app.decision.domain.calendar import Day
from app.decision.domain.record import AnyRecord, Issue, Release, Withdrawal
from app.decision.domain.register import Check
from app.decision.judging.answers import DueQuestion
from app.register.reads import out
from app.register.reads.lines import lines_about
from app.register.reads.pieces import pieces
from app.usecases.add_alias import add_alias
from app.usecases.add_crib import add_crib
from app.usecases.add_piece import add_piece
from app.usecases.confirm_certificates import confirm_certificates
from app.usecases.correct_entry import correct_entry
from app.usecases.desk import Desk
from app.usecases.enter_taken import enter_taken
from app.usecases.hand_over import hand_over
from app.usecases.hold_piece import hold_piece
from app.usecases.issue_kit import issue_kit
from app.usecases.list_shelf import list_shelf
from app.usecases.load_register import load_checks
from app.usecases.log_check import inspect_list, log_check
from app.usecases.log_electrical_test import log_electrical_test
from app.usecases.make_bag import make_bag
from app.usecases.recall_pieces import Recall, recall_pieces
from app.usecases.release_piece import release_piece
from app.usecases.repair_piece import repair_piece
from app.usecases.return_kit import return_kit
from app.usecases.show_piece import show_history
from app.usecases.take_stock import take_stock
from app.usecases.transfer_pieces import transfer_pieces
from app.usecases.withdraw_piece import withdraw_piece
from tests.build import DAY, gloves, plain
from tests.fakes import KIT, FixedClock, question
from tests.usecases.acts import FIGURES
from tests.usecases.conftest import Refused

YESTERDAY = DAY - timedelta(days=1)


def state(desk: Desk, code: str) -> str:
    return list_shelf(desk, DueQuestion(desk.today(), None, (code,))).rows[0].status.state


def due(desk: Desk, code: str) -> date | None:
    return list_shelf(desk, DueQuestion(desk.today(), None, (code,))).rows[0].status.due_on


def held(desk: Desk, *codes: str) -> set[str]:
    return {code for code in codes if state(desk, code) == "on-hold"}


# --------------------------------------------------------------------------------------------- keeping, night work


def test_a_hand_over_to_a_person_is_the_first_issue(desk: Desk) -> None:
    add_piece(desk, "P0", {**gloves("G2", first_issue="never"), "records": gloves()["records"][:1]})
    hand_over(desk, "P0", ["G2"], "crib")
    assert due(desk, "G2") == date(2027, 1, 15)
    told = hand_over(desk, "P0", ["G2"], "pool:night").told
    assert [one.key for one in told] == ["saved.first-issue"]
    assert due(desk, "G2") == date(2026, 9, 2)


def test_what_somebody_keeps_may_be_handed_on_and_what_is_out_may_not(desk: Desk, refused: Refused) -> None:
    for to in ("P9", "BUS", "pool:night", "P1"):
        hand_over(desk, "P0", ["L1"], to)
    inspect_list(desk, "P1", ["L1"], {}, {})
    issue_kit(desk, "P0", question())
    told = refused(lambda: hand_over(desk, "P0", ["L1"], "P9"))
    assert (told.key, told.values["person"]) == ("piece.out", "P1")
    assert refused(lambda: hand_over(desk, "P0", ["L1"], "pool:")).key == "hand-over.unknown"


def test_no_decision_is_made_about_what_was_taken(desk: Desk, refused: Refused, clock: FixedClock) -> None:
    add_piece(desk, "P0", {**gloves("G2", first_issue="never"), "records": gloves()["records"][:1]})
    clock.at(DAY + timedelta(days=1))
    taken = enter_taken(desk, "P0", ["G2"], "P1", DAY)
    assert all(desk.ask(lambda connection, n=name: out.decision(connection, n)) is None for name in taken.entries)  # type: ignore[misc]
    assert state(desk, "G2") == "on-hold"
    assert due(desk, "G2") == date(2026, 9, 2)
    assert refused(lambda: enter_taken(desk, "P0", ["G2"], "P9", DAY)).key == "piece.out"
    ahead = DAY + timedelta(days=2)
    assert refused(lambda: enter_taken(desk, "P0", ["L1"], "P1", ahead)).key == "entry.ahead"
    told = refused(lambda: enter_taken(desk, "P0", ["L1"], "P11", DAY))
    assert (told.key, told.values["nearest"]) == ("store.unknown-person", "P1")


def test_held_kit_that_was_taken_all_the_same_is_entered(desk: Desk) -> None:
    hold_piece(desk, "P0", ["D1"], "recall")
    enter_taken(desk, "P0", ["D1"], "P1", YESTERDAY)
    assert desk.ask(out.out_now)["D1"].person == "P1"


def test_a_look_from_before_it_was_entered_releases_nothing(desk: Desk, refused: Refused) -> None:
    # L1 was looked over this morning; it was taken last night, and nobody has looked since that is known.
    enter_taken(desk, "P0", ["L1"], "P1", YESTERDAY)
    return_kit(desk, "P0", ["L1"], {})
    assert refused(lambda: release_piece(desk, "P0", ["L1"])).key == "release.no-evidence"
    inspect_list(desk, "P1", ["L1"], {"L1": ("cut",)}, {})
    assert refused(lambda: release_piece(desk, "P0", ["L1"])).key == "release.no-evidence"


def test_only_one_of_several_wrong_and_none_is_entered(desk: Desk, refused: Refused) -> None:
    hold_piece(desk, "P0", ["L1"], "recall")
    assert refused(lambda: release_piece(desk, "P0", ["L1", "B1"])).key == "release.not-held"
    assert refused(lambda: hand_over(desk, "P0", ["B1", "L1"], "P1")).key == "hand-over.held"
    assert refused(lambda: return_kit(desk, "P0", ["B1", "L1"], {})).key == "return.not-out"
    assert refused(lambda: hold_piece(desk, "P0", ["B1", "NO"], "suspect")).key == "store.unknown-piece"
    assert held(desk, "L1", "B1") == {"L1"}


def test_a_defect_at_the_return_belongs_to_what_is_returned(desk: Desk, refused: Refused) -> None:
    issue_kit(desk, "P0", question())
    told = refused(lambda: return_kit(desk, "P0", ["D1"], {"L1": ("cut",)}))
    assert (told.key, told.thing) == ("return.defect-not-in-list", "L1")
    assert refused(lambda: return_kit(desk, "P0", ["D1"], {"D1": ("scratch",)})).key == "case.unknown-word"
    assert set(desk.ask(out.out_now)) == set(KIT)


# ------------------------------------------------------------------------------------------------------ holds


@pytest.mark.parametrize("why", ["lead", "cap", "mark", "defect", "inspection"])
def test_a_part_is_replaced_and_inspected_by_a_second_person(why: str, desk: Desk, refused: Refused) -> None:
    if why == "inspection":
        inspect_list(desk, "P1", ["D1"], {"D1": ("cracked",)}, {})
    else:
        hold_piece(desk, "P0", ["D1"], why)
    caps = {"caps": "present"}
    assert refused(lambda: release_piece(desk, "P9", ["D1"])).key == "release.no-evidence"
    inspect_list(desk, "P1", ["D1"], {}, caps)
    # Looked over, and nothing replaced.
    assert refused(lambda: release_piece(desk, "P9", ["D1"])).key == "release.no-evidence"
    told = repair_piece(desk, "P0", "D1", {"repair": "new lead"}).told
    assert [one.key for one in told] == ["saved.part-open"]
    assert refused(lambda: release_piece(desk, "P9", ["D1"])).key == "release.no-evidence"
    inspect_list(desk, "P0", ["D1"], {}, caps)
    told_off = refused(lambda: release_piece(desk, "P9", ["D1"]))
    assert (told_off.key, told_off.thing, told_off.values["person"]) == ("release.part-by-one", "D1", ("P0",))
    inspect_list(desk, "P1", ["D1"], {}, caps)
    release_piece(desk, "P0", ["D1"])
    assert state(desk, "D1") == "inspect-today" or state(desk, "D1") == "ready"


def test_a_part_replaced_where_nothing_was_held_is_inspected_by_another_all_the_same(
    desk: Desk, refused: Refused
) -> None:
    repair_piece(desk, "P0", "D1", {"repair": "new lead"})
    assert refused(lambda: release_piece(desk, "P0", ["D1"])).key == "release.part-by-one"
    inspect_list(desk, "P1", ["D1"], {}, {"caps": "present"})
    # Replaced once more: the look was of the part before.
    repair_piece(desk, "P0", "D1", {"repair": "new cap"})
    assert refused(lambda: release_piece(desk, "P9", ["D1"])).key == "release.part-by-one"
    inspect_list(desk, "P1", ["D1"], {}, {"caps": "present"})
    release_piece(desk, "P0", ["D1"])
    # What a release has closed is not asked again.
    hold_piece(desk, "P9", ["D1"], "recall")
    release_piece(desk, "P0", ["D1"])
    assert [one.key for one in repair_piece(desk, "P0", "L1", {"repair": "new strap"}).told] == [
        "saved.repair-unreleased"
    ]


def test_a_repair_rewritten_by_another_is_still_of_who_made_it(desk: Desk, refused: Refused) -> None:
    hold_piece(desk, "P0", ["D1"], "lead")
    made = str(repair_piece(desk, "P0", "D1", {"repair": "new lead"}).entries[0])
    inspect_list(desk, "P0", ["D1"], {}, {"caps": "present"})
    correct_entry(desk, "P9", made, "both leads", {"repair": "new leads"})
    inspect_list(desk, "P0", ["D1"], {}, {"caps": "present"})
    told = refused(lambda: release_piece(desk, "P1", ["D1"]))
    assert (told.key, told.values["person"]) == ("release.part-by-one", ("P0", "P9"))
    inspect_list(desk, "P1", ["D1"], {}, {"caps": "present"})
    release_piece(desk, "P1", ["D1"])
    assert state(desk, "D1") != "on-hold"


@pytest.mark.parametrize(
    "record", [Release(on=Day.of(DAY), by="P9"), Issue(on=Day.of(DAY)), Withdrawal(on=Day.of(DAY))]
)
def test_a_file_of_checks_holds_checks_and_nothing_else(record: AnyRecord, desk: Desk, refused: Refused) -> None:
    hold_piece(desk, "P0", ["D1"], "recall")
    assert refused(lambda: load_checks(desk, "P0", [Check("D1", record)])).key == "checks.not-a-check"


@pytest.mark.parametrize("why", ["recall", "clock-doubt"])
def test_a_recall_is_released_by_name(why: str, desk: Desk) -> None:
    hold_piece(desk, "P0", ["D1"], why)
    release_piece(desk, "P9", ["D1"])
    last = desk.ask(lambda connection: lines_about(connection, "D1"))[-1]
    assert (last.actor, last.content["what"], last.content["by"]) == ("P9", "release", "P9")


def test_a_defect_of_gloves_waits_for_repair_and_test_and_of_protectors_for_ever(desk: Desk, refused: Refused) -> None:
    log_check(desk, "P1", "air-test", "G1", {"left": "failed", "right": "passed", "inflation": 1.2})
    assert refused(lambda: release_piece(desk, "P9", ["G1"])).key == "release.no-evidence"
    log_electrical_test(desk, "P0", "G1", {**FIGURES, "on": DAY})
    assert refused(lambda: release_piece(desk, "P9", ["G1"])).key == "release.no-evidence"
    repair_piece(desk, "P0", "G1", {"kind": "patched", "place": "cuff"})
    log_electrical_test(desk, "P0", "G1", {**FIGURES, "on": DAY, "after": "patched", "left_ma": 6})
    release_piece(desk, "P9", ["G1"])
    assert held(desk, "G1") == set()
    inspect_list(desk, "P1", ["L1"], {"L1": ("cut",)}, {})
    inspect_list(desk, "P1", ["L1"], {}, {})
    assert refused(lambda: release_piece(desk, "P9", ["L1"])).key == "release.no-evidence"


# ----------------------------------------------------------------------------------------------------- recall


def a_test(on: date | str | None, **more: object) -> dict[str, object]:
    table = {"what": "electrical-test", "on": on, "result": "passed", **more}
    return {key: value for key, value in table.items() if value is not None}


def test_a_recall_by_period_takes_in_what_may_be_of_it(desk: Desk) -> None:
    dated: dict[str, date | str | None] = {
        "IN": date(2025, 11, 1), "LAST": date(2025, 11, 30), "MONTH": "2025-11", "WEEK": "2025-W44", "NODAY": None,
        "BEFORE": date(2025, 10, 31), "AFTER": date(2025, 12, 1),
    }  # fmt: skip
    for code, on in dated.items():
        add_piece(desk, "P0", {**gloves(code), "records": [a_test(on)]})
    recall_pieces(desk, "P9", Recall(since=date(2025, 11, 1), until=date(2025, 11, 30)))
    # The week of 2025-10-27 reaches into November; a certificate without a day may be of it too.
    every = ("IN", "LAST", "MONTH", "WEEK", "NODAY", "BEFORE", "AFTER", *KIT)
    reasons = {
        code for code in every
        if any(getattr(one, "why", "") == "recall" for one in desk.ask(lambda c, k=code: pieces(c, [k]))[code].piece.records)  # type: ignore[misc]
    }  # fmt: skip
    assert reasons == {"IN", "LAST", "MONTH", "WEEK", "NODAY"}


def test_a_recall_by_label_names_who_has_it(desk: Desk) -> None:
    add_piece(desk, "P0", plain("K2", "lock-off-set", label="Blue case, lot 7"))
    add_piece(desk, "P0", plain("K3", "lock-off-set", label="Blue case, lot 8"))
    add_piece(desk, "P0", plain("K4", "lock-off-set", label="blue CASE, LOT 7"))
    withdraw_piece(desk, "P0", ["K4"], "worn")
    enter_taken(desk, "P0", ["K2"], "P1")
    told = recall_pieces(desk, "P9", Recall(label="LOT 7", reason="a notice")).told
    assert [(one.key, one.values.get("piece"), one.values.get("person")) for one in told] == [
        ("recall.held", None, None), ("recall.out", "K2", "P1"),
    ]  # fmt: skip
    assert told[0].values["pieces"] == ("K2",)
    last = desk.ask(lambda connection: lines_about(connection, "K2"))[-1]
    assert (last.content["why"], last.content["reason"]) == ("recall", "a notice")


def test_everything_named_has_to_fit(desk: Desk, refused: Refused) -> None:
    add_piece(desk, "P0", {**gloves("G2", label="lot 7"), "records": [a_test(DAY, lab="Fellside Dielectrics")]})
    for recall in (
        Recall(label="lot 7", lab="Northgate Test House"), Recall(label="lot 7", until=YESTERDAY),
        Recall(pieces=("L1",), lab="Fellside Dielectrics"),
    ):  # fmt: skip
        assert refused(lambda recall=recall: recall_pieces(desk, "P9", recall)).key == "recall.nothing-fits"  # type: ignore[misc]
    assert refused(lambda: recall_pieces(desk, "P9", Recall(pieces=("L11",)))).key == "store.unknown-piece"
    recall_pieces(desk, "P9", Recall(label="lot 7", lab="FELLSIDE dielectrics", until=DAY))
    assert held(desk, "G2", "L1") == {"G2"}


def test_a_recall_by_batch_finds_it_and_says_what_is_nearest(desk: Desk, refused: Refused) -> None:
    add_piece(desk, "P0", gloves("G2", batch="I0-2402"))
    add_piece(desk, "P0", gloves("G3", batch="I0-2411"))
    told = refused(lambda: recall_pieces(desk, "P9", Recall(label="I0-24O2")))
    assert (told.key, told.values["nearest"]) == ("recall.nothing-fits", "I0-2402")
    told = refused(lambda: recall_pieces(desk, "P9", Recall(label="I0-2402", until=date(2020, 1, 1))))
    assert (told.key, told.values["nearest"]) == ("recall.nothing-fits", "")
    recall_pieces(desk, "P9", Recall(label="i0-2402"))
    assert held(desk, "G1", "G2", "G3") == {"G2"}


def test_a_recall_names_the_nearest_laboratory_and_refuses_days_that_cannot_be(
    desk: Desk, refused: Refused, clock: FixedClock
) -> None:
    add_piece(desk, "P0", {**gloves("G2"), "records": [a_test(DAY, lab="Fellside Dielectrics")]})
    nameless = Recall(pieces=("G2",), lab="Felside Dielectrics")
    told = refused(lambda: recall_pieces(desk, "P9", nameless))
    assert (told.key, told.values["nearest"]) == ("recall.nothing-fits", "Fellside Dielectrics")
    # Of G1 it is not known who tested it: held, and it is said that nobody's test names that laboratory.
    notes = recall_pieces(desk, "P9", Recall(lab="Felside Dielectrics")).told
    assert [(one.key, one.values.get("nearest")) for one in notes] == [
        ("recall.held", None), ("recall.lab-nowhere", "Fellside Dielectrics"),
    ]  # fmt: skip
    assert held(desk, "G1", "G2") == {"G1"}
    clock.moment += timedelta(minutes=3)
    assert [one.key for one in recall_pieces(desk, "P9", Recall(lab="fellside DIELECTRICS")).told] == ["recall.held"]
    told = refused(lambda: recall_pieces(desk, "P9", Recall(since=DAY, until=YESTERDAY)))
    assert (told.key, told.thing) == ("recall.days-reversed", str(YESTERDAY))
    ahead = DAY + timedelta(days=1)
    assert refused(lambda: recall_pieces(desk, "P9", Recall(since=ahead))).key == "entry.ahead"


# -------------------------------------------------------------------------------------------------- stocktake


def test_a_stocktake_compares_the_shelf_with_what_was_scanned(desk: Desk) -> None:
    add_crib(desk, "P0", "other")
    for code in ("K2", "K3", "K4", "K5"):
        add_piece(desk, "P0", plain(code, "lock-off-set"), "other" if code == "K5" else "main")
    enter_taken(desk, "P0", ["K2"], "P1")
    hand_over(desk, "P0", ["K3"], "P9")
    withdraw_piece(desk, "P0", ["K4"], "worn")
    told = {one.key: one.values["pieces"] for one in take_stock(desk, "P0", [c for c in KIT if c != "B1"], "main").told}
    # Out, kept by somebody, withdrawn or of another crib: none of them is missing here.
    assert told == {"stocktake.missing": ("B1",)}
    told = {
        one.key: one.values["pieces"] for one in take_stock(desk, "P0", (*KIT, "K2", "K3", "K4", "K5"), "main").told
    }
    assert told == {"stocktake.unexpected": ("K2", "K3", "K4", "K5")}
    row = desk.ask(lambda connection: lines_about(connection, "main"))[-1].content
    assert [json.loads(row[key]) for key in ("scanned", "missing", "unexpected")] == [
        [*KIT, "K2", "K3", "K4", "K5"], [], ["K2", "K3", "K4", "K5"],
    ]  # fmt: skip


def test_what_is_lost_is_missed_once_and_refuses_until_found_and_inspected(desk: Desk, refused: Refused) -> None:
    less = [code for code in KIT if code != "K1"]
    take_stock(desk, "P0", less, "", mark_lost=True)
    assert [one.key for one in take_stock(desk, "P0", less, "").told] == ["stocktake.agrees"]
    assert "not-withdrawn" in {one.rule for one in issue_kit(desk, "P0", question())[0].verdict.stops}
    take_stock(desk, "P0", KIT, "")
    assert refused(lambda: release_piece(desk, "P0", ["K1"])).key == "release.no-evidence"
    inspect_list(desk, "P1", ["K1"], {}, {})
    release_piece(desk, "P0", ["K1"])
    assert state(desk, "K1") == "ready"


def test_a_crib_nobody_knows_stops_a_stocktake_and_so_does_a_list_without_one_known_code(
    desk: Desk, refused: Refused
) -> None:
    assert refused(lambda: take_stock(desk, "P0", KIT, "mian")).key == "crib.unknown"
    told = refused(lambda: take_stock(desk, "P0", ("K11", "K12"), ""))
    assert (told.key, told.thing, told.values["nearest"]) == ("store.unknown-piece", "K11", "K1")
    add_crib(desk, "P0", "other")
    assert refused(lambda: take_stock(desk, "P0", KIT, "")).key == "crib.say-which"


def test_one_label_nobody_knows_is_told_and_the_rest_is_taken(desk: Desk) -> None:
    found = [code for code in KIT if code != "K1"]
    told = take_stock(desk, "P0", (*found, "K11", "\x1b[2J", "K11"), "", mark_lost=True).told
    assert [(one.key, dict(one.values)) for one in told] == [
        ("stocktake.missing", {"pieces": ("K1",)}), ("stocktake.unknown", {"code": "K11", "nearest": "K1"}),
        ("stocktake.unknown", {"code": "?[2J", "nearest": ""}), ("stocktake.none-lost", {}),
    ]  # fmt: skip
    lines = desk.ask(lambda connection: lines_about(connection, "main"))
    row = next(one.content for one in lines if one.kind == "stocktake")
    assert [json.loads(row[key]) for key in ("scanned", "missing", "unexpected")] == [
        [*found, "K11", "?[2J"], ["K1"], ["K11", "?[2J"],
    ]  # fmt: skip
    # K1 hangs there with a label that was misread, perhaps: it is not given up for lost.
    assert state(desk, "K1") == "ready"


# ------------------------------------------------------------------------------------- transfer, labels, bags


def test_a_transfer_moves_all_or_none_and_keeps_the_history(desk: Desk, refused: Refused) -> None:
    add_crib(desk, "P0", "other")
    hold_piece(desk, "P0", ["L1"], "recall")
    enter_taken(desk, "P0", ["B1"], "P1")
    assert refused(lambda: transfer_pieces(desk, "P0", ["L1", "B1"], "other")).key == "piece.out"
    told = refused(lambda: transfer_pieces(desk, "P0", ["L1"], "othre"))
    assert (told.key, told.values["nearest"]) == ("crib.unknown", "other")
    transfer_pieces(desk, "P0", ["L1", "D1"], "other")
    assert desk.ask(lambda connection: pieces(connection, ["L1"]))["L1"].crib == "other"
    assert state(desk, "L1") == "on-hold"
    saved = release_piece(desk, "P9", ["L1"])
    assert {one.book for one in saved.entries} == {"other"}
    assert state(desk, "L1") == "ready"
    transfer_pieces(desk, "P0", ["L1"], "main")
    assert state(desk, "L1") == "ready"


def test_capitals_do_not_make_another_piece(desk: Desk, refused: Refused) -> None:
    told = refused(lambda: add_piece(desk, "P0", gloves("g1")))
    assert (told.key, told.values["other"]) == ("piece.taken", ("G1",))
    saved = log_check(desk, "P0", "inspection", "l1", {})
    assert saved.entries
    assert desk.ask(lambda connection: lines_about(connection, "L1"))[-1].content["what"] == "inspection"


def test_a_bags_next_contents_take_the_place_of_the_last(desk: Desk, refused: Refused) -> None:
    make_bag(desk, "P0", "BAG", ("L1", "D1"))
    make_bag(desk, "P0", "BAG", ("L1",))
    assert len(hold_piece(desk, "P0", ["BAG"], "recall").entries) == 1
    make_bag(desk, "P0", "BIG", ("BAG", "B1"))
    assert len(release_piece(desk, "P9", ["BAG"]).entries) == 1
    assert len(hold_piece(desk, "P0", ["BIG"], "recall").entries) == 2
    assert refused(lambda: make_bag(desk, "P0", "TWO", ("L1", "B11"))).key == "store.unknown-piece"
    add_alias(desk, "P0", "0815", "L1")
    assert refused(lambda: make_bag(desk, "P0", "0815", ("B1",))).key == "bag.is-a-piece"
    assert refused(lambda: add_alias(desk, "P0", "BAG", "L1")).key == "alias.there"
    assert refused(lambda: add_alias(desk, "P0", "BIG", "L1")).key == "alias.taken"
    assert refused(lambda: add_alias(desk, "P0", "K1", "L1")).key == "alias.taken"
    assert refused(lambda: make_bag(desk, "P0", " ", ("B1",))).key == "code.not-printable"


def test_capitals_do_not_make_another_label_or_bag(desk: Desk, refused: Refused) -> None:
    """Folded as eyes do, not as the database does, which knows the letters of one language only."""
    add_alias(desk, "P0", "Spind Ä", "G1")
    make_bag(desk, "P0", "Öse", ("L1", "D1"))
    assert refused(lambda: add_alias(desk, "P0", "SPIND ä", "L1")).key == "alias.taken"
    assert refused(lambda: add_alias(desk, "P0", "SPIND ä", "G1")).key == "alias.there"
    assert refused(lambda: add_alias(desk, "P0", "öSE", "L1")).key == "alias.taken"
    assert refused(lambda: add_alias(desk, "P0", "k1", "L1")).key == "alias.taken"
    assert refused(lambda: make_bag(desk, "P0", "spind ä", ("B1",))).key == "bag.is-a-piece"
    for code in ("SPIND Ä", "ÖSE"):
        assert refused(lambda code=code: add_piece(desk, "P0", gloves(code))).key == "piece.taken"  # type: ignore[misc]
    assert len(hold_piece(desk, "P0", ["öse", "spind ä"], "recall").entries) == 3


def test_a_bag_made_up_again_in_other_capitals_is_the_same_bag(desk: Desk) -> None:
    make_bag(desk, "P0", "Bag", ("L1", "D1"))
    make_bag(desk, "P0", "BAG", ("B1",))
    assert len(hold_piece(desk, "P0", ["bag"], "recall").entries) == 1
    assert held(desk, "L1", "D1", "B1") == {"B1"}
    subject, lines = show_history(desk, "bAg")
    assert (subject, len(lines)) == ("Bag", 2)


# ----------------------------------------------------------------------------------- certificates, repairs


def test_certificates_seen_count_for_the_tests_there_are(desk: Desk) -> None:
    early, late = date(2025, 12, 1), date(2026, 2, 1)
    for code in ("G2", "G3"):
        add_piece(desk, "P0", {**gloves(code), "records": [a_test(early, evidence="sheet-only")]})
    confirm_certificates(desk, "P9", ["G2", "G3"])
    log_electrical_test(desk, "P0", "G3", {"on": late, "result": "passed", "evidence": "sheet-only"})
    assert (due(desk, "G2"), due(desk, "G3")) == (date(2026, 6, 1), date(2026, 6, 1))
    confirm_certificates(desk, "P9", ["G3"])
    assert due(desk, "G3") == date(2026, 8, 1)


def test_a_repair_no_set_allows_is_taken_in_and_told(desk: Desk) -> None:
    told = repair_piece(desk, "P0", "G1", {"kind": "patched", "place": "palm"}).told
    assert [one.key for one in told] == ["saved.repair-not-allowed", "saved.repair-open"]
    assert state(desk, "G1") == "on-hold"
