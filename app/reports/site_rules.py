"""The site's rules with who approved what."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from app.domain.document import Document, Section, Table
from app.judging.catalogues import catalogues
from app.store.reads.site_rules import SiteRuleKept
from app.words.saying import listed, say

COLUMNS = ("key", "value", "approved", "reason", "entry")


def build(kept: Iterable[SiteRuleKept], rule_sets: Iterable[str]) -> Document:
    """The rules as people read them; the shipped margin stands below, because it moves every decision."""
    rules = [one for one in kept if one.value is not None]
    rows = tuple(
        (one.key, _said(one.value), one.approved_by or "", one.reason or "", f"site:{one.entry}") for one in rules
    )
    heads = tuple(say(f"rules.column.{key}", {}) for key in COLUMNS)
    margin = catalogues().house.margin_bp
    lines = [] if rules else [say("rules.none", {})]
    lines.append(say("rules.margin-shipped", {"cells": margin["cells"] / 100, "maker": margin["maker"] / 100}))
    sections = (Section("", (), Table(heads, rows)) if rows else Section(""), Section("", tuple(lines)))
    return Document(say("rules.title", {}), say("rules.subtitle", {"sets": listed(rule_sets)}), sections)


def _said(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return listed(map(str, value)) if isinstance(value, list) else str(value)


def as_values(kept: Iterable[SiteRuleKept]) -> list[dict[str, Any]]:
    """The rules as plain values."""
    return [
        {
            "key": one.key, "value": one.value, "approved_by": one.approved_by, "reason": one.reason,
            "entry": f"site:{one.entry}",
        }
        for one in kept
        if one.value is not None
    ]  # fmt: skip
