"""Retest voltage of a class for a kind of current, in volts."""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain.errors import BadInput
from app.decision.fields.reading import one_of
from app.decision.fields.words import CLASS_SYSTEMS, CLASSES, RULE_SETS
from app.decision.judging.calculation import Answer, Calculation, Law, caution_of
from app.decision.kinds import kinds


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """Volts; BadInput where the set prints none."""
    rule_set = law.asked_set(ask)
    current = str(ask.get("kind_of_current", "ac"))
    kind = str(ask.get("kind", "rubber-gloves"))
    limit = rule_set.class_limit(kind, str(ask.get("class", "")), "retest", current)
    if limit is None:
        raise BadInput("calculation.no-limit", thing=f"class = {ask.get('class', '')}")
    return Answer(limit.value / 1000, "V", caution_of(limit, rule_set.leaning(kind)))


CALCULATION = Calculation(
    "retest-test-v",
    {
        "class": one_of(*CLASSES),
        "class_system": one_of(*CLASS_SYSTEMS),
        "kind_of_current": one_of("ac", "dc"),
        "rule_set": one_of(*RULE_SETS),
        "kind": one_of(*kinds()),
    },
    work,
)
