"""The place is dry: instruments are made for dry places with occasional condensation.

Stated as wet or damp it is not met; not stated, nobody has said otherwise. Source: pollution degree 2.

>>> asked(RULE, job={"place": "dry"})
met dry
>>> asked(RULE, job={"place": "wet"})
not-met wet
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Basis, Finding, Remedy, Renewal
from app.decision.domain.rule import KitRule


def check(facts: Facts) -> Iterable[Finding]:
    """One finding for the kit."""
    demand = RULE.demand("kit", Basis("pollution degree 2; house policy", "S", "house"))
    if facts.job.place not in (None, "dry"):
        return [demand.not_met("place-dry.wet", remedy=Remedy.JOB, place=facts.job.place)]
    return [demand.met("place-dry.dry")]


RULE = KitRule("place-dry", Renewal.EACH_ISSUE, "pollution degree 2; house policy", check)
