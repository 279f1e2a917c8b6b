"""Locks, tags and the box for keys and the service disconnect."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="lock-off-set",
    role="lock-off",
    fields=frozenset({"secures"}),
    names="""
    lock off kit | lock off set | lock off | lockoff kit | lockout kit | lock out kit | loto kit | loto |
    lockout | lock out | lockout tagout kit | padlock set | lockout set | loto set | lock out tag out kit |
    isolation lock | lock off padlock | padlock kit""",
)
