"""Barriers and signs that close off the bay."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="barrier-set",
    role="barrier-set",
    fields=frozenset(),
    names="""
    barrier | barrier set | cone | barrier tape | chain and post | post and chain | bay barrier | barricade |
    barrier post""",
)
