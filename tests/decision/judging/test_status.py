"""Every standing of a piece, and the worst one winning."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from msgspec.structs import replace

from app.decision.judging.status import Status, status_of
from tests import build
from tests.build import Table

TEST = build.gloves()["records"][0]


def stands(piece: Table, **site: Any) -> Status:
    facts = build.facts(build.world(pieces=[piece], site={"altitude_m": 140, **site}))
    return status_of(facts, facts.pieces[0])


def pair(*records: Table, **more: Any) -> Table:
    return build.gloves(records=[TEST, *records], **more)


@pytest.mark.parametrize(
    ("state", "piece"),
    [
        ("ready", build.gloves()),
        ("ready", build.plain("B1", "barrier-set")),
        ("inspect-today", pair()),
        ("due-soon", build.gloves(records=[{**TEST, "on": "2025-09-20"}])),
        ("overdue", build.gloves(records=[{**TEST, "on": "2025-09-02"}])),
        ("not-tested", build.gloves(records=[])),
        ("certificate-not-seen", build.gloves(records=[{**TEST, "evidence": "sheet-only"}])),
        ("certificate-not-seen", build.gloves(records=[{**TEST, "evidence": "stated-pass"}])),
        ("cannot-tell", {key: value for key, value in build.gloves().items() if key != "class"}),
        ("on-hold", pair({"what": "hold", "on": "2026-02-01", "why": "recall"})),
        ("on-hold", pair({"what": "event", "kind": "dropped", "on": "2026-02-01"})),
        ("on-hold", pair({"what": "electrical-test", "on": "2026-02-01", "result": "failed"})),
        ("out", pair({"what": "issue", "on": "2026-02-01"})),
        ("lost", pair(lost=True)),
        ("withdrawn", pair({"what": "withdrawal", "on": "2026-02-01"})),
        ("withdrawn", pair({"what": "withdrawal", "on": "2026-02-01"}, {"what": "hold", "on": "2026-02-01"}, lost=True)),
        ("not-tested", build.plain("M1", "multimeter")),
        ("overdue", build.plain("M1", "multimeter", records=[{"what": "calibration", "on": "2025-03-02", "result": "passed"}])),
        ("overdue", build.plain("H1", "rescue-hook", records=[{"what": "inspection", "on": "2025-03-02", "defects": []}])),
    ],
)  # fmt: skip
def test_a_state(state: str, piece: Table) -> None:
    assert stands(piece).state == state


def test_dates_and_the_limit_that_decides() -> None:
    one = stands(build.gloves(first_issue="2025-09-15", records=[{**TEST, "on": "2025-08-04"}]))
    assert (one.due_on, one.use_until, one.decides) == (date(2026, 3, 15), date(2026, 3, 14), "from-first-issue/6")
    assert (date(2026, 8, 4), "from-test-issued-later/12") in one.weighed
    assert one.counted_from == date(2025, 8, 4)


def test_never_issued_is_not_judged_as_issued_today() -> None:
    one = stands(build.gloves(first_issue="never", records=[{**TEST, "on": "2025-08-04"}]))
    assert one.due_on == date(2026, 8, 4)


def test_an_unconfirmed_date_still_gives_a_due_day() -> None:
    one = stands(build.gloves(records=[{**TEST, "on": "2025-08-01", "evidence": "sheet-only"}]))
    assert (one.state, one.due_on, one.is_past) == ("certificate-not-seen", date(2026, 2, 1), True)


def test_the_holder_is_named() -> None:
    assert stands(build.gloves(custody="P7")).holder == "P7"
    assert stands(build.gloves()).place == "crib"


def test_warning_days_are_the_sites() -> None:
    record = {**TEST, "on": "2025-09-20"}
    assert stands(build.gloves(records=[record, build.gloves()["records"][1]]), warning_days=3).state == "ready"


def without(piece: Table, *keys: str) -> Table:
    return {key: value for key, value in piece.items() if key not in keys}


FIGURES = {
    "what": "electrical-test", "on": "2026-01-15", "result": "passed", "evidence": "figures", "test_v": 10_000,
    "kind_of_current": "ac", "frequency_hz": 60, "dwell_s": 60, "left_ma": 1, "right_ma": 1,
}  # fmt: skip


@pytest.mark.parametrize(
    ("state", "key", "piece"),
    [
        ("cannot-tell", "limit-not-seen-in-print", build.gloves(records=[FIGURES], **{"class": "1"})),
        ("cannot-tell", "class-known.no-system", without(build.gloves(), "class_system")),
        ("not-tested", "inspection-in-date.none", build.plain("H1", "rescue-hook", records=[])),
        ("inspect-today", "self-test-done.not-today", build.detector(records=[build.look()])),
        ("on-hold", "calibration-in-date.failed", build.plain("M1", "multimeter", records=[
            build.look(), {"what": "calibration", "on": "2026-01-01", "result": "passed"},
            {"what": "calibration", "on": "2026-02-01", "result": "failed"}])),
        ("not-tested", "electrical-test-in-date.none-counts", build.gloves(records=[{**FIGURES, "test_v": 4000}])),
        ("ready", "status.dated", build.plain("H1", "rescue-hook")),
        ("on-hold", "not-held.held", pair({"what": "hold", "on": "2026-02-01"}, {"what": "issue", "on": "2026-02-01"})),
        ("out", "status.out", build.gloves(records=[{"what": "issue", "on": "2026-02-01"}])),
        ("overdue", "status.overdue", build.gloves(records=[{**TEST, "on": "2025-01-01"}])),
        # Overdue by calendar and due by certificate: nobody has seen that it was ever tested.
        ("certificate-not-seen", "test.certificate-not-seen",
         build.gloves(records=[{**TEST, "on": "2025-01-01", "evidence": "sheet-only"}])),
    ],
)  # fmt: skip
def test_a_state_says_why(state: str, key: str, piece: Table) -> None:
    one = stands(piece)
    assert (one.state, one.why.key) == (state, key)


@pytest.mark.parametrize(
    ("tested", "state", "is_past"),
    [("2025-09-02", "overdue", True), ("2025-09-03", "due-soon", False), ("2025-10-02", "due-soon", False),
     ("2025-10-03", "ready", False)],
)  # fmt: skip
def test_the_days_about_the_due_day(tested: str, state: str, is_past: bool) -> None:
    one = stands(build.gloves(records=[{**TEST, "on": tested}, build.gloves()["records"][1]]))
    assert (one.state, one.is_past) == (state, is_past)


def test_the_earliest_of_every_demand_is_the_due_day() -> None:
    calibrated = {"what": "calibration", "on": "2026-01-01", "result": "passed"}
    meter = build.plain("M1", "multimeter", records=[build.look(), calibrated])
    assert stands(meter).due_on == date(2027, 1, 1)
    assert stands({**meter, "maker_interval_months": 6}).due_on == date(2026, 7, 1)
    assert stands({**meter, "maker_interval_months": 24}).due_on == date(2027, 1, 1)
    # A stated interval of 0 months is no silence: the piece is due at once.
    assert (stands({**meter, "maker_interval_months": 0}).state) == "overdue"
    hook = build.plain("H1", "rescue-hook", maker_interval_months=0)
    assert (stands(hook).state, stands(hook).decides) == ("overdue", "inspection/0")
    assert stands(build.gloves(maker_interval_months=1)).decides == "maker-interval/1"


def test_what_is_not_known_has_no_date() -> None:
    one = stands(build.plain("B1", "barrier-set"))
    assert (one.due_on, one.use_until, one.decides, one.is_past) == (None, None, "", False)
    assert one.why.key == "status.undated"


def test_the_latest_certificate_nobody_has_seen_is_named() -> None:
    records = [{**TEST, "on": day, "evidence": "sheet-only"} for day in ("2026-01-10", "2026-02-10", "2025-12-10")]
    one = stands(build.gloves(records=records))
    assert (one.state, one.why.values["day"]) == ("certificate-not-seen", "2026-02-10")
    # A paper that lacks more than somebody's look at it waits for nothing.
    anonymous = [{**records[0], "certificate_names_piece": False}]
    assert stands(build.gloves(records=anonymous)).state == "not-tested"
    undated = [{key: value for key, value in records[0].items() if key != "on"}]
    assert stands(build.gloves(records=undated)).state == "not-tested"


def test_only_a_passed_calibration_gives_a_date() -> None:
    failed = {"what": "calibration", "on": "2026-02-01", "result": "failed"}
    only_failed = stands(build.plain("M1", "multimeter", records=[failed]))
    assert (only_failed.state, only_failed.why.key, only_failed.due_on) == (
        "on-hold",
        "calibration-in-date.failed",
        None,
    )
    unsaid = stands(build.plain("M1", "multimeter", records=[{"what": "calibration", "on": "2026-02-01"}]))
    assert (unsaid.state, unsaid.why.key, unsaid.due_on) == ("not-tested", "calibration-in-date.none", None)
    passed = {**failed, "on": "2026-01-01", "result": "passed"}
    assert stands(build.plain("M1", "multimeter", records=[passed, failed])).due_on == date(2027, 1, 1)


def test_the_latest_of_several_checks_is_the_one_that_is_counted_from() -> None:
    calibrated = [{"what": "calibration", "on": day, "result": "passed"} for day in ("2026-01-05", "2025-04-05")]
    one = stands(build.plain("M1", "multimeter", records=calibrated))
    assert (one.counted_from, one.due_on) == (date(2026, 1, 5), date(2027, 1, 5))
    looks: list[Table] = [{"what": "inspection", "on": day, "defects": []} for day in ("2026-01-05", "2025-04-05")]
    hook = stands(build.plain("H1", "rescue-hook", records=looks))
    assert (hook.counted_from, hook.due_on) == (date(2026, 1, 5), date(2027, 1, 5))


@pytest.mark.parametrize(
    ("piece", "dated"),
    [(build.gloves(records=[]), True), (build.plain("M1", "multimeter"), True), (build.plain("H1", "rescue-hook"), True),
     (build.plain("W1", "test-leads"), False), (build.detector(), False), (build.plain("B1", "barrier-set"), False)],
)  # fmt: skip
def test_whether_any_demand_on_the_kind_runs_out_by_date(piece: Table, dated: bool) -> None:
    assert stands(piece).is_dated is dated


def test_a_kind_nobody_asks_whether_it_is_withdrawn_has_no_standing() -> None:
    facts = build.facts(build.world(pieces=[build.gloves()]))
    covers = {kind: tuple(one for one in rules if one != "not-withdrawn") for kind, rules in facts.house.covers.items()}
    unasked = replace(facts, house=replace(facts.house, covers=covers))
    with pytest.raises(AssertionError, match="rubber-gloves"):
        status_of(unasked, facts.pieces[0])
