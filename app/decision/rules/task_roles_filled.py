"""Every role the task asks is filled, one each.

Protectors are asked only where a pair in the kit has to be worn under them. Source: house policy; IEC 60903 for
composite gloves.

>>> asked(RULE, job={"task": "isolate-and-prove-dead"})
met filled
>>> asked(RULE, gloves(), protectors(), job={"task": "isolate-and-prove-dead"})
not-met missing
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Cause, Finding, Remedy, Renewal
from app.decision.domain.rule import KitRule


def check(facts: Facts) -> Iterable[Finding]:
    """One finding for the kit; missing roles are named together."""
    demand = RULE.demand("kit")
    task = facts.job.task
    if task is None:
        return [demand.cannot_tell("task-roles-filled.no-task", remedy=Remedy.JOB)]
    asked = [role for role in task.roles if role != "protectors" or facts.asks_protectors()]
    missing = [role for role in asked if not facts.of_role(role)]
    if missing:
        return [
            demand.not_met(
                "task-roles-filled.missing",
                cause=Cause.MISSING,
                remedy=Remedy.ADD_PIECE,
                roles=tuple(missing),
                task=task.key,
            )
        ]
    return [demand.met("task-roles-filled.filled", task=task.key)]


RULE = KitRule("task-roles-filled", Renewal.EACH_ISSUE, "house policy", check)
