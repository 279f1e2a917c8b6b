"""Retest due: the first day a test no longer counts, from test and first issue, under one rule set."""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain.calendar import Day
from app.decision.domain.clock import asked_of, due, due_by_issue_only
from app.decision.domain.errors import BadInput
from app.decision.domain.piece import FirstIssue, Piece
from app.decision.fields.pieces import FIELDS
from app.decision.fields.reading import any_day, one_of, whole
from app.decision.fields.words import RULE_SETS
from app.decision.judging.calculation import Answer, Calculation, Law, caution_of
from app.decision.kinds import kinds


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """A day, or "none" where the set has no schedule for the kind."""
    rule_set = law.asked_set(ask)
    kind, test_day = str(ask.get("kind", "rubber-gloves")), ask.get("test_on")
    if not isinstance(test_day, Day):
        raise BadInput("calculation.figure-missing", thing="test_on")
    # A test speaks for the piece: known by its month or week alone, it counts from the earliest day.
    tested_on = test_day.first
    piece = Piece(code="asked", kind=kind, insulation_class=_word(ask, "class"), material=_word(ask, "material"))
    asked = asked_of(rule_set, piece)
    if asked.lacks_material:
        raise BadInput("calculation.figure-missing", thing="material")
    is_goods = any(kind in rule_set.covers for rule_set in law.rule_sets.values())
    if is_goods and kind not in rule_set.covers:
        raise BadInput("calculation.kind-not-covered", thing=kind, set=rule_set.title)
    interval = asked.interval
    if interval is None:
        return Answer("none")
    waits = rule_set.limits.get(interval.shelf) if first_of(ask) == "never" or interval.between == "capped" else None
    caution = caution_of(interval, waits)
    first = first_of(ask)
    maker = ask.get("maker_interval_months")
    if ask.get("clock") == "issue-only":
        return Answer(due_by_issue_only(tested_on, first, interval))
    return Answer(due(tested_on, first, interval, maker if isinstance(maker, int) else None)[0], caution=caution)


def first_of(ask: Mapping[str, object]) -> FirstIssue:
    """F as asked; unknown where it is not."""
    return ask.get("first_issue", "unknown")  # type: ignore[return-value]  # its reader gives just this


def _word(ask: Mapping[str, object], key: str) -> str | None:
    return None if ask.get(key) is None else str(ask[key])


CALCULATION = Calculation(
    "retest-due",
    {
        "test_on": any_day,
        "first_issue": FIELDS["first_issue"].sort.read,
        "kind": one_of(*kinds()),
        "rule_set": one_of(*RULE_SETS),
        "clock": one_of("shipped", "issue-only"),
        "material": FIELDS["material"].sort.read,
        "class": FIELDS["class"].sort.read,
        "maker_interval_months": whole,
    },
    work,
)
