"""A kept standing with the day added says what judging the piece on that day says; a vague day only makes it stricter."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from app.decision.domain.calendar import Day
from app.decision.domain.facts import Facts, Job
from app.decision.domain.limits import SiteRules
from app.decision.domain.piece import Piece
from app.decision.domain.record import (
    AirTest,
    AnyRecord,
    ElectricalTest,
    Event,
    HandOver,
    Hold,
    Inspection,
    Issue,
    Release,
    Return,
)
from app.decision.judging.catalogues import catalogues
from app.decision.judging.status import lasting, state_on, status_of
from app.register.writes.statuses import last_day

FIRST = date(2026, 1, 1)
RULE_SET = catalogues().rule_sets["us-osha-137"]
DAYS = st.integers(0, 90).map(lambda days: Day.of(FIRST + timedelta(days=days)))
VAGUE = st.sampled_from([Day.parse("2026-01"), Day.parse("2026-02"), Day.parse("2026-W06")])
# Least pressing first; a kept standing may stand further on, never further back.
ORDER = ("ready", "inspect-today", "due-soon", "overdue", "out", "certificate-not-seen", "not-tested", "cannot-tell",
         "on-hold", "lost", "withdrawn")  # fmt: skip


def records(days: st.SearchStrategy[Day]) -> st.SearchStrategy[tuple[AnyRecord, ...]]:
    one = st.one_of(
        st.builds(ElectricalTest, on=days, result=st.sampled_from(["passed", "failed"])),
        st.builds(AirTest, on=days, left=st.just("passed"), right=st.sampled_from(["passed", "failed"]), inflation_c=st.just(120)),
        st.builds(Inspection, on=days, defects=st.sampled_from([(), ("cut",)])),
        st.builds(Event, on=days, kind=st.sampled_from(["wet", "suspect"])), st.builds(Hold, on=days),
        st.builds(Release, on=days, by=st.just("P9")), st.builds(Issue, on=days), st.builds(Return, on=days),
        st.builds(HandOver, on=days, to=st.sampled_from(["P1", "crib"])),
    )  # fmt: skip
    return st.lists(one, max_size=6).map(tuple)


def piece(made: tuple[AnyRecord, ...]) -> Piece:
    return Piece(
        code="G1", kind="rubber-gloves", first_issue=Day.of(date(2025, 6, 1)), insulation_class="0", class_system="iec",
        type="I", length_um=360_000, size_c=1000, records=made,
    )  # fmt: skip


def facts(one: Piece, on: date) -> Facts:
    known = catalogues()
    return Facts(
        on=on, until=on, job=Job(), pieces=(one,), kinds=known.kinds, house=known.house, rule_sets=(RULE_SET,),
        site=SiteRules(),
    )  # fmt: skip


def kept_state(one: Piece, today: date) -> str:
    return state_on(lasting(facts(one, last_day(one)), one), today, SiteRules().warning_days)[0]


@settings(max_examples=400, deadline=None)
@given(records(DAYS), st.integers(0, 400))
def test_with_exact_days_it_is_the_same(made: tuple[AnyRecord, ...], later: int) -> None:
    one = piece(made)
    today = last_day(one) + timedelta(days=later)
    assert kept_state(one, today) == status_of(facts(one, today), one).state


@settings(max_examples=400, deadline=None)
@given(records(st.one_of(DAYS, VAGUE)), st.integers(0, 60))
def test_with_vague_days_it_is_never_less_strict(made: tuple[AnyRecord, ...], days: int) -> None:
    one = piece(made)
    begins = max((record.on.first for record in made if record.on is not None), default=FIRST)
    today = begins + timedelta(days=days)
    told = status_of(facts(one, today), one).state
    assert ORDER.index(kept_state(one, today)) >= ORDER.index(told), told
