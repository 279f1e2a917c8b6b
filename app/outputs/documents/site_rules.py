"""The site's rules with who approved what, and the looser readings that house policy and the chosen sets offer."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from app.decision.domain.limits import RuleSet
from app.decision.judging.catalogues import catalogues
from app.outputs.document import Document, Section, Table, row
from app.register.reads.site_rules import SiteRuleKept
from app.words.saying import listed, say
from app.words.vocabulary import EVERYTHING

COLUMNS = ("key", "value", "approved", "reason", "entry")


def build(kept: Iterable[SiteRuleKept], rule_sets: Sequence[RuleSet], confirmed: int, waiting: int) -> Document:
    """The rules as people read them; the shipped margin stands below, because it moves every decision.

    `confirmed`, `waiting`: how many figures of these sets from memory were seen in print, and how many were not.
    """
    rules = [rule for rule in kept if rule.value is not None]
    rows = tuple(row(rule.key, _said(rule.value), *_approval(rule), f"site:{rule.entry}") for rule in rules)
    heads = tuple(say(f"rules.column.{key}", {}) for key in COLUMNS)
    margin = catalogues().house.margin_bp
    lines = [] if rules else [say("rules.none", {})]
    lines.append(say("rules.margin-shipped", {"cells": margin["cells"] / 100, "maker": margin["maker"] / 100}))
    lines.append(say("rules.in-print", {"count": waiting, "confirmed": confirmed}))
    sections = [Section("", (), Table(heads, rows))] if rows else []
    sections += [Section("", tuple(lines)), Section(say("rules.offers", {}), offers(rule_sets))]
    notices = tuple(say(notice, {"set": rule_set.title}) for rule_set in rule_sets for notice in rule_set.notices)
    if notices:
        sections.append(Section(say("rules.notices", {}), notices))
    titles = listed(rule_set.title for rule_set in rule_sets)
    return Document(say("rules.title", {}), say("rules.subtitle", {"sets": titles}), tuple(sections))


def offers(rule_sets: Iterable[RuleSet]) -> tuple[str, ...]:
    """The looser values offered, by whom, and that no other is taken."""
    by: dict[tuple[str, str], list[str]] = {}
    house = catalogues().house
    named = [
        (say("rules.offer-house", {}), house.offers),
        *((rule_set.title, rule_set.offers) for rule_set in rule_sets),
    ]
    for who, offered in named:
        for rule, values in offered.items():
            for value in values:
                by.setdefault((rule, _typed(value)), []).append(who)
    sentences = [
        say("rules.offer", {"rule": rule, "value": value, "who": listed(who)}) for (rule, value), who in by.items()
    ]  # fmt: skip
    return (*sentences, say("rules.offer-margin", {}), say("rules.offers-need", {}))


def _typed(value: object) -> str:
    """A value as it is typed after KEY=."""
    return str(value).lower() if isinstance(value, bool) else str(value)


def _approval(rule: SiteRuleKept) -> tuple[str, str]:
    if isinstance(rule.value, Mapping):
        return str(rule.value.get("approved_by", "")), str(rule.value.get("reason", ""))
    return rule.approved_by or "", rule.reason or ""


def _said(value: object) -> str:
    if isinstance(value, bool):
        return EVERYTHING["answer"]["yes" if value else "no"]
    if isinstance(value, Mapping):
        return say("rules.offer-value.approved", {})
    return listed(map(str, value)) if isinstance(value, list) else str(value)


def as_values(kept: Iterable[SiteRuleKept]) -> list[dict[str, Any]]:
    """The rules as plain values."""
    return [
        {
            "key": rule.key, "value": rule.value, "approved_by": rule.approved_by, "reason": rule.reason,
            "entry": f"site:{rule.entry}",
        }
        for rule in kept
        if rule.value is not None
    ]  # fmt: skip
