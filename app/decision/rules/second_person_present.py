"""A second person is there where the task or the site asks one, and brings own gloves and protectors where it says so.

Nobody is their own second person, whether one is asked or not.

Source: house policy: required in an open live pack; measuring, site rule on; isolating, site rule off.

>>> asked(RULE, job={"task": "measure-only"}, second={"code": "P2"})
met present
>>> asked(RULE, job={"task": "measure-only"})
not-met missing
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.declarations import Task
from app.decision.domain.facts import Facts
from app.decision.domain.finding import Cause, Finding, Remedy, Renewal
from app.decision.domain.rule import KitRule


def check(facts: Facts) -> Iterable[Finding]:
    """One finding for the kit."""
    demand = RULE.demand("kit")
    task, second, person = facts.job.task, facts.second, facts.person
    if second is not None and person is not None and second.code == person.code:
        return [demand.not_met("second-person-present.same", remedy=Remedy.JOB, person=second.code)]
    if task is None or not _is_asked(facts, task):
        return [demand.met("second-person-present.not-asked")]
    if second is None:
        return [demand.not_met("second-person-present.missing", cause=Cause.MISSING, remedy=Remedy.JOB, task=task.key)]
    if not task.second_has_own_gloves:
        return [demand.met("second-person-present.present", person=second.code)]
    gloves = len(facts.of_role("gloves"))
    # The person's pair may be worn bare, or bring its own protection; the second one's is held to what it asks.
    under = 1 if facts.job.without_protectors else min(len(facts.pairs_under_protectors()), 2)
    if gloves < 2 or len(facts.of_role("protectors")) < under:
        return [
            demand.not_met(
                "second-person-present.no-own-gloves", cause=Cause.MISSING, remedy=Remedy.ADD_PIECE, person=second.code
            )
        ]
    return [demand.met("second-person-present.present", person=second.code)]


def _is_asked(facts: Facts, task: Task) -> bool:
    if task.second_person == "required":
        return True
    if task.second_person == "second_person_isolate":
        return facts.site.second_person_isolate
    return facts.site.second_person_measure or not facts.site.takes_looser("second_person_measure")


RULE = KitRule("second-person-present", Renewal.EACH_ISSUE, "house policy", check)
