"""Work inside an opened pack whose cells cannot be switched off."""

from __future__ import annotations

from app.decision.domain.declarations import Task

TASK = Task(
    key="work-in-open-live-pack",
    roles=(
        "gloves",
        "protectors",
        "chain",
        "proving-unit",
        "barrier-set",
        "lock-off",
        "insulated-tools",
        "face-shield",
        "rescue-hook",
    ),
    scope="live",
    second_person="required",
    second_has_own_gloves=True,
)
