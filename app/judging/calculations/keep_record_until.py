"""Day until which the record of a test is kept, under one rule set: so many years after the day of the test.

The years stand in the set under "keep-record/years" (jp-351: three, facts T16). Most sets print none.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from app.domain.calendar import add_months
from app.domain.case.reading import exact_day, one_of
from app.domain.case.words import KINDS, RULE_SETS
from app.domain.errors import BadInput
from app.judging.calculation import Answer, Calculation, Law


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """A day; BadInput without the day of the test, and where the set prints no time for keeping records."""
    rule_set = law.rule_sets[str(ask.get("rule_set", "us-osha-137"))]
    tested_on, years = ask.get("test_on", ask.get("on")), rule_set.limit("keep-record", "years")
    if not isinstance(tested_on, date):
        raise BadInput("calculation.figure-missing", thing="test_on")
    if years is None:
        raise BadInput("calculation.no-retention", thing=rule_set.key)
    try:
        return Answer(add_months(tested_on, years.value * 12))
    except ValueError:
        raise BadInput("case.out-of-range", thing=f"test_on = {tested_on}") from None


CALCULATION = Calculation(
    "keep-record-until",
    {"test_on": exact_day, "on": exact_day, "rule_set": one_of(*RULE_SETS), "kind": one_of(*KINDS)},
    work,
)
