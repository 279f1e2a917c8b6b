"""Whether a bond between housing and chassis holds: strictly below 0.1 ohm, measured with 0.2 A or more.

Source: UN R100 5.1.2.2 (S). A reading of exactly zero is shorted leads or a meter not read, and no answer.
"""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain import isolation
from app.decision.judging.asked_figures import figure_of, positive
from app.decision.judging.calculation import Answer, Calculation, Law


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """True or false; false with a caution where the current was too small to show anything. Both must be stated."""
    del law
    ohm, current = figure_of(ask, "ohm"), figure_of(ask, "current_a")
    caution = "" if isolation.bond_current_counts(current) else "calculation.bond-current-small"
    return Answer(isolation.bond_holds(ohm, current), caution=caution)


CALCULATION = Calculation("bond-ok", {"ohm": positive, "current_a": positive}, work)
