"""One kind of kit per file: its fields, role and checks, what sheets call it. Each module declares KIND."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from app.decision.domain.catalogue import declared
from app.decision.domain.declarations import Kind


@cache
def kinds() -> Mapping[str, Kind]:
    """Every kind by key."""
    return declared("app.decision.kinds", "KIND", Kind)
