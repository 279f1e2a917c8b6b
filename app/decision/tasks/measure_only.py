"""Measure on a circuit that has not been proved dead."""

from __future__ import annotations

from app.decision.domain.declarations import Task

TASK = Task(
    key="measure-only",
    roles=("gloves", "protectors", "chain", "proving-unit"),
    scope="live",
    second_person="second_person_measure",
)
