"""Maximum use voltage of a class for a supply, in volts."""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain.errors import BadInput
from app.decision.domain.voltage import SUPPLIES
from app.decision.fields.reading import one_of
from app.decision.fields.words import CLASS_SYSTEMS, CLASSES, RULE_SETS
from app.decision.judging.calculation import Answer, Calculation, Law, caution_of
from app.decision.kinds import kinds


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """Volts; for an inverter output the DC figure, because kit is chosen on the full link."""
    rule_set = law.asked_set(ask)
    current = "ac" if str(ask.get("supply", "isolated-dc")).startswith("ac-") else "dc"
    limit = rule_set.class_limit(str(ask.get("kind", "rubber-gloves")), str(ask.get("class", "")), "use", current)
    if limit is None:
        raise BadInput("calculation.no-limit", thing=f"class = {ask.get('class', '')}")
    return Answer(limit.value / 1000, "V", caution_of(limit, rule_set.leaning(str(ask.get("kind", "rubber-gloves")))))


CALCULATION = Calculation(
    "class-limit-v",
    {
        "class": one_of(*CLASSES),
        "class_system": one_of(*CLASS_SYSTEMS),
        "supply": one_of(*SUPPLIES),
        "kind": one_of(*kinds()),
        "rule_set": one_of(*RULE_SETS),
    },
    work,
)
