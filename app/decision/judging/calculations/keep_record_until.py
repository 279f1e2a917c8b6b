"""Day until which the record of a test is kept, under one rule set: so many years after the day of the test.

The years stand in the set under "keep-record/years" (jp-351: three). Most sets print none.
"""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain.calendar import Day, add_months
from app.decision.domain.errors import BadInput
from app.decision.fields.reading import any_day, one_of
from app.decision.fields.words import RULE_SETS
from app.decision.judging.calculation import Answer, Calculation, Law
from app.decision.kinds import kinds


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """A day; BadInput without the day of the test, and where the set prints no time for keeping records."""
    rule_set = law.asked_set(ask)
    test_day, years = ask.get("test_on", ask.get("on")), rule_set.limit("keep-record", "years")
    if not isinstance(test_day, Day):
        raise BadInput("calculation.figure-missing", thing="test_on")
    # Of a day known by its month or week alone the latest is taken, so that nothing is thrown away too soon.
    tested_on = test_day.last
    if years is None:
        raise BadInput("calculation.no-retention", thing=rule_set.key)
    try:
        return Answer(add_months(tested_on, years.value * 12))
    except ValueError:
        raise BadInput("case.out-of-range", thing=f"test_on = {tested_on}") from None


CALCULATION = Calculation(
    "keep-record-until",
    {"test_on": any_day, "on": any_day, "rule_set": one_of(*RULE_SETS), "kind": one_of(*kinds())},
    work,
)
