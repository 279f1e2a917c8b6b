"""What a rule set cannot serve, found in its own declarations: kinds, volts, tests and repairs it is silent about."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from app.decision.domain.declarations import Kind
from app.decision.domain.limits import RuleSet
from app.outputs.documents.figure_words import class_words, kind_words
from app.words.saying import say
from docs.generator.figure_rows import some_kinds

_BY_CLASS = "insulation-class-stands-voltage"
_DC_IS_NONE = "set.no-dc-limits"


def cannot_serve(rule_set: RuleSet, kinds: Mapping[str, Kind]) -> tuple[str, ...]:
    """The gaps as sentences, or one that says none was found."""
    found = (*_notices(rule_set), *_volts(rule_set), *_tests(rule_set), *_repairs(rule_set), *_kinds(rule_set, kinds))
    return found or (say("pages.set.cannot-nothing", {}),)


def has_dc(rule_set: RuleSet) -> bool:
    """Whether it prints any use voltage for DC."""
    return _DC_IS_NONE not in rule_set.notices


def _notices(rule_set: RuleSet) -> Iterator[str]:
    for key in rule_set.notices:
        yield say(key, {"set": rule_set.title})


def _kinds(rule_set: RuleSet, kinds: Mapping[str, Kind]) -> Iterator[str]:
    silent = [key for key, kind in kinds.items() if kind.is_classed and key not in rule_set.covers]
    if silent:
        yield say("pages.set.cannot-kinds", {"kinds": kind_words(silent)})


def _volts(rule_set: RuleSet) -> Iterator[str]:
    asked = [kind for kind, rules in rule_set.covers.items() if _BY_CLASS in rules]
    without = [kind for kind in asked if not rule_set.tables[kind].classes]
    if without:
        yield say("pages.set.cannot-volts", {"kinds": some_kinds(without, rule_set.covers)})
    for kind in asked if has_dc(rule_set) else ():
        classes = rule_set.tables[kind].classes
        missing = [one for one in classes if rule_set.class_limit(kind, one, "use", "dc") is None]
        if missing:
            yield say("pages.set.cannot-dc-use", {"kinds": kind_words([kind]), "classes": class_words(missing)})


def _tests(rule_set: RuleSet) -> Iterator[str]:
    def silent(current: str) -> list[str]:
        return [
            kind for kind, table in rule_set.tables.items()
            if table.classes and not any(rule_set.class_limit(kind, one, "retest", current) for one in table.classes)
        ]  # fmt: skip

    without_ac = silent("ac")
    without_dc = [kind for kind in silent("dc") if kind not in without_ac]
    if without_ac:
        yield say("pages.set.cannot-retest", {"kinds": some_kinds(without_ac, rule_set.covers)})
    if without_dc:
        yield say("pages.set.cannot-retest-dc", {"kinds": some_kinds(without_dc, rule_set.covers)})


def _repairs(rule_set: RuleSet) -> Iterator[str]:
    silent = [
        kind for kind, rules in rule_set.covers.items()
        if "repair-allowed" in rules and kind not in rule_set.repairs
    ]  # fmt: skip
    if silent:
        yield say("pages.set.cannot-repairs", {"kinds": some_kinds(silent, rule_set.covers)})
