"""One task per file: roles, scope, second person. Each module declares TASK; all of it is house policy."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from app.decision.domain.catalogue import declared
from app.decision.domain.declarations import Task


@cache
def tasks() -> Mapping[str, Task]:
    """Every task by key."""
    return declared("app.decision.tasks", "TASK", Task)
