"""What a calculation is declared with, and its answer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

from app.domain.case.reading import Reader
from app.domain.limits import HousePolicy, RuleSet

Value = int | float | str | bool | date | None


@dataclass(frozen=True, slots=True)
class Answer:
    """The figure with its unit; `caution` names the sentence of what should be known beside it."""

    value: Value
    unit: str | None = None
    caution: str = ""


@dataclass(frozen=True, slots=True)
class Law:
    """What a calculation may look limits up in."""

    rule_sets: Mapping[str, RuleSet]
    house: HousePolicy


@dataclass(frozen=True, slots=True)
class Calculation:
    """One named calculation: the keys it takes with their readers, and the function.

    `work` raises BadInput where the question has no answer (outside a table, a figure missing).
    """

    key: str
    takes: Mapping[str, Reader]
    work: Callable[[Mapping[str, object], Law], Answer]
