"""Isolate a circuit and prove it dead: the task that every other work on it begins with."""

from __future__ import annotations

from app.decision.domain.declarations import Task

TASK = Task(
    key="isolate-and-prove-dead",
    roles=("gloves", "protectors", "chain", "proving-unit", "barrier-set", "lock-off"),
    scope="isolate",
    second_person="second_person_isolate",
    proves_dead=True,
)
