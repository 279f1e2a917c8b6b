"""A later day, and the first issue."""

from __future__ import annotations

from copy import deepcopy
from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from app.decision.domain.calendar import Day
from app.decision.domain.finding import Finding
from tests.properties.drawn import Key, Table, by_subject, decide, improved, kits, proven, said

LATER = st.integers(1, 3) | st.integers(4, 45) | st.integers(46, 500)


def _without_the_future(case: Table) -> Table:
    """The case with what starts after its first day left out."""
    past = deepcopy(case)
    for piece in past["pieces"]:
        piece["records"] = [one for one in piece["records"] if Day.parse(one["on"]).first <= case["on"]]
        first = piece.get("first_issue", "unknown")
        if first not in ("never", "unknown") and Day.parse(first).first > case["on"]:
            piece["first_issue"] = "unknown"
    return past


def _kept(one: Finding) -> Key | None:
    """A cuff is measured for the day; without today's measurement the lengths speak, and they may say more."""
    return None if one.rule == "cuff-clearance" else by_subject(one)


def _moved(case: Table, on: date, until: date) -> Table:
    return {**case, "on": on, "until": until}


@given(kits(most=5), LATER)
@proven
def test_a_later_day_never_improves(case: Table, days: int) -> None:
    past = _without_the_future(case)
    today, later = past["on"], past["on"] + timedelta(days=days)
    # A pair never issued starts its six months on the first day, whichever that is: only its last good day moves.
    verdicts = decide(_moved(past, today, today)), decide(_moved(past, later, later))
    assert improved(*verdicts, _kept, with_days=False) == []


@given(kits(most=5), LATER)
@proven
def test_a_last_good_day_never_moves_back_in_time(case: Table, days: int) -> None:
    past = _without_the_future(case)
    for piece in past["pieces"]:
        if piece.get("first_issue") == "never":
            piece["first_issue"] = "unknown"
    later = past["on"] + timedelta(days=days)
    span = past["until"] - past["on"]
    verdicts = decide(past), decide(_moved(past, later, later + span))
    assert improved(*verdicts, _kept) == []


@given(kits(most=2), st.integers(1, 60))
@proven
def test_a_longer_job_never_improves(case: Table, days: int) -> None:
    longer = _moved(case, case["on"], case["until"] + timedelta(days=days))
    assert improved(decide(case), decide(longer), by_subject) == []


@given(kits(most=2), st.integers(0, 400))
@proven
def test_a_job_of_its_last_day_alone_is_asked_no_more_by_date_than_the_whole_job(case: Table, days: int) -> None:
    """What was issued until a day is still in date on that day."""
    case["until"] = case["on"] + timedelta(days=days)
    verdict = decide(case)
    if verdict.may_be_issued:
        last = decide(_moved(case, case["until"], case["until"]))
        by_date = {"electrical-test-in-date", "calibration-in-date", "inspection-in-date", "person-authorised"}
        assert {one.rule for one in last.stops} & by_date == set()


@given(kits(most=2), st.integers(-600, 200), st.data())
@proven
def test_an_unknown_first_issue_is_the_least_over_every_day(case: Table, offset: int, data: st.DataObject) -> None:
    """A day in place of unknown is neither for nor against: it may say more, never less, and about the clock alone."""
    gloves = [piece for piece in case["pieces"] if piece["kind"] == "rubber-gloves"]
    if not gloves:
        return
    code = data.draw(st.sampled_from(gloves))["code"]
    known = deepcopy(case)
    for one, first in ((case, "unknown"), (known, case["on"] + timedelta(days=offset))):
        for piece in one["pieces"]:
            if piece["code"] == code:
                piece["first_issue"] = first
    before, after = decide(case), decide(known)
    assert improved(after, before, by_subject) == []
    changed = {key for key, held in said(before, by_subject).items() if said(after, by_subject)[key] != held}
    assert changed <= {("electrical-test-in-date", code)}


@given(kits(most=2), st.data())
@proven
def test_a_first_issue_never_is_judged_as_the_first_day_of_the_job(case: Table, data: st.DataObject) -> None:
    """The hand-over itself starts the clock, unless a record says that there has been one."""
    today = deepcopy(case)
    for never, dated in zip(case["pieces"], today["pieces"], strict=True):
        never["first_issue"], dated["first_issue"] = "never", case["on"]
    assert said(decide(case), by_subject) == said(decide(today), by_subject)
