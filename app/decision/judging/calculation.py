"""What a calculation is declared with, and its answer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date

from msgspec import Struct

from app.decision.domain.errors import BadInput
from app.decision.domain.limits import Figure, HousePolicy, RuleSet
from app.decision.fields.reading import Reader

Value = int | float | str | bool | date | None


class Answer(Struct, frozen=True):
    """The figure with its unit; `caution` names the sentence of what should be known beside it."""

    value: Value
    unit: str | None = None
    caution: str = ""


SHIPPED = "us-osha-137"
NOT_SEEN = "calculation.not-seen-in-print"


def caution_of(*figures: Figure | None) -> str:
    """The caution beside a figure from memory, "" beside others."""
    return NOT_SEEN if any(figure is not None and figure.confidence == "M" for figure in figures) else ""


class Law(Struct, frozen=True):
    """What a calculation may look limits up in."""

    rule_sets: Mapping[str, RuleSet]
    house: HousePolicy

    def asked_set(self, ask: Mapping[str, object]) -> RuleSet:
        """The set named; else the shipped one, or the one that judges the class system named.

        BadInput for a set that judges another class system than the one named with it.
        """
        system = ask.get("class_system")
        if "rule_set" in ask or system is None:
            chosen = self.rule_sets[str(ask.get("rule_set", SHIPPED))]
        else:
            ours = [rule_set for rule_set in self.rule_sets.values() if rule_set.class_system == system]
            chosen = next((rule_set for rule_set in ours if rule_set.key == SHIPPED), ours[0])
        if system not in (None, chosen.class_system):
            raise BadInput("calculation.no-limit", thing=f"class_system = {system}")
        return chosen


class Calculation(Struct, frozen=True):
    """One named calculation: the keys it takes with their readers, and the function.

    `work` raises BadInput where the question has no answer (outside a table, a figure missing).
    """

    key: str
    takes: Mapping[str, Reader]
    work: Callable[[Mapping[str, object], Law], Answer]
