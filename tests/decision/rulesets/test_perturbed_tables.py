"""Clocks, class tables, repairs and demands of every rule set, each taken apart: some worked case must fail."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest
from msgspec.structs import replace

from app.decision.domain.limits import ClassTable, Limit, Repairs, RuleSet, TestInterval
from app.decision.judging.catalogues import catalogues
from tests.decision.rulesets.noticed import about, notice

SETS = catalogues().rule_sets
# What no outcome can show, each with the reason.
NOT_SHOWN = {"jp-351/class-system": "the set has no table by class, so nobody can tell of any system's"}


@dataclass(frozen=True)
class Change:
    """A set with one thing wrong; `words`: where it is likeliest to show."""

    name: str
    changed: RuleSet
    words: frozenset[str]


def clocks(rule_set: RuleSet) -> Iterator[Change]:
    for kind, intervals in rule_set.intervals.items():
        for row, interval in enumerate(intervals):
            for field, step in ((field, step) for field in ("never", "reused", "between") for step in (-1, 1)):
                months = getattr(interval, field)
                if months != "capped":
                    moved: dict[str, Any] = {field: months + step}
                    wrong = replace(interval, **moved)
                    yield _clock(rule_set, kind, row, wrong, f"{interval.key}/{field}{step:+d}")
            if interval.between == "capped":
                wrong = replace(interval, between=interval.never)
                if interval.never != interval.reused:
                    yield _clock(rule_set, kind, row, wrong, f"{interval.key}/uncapped")
            if interval.shelf and interval.never != interval.reused:
                yield _clock(rule_set, kind, row, replace(interval, shelf=""), f"{interval.key}/no-shelf")
            for one in interval.classes:
                wrong = replace(interval, classes=tuple(other for other in interval.classes if other != one))
                yield _clock(rule_set, kind, row, wrong, f"{interval.key}/without-class-{one}")
            if interval.classes:
                yield _clock(rule_set, kind, row, replace(interval, classes=()), f"{interval.key}/every-class")


def _clock(rule_set: RuleSet, kind: str, row: int, wrong: TestInterval, name: str) -> Change:
    rows = rule_set.intervals[kind]
    moved = (*rows[:row], wrong, *rows[row + 1 :])
    changed = replace(rule_set, intervals={**rule_set.intervals, kind: moved})
    return Change(name, changed, about(kind, "interval"))


def no_clock(rule_set: RuleSet) -> Iterator[Change]:
    for kind in rule_set.intervals:
        fewer = {other: rows for other, rows in rule_set.intervals.items() if other != kind}
        yield Change(f"{rule_set.key}/{kind}/no-clock", replace(rule_set, intervals=fewer), about(kind, "interval"))


def _tabled(rule_set: RuleSet, kind: str, name: str, wrong: ClassTable, *words: str) -> Change:
    changed = replace(rule_set, tables={**rule_set.tables, kind: wrong})
    return Change(f"{rule_set.key}/{kind}/{name}", changed, about(kind, *words))


def tables(rule_set: RuleSet) -> Iterator[Change]:
    for kind, table in rule_set.tables.items():
        for one in table.classes:
            fewer = tuple(other for other in table.classes if other != one)
            yield _tabled(rule_set, kind, f"without-class-{one}", replace(table, classes=fewer), one, "use")
        if table.current is not None:
            yield _tabled(rule_set, kind, "current-not-held", replace(table, current=None), "current")
        if table.leans_on:
            wrong = replace(table, leans_on="")
            yield _tabled(rule_set, kind, "leans-on-nothing", wrong, "use", "level:decision")
        dwell = "matting" if table.acceptance_dwell == "acceptance" else "acceptance"
        if rule_set.limits and table.classes and rule_set.class_limit(kind, table.classes[0], "retest", "ac"):
            yield _tabled(rule_set, kind, "other-dwell", replace(table, acceptance_dwell=dwell), "retest")


def not_printed(rule_set: RuleSet) -> Iterator[Change]:
    """What a set does not print, printed: where it has no figure either, a low test and a high use voltage."""
    for kind, table in rule_set.tables.items():
        for entry in sorted(table.not_printed):
            names = [entry] if entry.startswith("use/") else [f"{entry}/{one}" for one in table.classes]
            value = 100_000 if entry.startswith("retest/") else 60_000_000
            printed = {
                table.prefix + name: Limit(f"{rule_set.key}/{table.prefix}{name}", value, "mV", "none", "P")
                for name in names
            }
            opened = replace(table, not_printed=table.not_printed - {entry})
            changed = replace(rule_set, tables={**rule_set.tables, kind: opened}, limits={**printed, **rule_set.limits})
            yield Change(f"{rule_set.key}/{kind}/{entry}-printed", changed, about(kind, *entry.split("/")))


def repairs(rule_set: RuleSet) -> Iterator[Change]:
    for kind, text in rule_set.repairs.items():
        without: dict[str, Repairs] = {
            f"without-{way}": Repairs(
                tuple(one for one in text.allowed if one != way),
                tuple(one for one in text.refused if one != way),
                text.place,
                text.least,
            )
            for way in (*text.allowed, *text.refused)
        }
        if text.place:
            without["anywhere"] = replace(text, place="")
        for name, wrong in without.items():
            changed = replace(rule_set, repairs={**rule_set.repairs, kind: wrong})
            yield Change(f"{rule_set.key}/{kind}/{name}", changed, about(kind, "repair-place"))


def demands(rule_set: RuleSet) -> Iterator[Change]:
    for kind, rules in rule_set.covers.items():
        for rule in rules:
            # Where the set asks no test of a kind, this rule says so and nothing else.
            if rule != "electrical-test-counts" or kind in rule_set.intervals:
                covers = {**rule_set.covers, kind: tuple(one for one in rules if one != rule)}
                changed = replace(rule_set, covers=covers)
                yield Change(f"{rule_set.key}/{kind}/not-{rule}", changed, about(kind, f"rule:{rule}"))


def switches(rule_set: RuleSet) -> Iterator[Change]:
    tells_length = any(table.current == "length" for table in rule_set.tables.values())
    turned: dict[str, RuleSet] = {"no-offers": replace(rule_set, offers={})} if rule_set.offers else {}
    turned["class-system"] = replace(rule_set, class_system="gb" if rule_set.class_system != "gb" else "iec")
    if tells_length:
        turned["scaled"] = replace(rule_set, scales_with_frequency=not rule_set.scales_with_frequency)
        turned["longest"] = replace(rule_set, longest_is_open=not rule_set.longest_is_open)
        turned["bare"] = replace(rule_set, bare_only=() if rule_set.bare_only else ("00",))
    words = {"scaled": about("current", "60"), "longest": about("composite-gloves", "800"), "bare": about("bare")}
    for name, changed in turned.items():
        yield Change(f"{rule_set.key}/{name}", changed, words.get(name, frozenset()))


CHANGES = [
    change
    for rule_set in SETS.values()
    for part in (clocks, no_clock, tables, not_printed, repairs, demands, switches)
    for change in part(rule_set)
    if change.name not in NOT_SHOWN
]


@pytest.mark.parametrize("change", CHANGES, ids=[change.name for change in CHANGES])
def test_a_rule_set_with_one_thing_wrong_is_noticed(change: Change, monkeypatch: pytest.MonkeyPatch) -> None:
    assert notice(change.changed, change.words, monkeypatch)
