"""Every standing of a piece, and the worst one winning."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from app.judging.standing import Standing, standing
from tests import build
from tests.build import Table

TEST = build.gloves()["records"][0]


def stands(piece: Table, **site: Any) -> Standing:
    facts = build.facts(build.world(pieces=[piece], site={"altitude_m": 140, **site}))
    return standing(facts, facts.pieces[0])


def pair(*records: Table, **more: Any) -> Table:
    return build.gloves(records=[TEST, *records], **more)


@pytest.mark.parametrize(
    ("state", "piece"),
    [
        ("ready", build.gloves()),
        ("ready", build.plain("B1", "barrier-set")),
        ("check-due-today", pair()),
        ("due-soon", build.gloves(records=[{**TEST, "on": "2025-09-20"}])),
        ("overdue", build.gloves(records=[{**TEST, "on": "2025-09-02"}])),
        ("not-tested", build.gloves(records=[])),
        ("certificate-not-seen", build.gloves(records=[{**TEST, "evidence": "sheet-only"}])),
        ("certificate-not-seen", build.gloves(records=[{**TEST, "evidence": "stated-pass"}])),
        ("cannot-tell", {key: value for key, value in build.gloves().items() if key != "class"}),
        ("held", pair({"what": "hold", "on": "2026-02-01", "why": "recall"})),
        ("held", pair({"what": "event", "kind": "dropped", "on": "2026-02-01"})),
        ("held", pair({"what": "electrical-test", "on": "2026-02-01", "result": "failed"})),
        ("out", pair({"what": "issue", "on": "2026-02-01"})),
        ("lost", pair(lost=True)),
        ("withdrawn", pair({"what": "withdrawal", "on": "2026-02-01"})),
        ("withdrawn", pair({"what": "withdrawal", "on": "2026-02-01"}, {"what": "hold", "on": "2026-02-01"}, lost=True)),
        ("not-tested", build.plain("M1", "multimeter")),
        ("overdue", build.plain("M1", "multimeter", records=[{"what": "calibration", "on": "2025-03-02", "result": "passed"}])),
        ("overdue", build.plain("H1", "rescue-hook", records=[{"what": "look-over", "on": "2025-03-02", "defects": []}])),
    ],
)  # fmt: skip
def test_a_state(state: str, piece: Table) -> None:
    assert stands(piece).state == state


def test_dates_and_the_limit_that_decides() -> None:
    one = stands(build.gloves(first_issue="2025-09-15", records=[{**TEST, "on": "2025-08-04"}]))
    assert (one.due_on, one.use_until, one.decides) == (date(2026, 3, 15), date(2026, 3, 14), "from-first-issue")
    assert (date(2026, 8, 4), "twelve-months-from-test") in one.weighed
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
