"""Worked edge days of a set's retest clocks: every day but the test and the issue is the clock's own answer."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from string import ascii_uppercase

from msgspec import Struct
from msgspec.structs import replace

from app.decision.domain.calendar import Day, last_good_day
from app.decision.domain.clock import asked_of, due, weighed
from app.decision.domain.limits import RuleSet, SiteRules, TestInterval
from app.decision.domain.piece import FirstIssue, Piece
from app.outputs.documents.figure_words import only_for
from app.outputs.pictures.due_sheet import DueSheet, due_sheet
from app.outputs.pictures.due_value import DueRibbon
from app.outputs.pictures.scene import Scene
from app.words.catalogue import CATALOGUE
from app.words.saying import say, sentences

# Test and first issue that reach a month end, 29 February or the longest a stored piece may wait.
_NEVER: tuple[date, FirstIssue] = (date(2024, 2, 29), "never")
_SOON = (date(2024, 3, 31), Day.of(date(2024, 8, 31)))
_LATE = (date(2024, 3, 31), Day.of(date(2025, 1, 15)))
_AGAIN = (date(2024, 8, 31), Day.of(date(2024, 2, 1)))
_UNKNOWN: tuple[date, FirstIssue] = (date(2023, 10, 31), "unknown")
# The pictures' axis is laid around this day.
_MIDDLE = date(2024, 10, 31)


class Clock(Struct, frozen=True):
    """A retest clock with the kinds it is the same for; `letter` names it on the page, `only` says when it holds."""

    letter: str
    interval: TestInterval
    kinds: tuple[str, ...]
    only: str


class Edge(Struct, frozen=True):
    """One worked example. `due_on` is the first day the test no longer counts; `decides` is ready words."""

    number: str
    situation: str
    tested: date
    first_issue: FirstIssue
    last_good: date
    due_on: date
    decides: str
    limits: tuple[tuple[str, date], ...]


def clocks(rule_set: RuleSet) -> tuple[Clock, ...]:
    """The clocks of a set, each once, with a letter of its own; what waits for a confirmation stands both ways."""
    kinds: dict[tuple[TestInterval, str], list[str]] = {}
    for kind, intervals in rule_set.intervals.items():
        for one in intervals:
            for interval, only in _both_ways(rule_set, kind, one):
                kinds.setdefault((replace(interval, key="", shelf=""), only), []).append(kind)
    return tuple(
        Clock(ascii_uppercase[place], interval, tuple(of), only)
        for place, ((interval, only), of) in enumerate(kinds.items())
    )


def _both_ways(rule_set: RuleSet, kind: str, interval: TestInterval) -> Iterator[tuple[TestInterval, str]]:
    """The clock as declared, or where its longer months wait for a confirmation, as shipped and once confirmed."""
    piece = Piece(code="", kind=kind, insulation_class=next(iter(interval.classes), None), material=interval.material)
    shipped = asked_of(rule_set, piece, SiteRules())
    if shipped.interval is None or shipped.longer is None or interval.never <= interval.reused:
        yield interval, only_for(interval)
        return
    waits = rule_set.limits[interval.shelf]
    values = {"clause": waits.clause, "letter": waits.confidence}
    for one, only in (
        (shipped.interval, say("pages.clock.until", values)),
        (shipped.longer, say("pages.clock.once", values)),
    ):
        yield one, only if not (interval.classes or interval.material) else f"{only_for(interval)}; {only}"


def edges(clock: Clock) -> tuple[Edge, ...]:
    """The worked examples of one clock; issued late and in time differ only where the wait is capped."""
    situations = _situations(clock.interval)
    return tuple(
        _edge(f"{clock.letter}{place}", situation, tested, issue, clock.interval)
        for place, (situation, tested, issue) in enumerate(situations, start=1)
    )


def _situations(interval: TestInterval) -> Iterator[tuple[str, date, FirstIssue]]:
    yield say("pages.edge.never", {}), *_NEVER
    yield say("pages.edge.soon", {}), *_SOON
    if interval.between == "capped" and interval.reused < interval.never:
        yield say("pages.edge.late", {}), *_LATE
    yield say("pages.edge.again", {}), *_AGAIN
    yield say("pages.edge.unknown", {}), *_UNKNOWN


def _edge(number: str, situation: str, tested: date, issue: FirstIssue, interval: TestInterval) -> Edge:
    due_on, key = due(tested, issue, interval)
    limits = tuple((_decides(one), day) for day, one in weighed(tested, issue, interval))
    return Edge(number, situation, tested, issue, last_good_day(due_on), due_on, _decides(key), limits)


# Shorter than a finding's words: they stand in a picture beside the days.
_WORDS = {
    "from-test": "pages.decides.from-test", "from-first-issue": "pages.decides.from-first-issue",
    "from-test-issued-later": "pages.decides.cap", "first-issue-unknown": "pages.decides.unknown",
    "never-issued": "pages.decides.never", "new-from-test": "pages.decides.new",
}  # fmt: skip


def _decides(decides: str) -> str:
    key, _, months = decides.partition("/")
    return say(_WORDS[key], {"months": months})


def issue_words(issue: FirstIssue) -> str:
    """The first issue as a day, or that there was none, or that nobody knows."""
    if isinstance(issue, Day):
        return str(issue)
    return say("pages.edge.first-never", {}) if issue == "never" else say("pages.edge.first-unknown", {})


def drawn(rule_set: RuleSet) -> Scene | None:
    """Every edge day of a set on one sheet; None where the set has no clock."""
    rows = tuple(_ribbon(edge) for clock in clocks(rule_set) for edge in edges(clock))
    if not rows:
        return None
    said = sentences()
    of_pages = {
        "due-sheet.key": said["pages.strip.key"],
        "due-sheet.stretches": said["pages.strip.stretches"],
        "ribbon.use-until": said["pages.strip.until"],
        "ribbon.today": said["pages.strip.today"],
    }
    with CATALOGUE.spoken(of_pages):
        return due_sheet(DueSheet(say("pages.edge.title", {"set": rule_set.title}), _MIDDLE, rows))


def _ribbon(edge: Edge) -> DueRibbon:
    """One example as a row: told for its last good day, on which it still counts."""
    issued = edge.first_issue.first if isinstance(edge.first_issue, Day) else None
    values = {"tested": edge.tested, "issued": issued}
    return DueRibbon(
        code=say("pages.strip.code", {"number": edge.number, "situation": edge.situation}),
        label=say("pages.strip.label", values) if issued is None else say("pages.strip.label-issued", values),
        test_on=edge.tested,
        first_issue_on=edge.first_issue.first if isinstance(edge.first_issue, Day) else edge.first_issue,
        today=edge.last_good,
        due_on=edge.due_on,
        warning_from=None,
        limits=edge.limits,
        deciding=edge.decides,
        status=edge.decides,
        sentence="",
    )
