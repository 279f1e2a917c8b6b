"""Locks, tags and the box for keys and the service disconnect."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="lock-off-set",
    role="lock-off",
    fields=frozenset(),
)
