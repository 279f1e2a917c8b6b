"""The person is authorised for this task on every day of the job, the end day included.

The scope is taken literally: each scope is listed for itself. Cannot tell when nobody is named or no end day is known.
Source: house policy; the ladder of DGUV 209-093 gives the scopes their meaning.

>>> asked(RULE, person={"scopes": ["isolate"], "valid_until": "2026-12-31"})
met until: required isolate, last good day 2026-12-31
>>> asked(RULE, person={"scopes": ["isolate"], "valid_until": "2026-03-01"}, on="2026-03-02")
not-met ended: 2026-03-02, required 2026-03-01
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Cause, Finding, Remedy, Renewal
from app.decision.domain.rule import KitRule


def check(facts: Facts) -> Iterable[Finding]:
    """One finding, about the person."""
    person, task = facts.person, facts.job.task
    demand = RULE.demand(person.code if person and person.code else "person")
    if person is None or task is None:
        return [demand.cannot_tell("person-authorised.nobody", remedy=Remedy.JOB)]
    if task.scope not in person.scopes:
        scopes = ", ".join(person.scopes)
        return [
            demand.not_met(
                "person-authorised.scope", remedy=Remedy.JOB, measured=scopes, required=task.scope, person=person.code
            )
        ]
    if person.valid_until is None:
        if facts.rest_in_order:
            return [demand.met("person-authorised.authorised", person=person.code, required=task.scope)]
        return [demand.cannot_tell("person-authorised.no-end", remedy=Remedy.JOB, person=person.code)]
    values: dict[str, object] = {"person": person.code, "use_until": person.valid_until}
    if facts.on > person.valid_until:
        return [
            demand.not_met(
                "person-authorised.ended",
                cause=Cause.RUN_OUT,
                remedy=Remedy.JOB,
                measured=facts.on,
                required=person.valid_until,
                **values,
            )
        ]
    return [demand.met_until("person-authorised.until", person.valid_until, required=task.scope, **values)]


RULE = KitRule("person-authorised", Renewal.BY_DATE, "house policy", check)
