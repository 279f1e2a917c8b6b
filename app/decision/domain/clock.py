"""The retest clock: from the last passing test and the first issue to the day it no longer counts.

Source: Table I-5 with its footnote and two letters of 2019-01-25 and 2020-08-19.

>>> osha = TestInterval(12, 6, "capped", "Table I-5", "S")
>>> due(date(2016, 1, 1), Day.of(date(2016, 10, 1)), osha)
(datetime.date(2017, 1, 1), 'from-test-issued-later/12')
"""

from __future__ import annotations

from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from app.decision.domain.calendar import Day, add_months
from app.decision.domain.limits import RuleSet, SiteRules, TestInterval
from app.decision.domain.piece import FirstIssue, Piece


class Asked(Struct, frozen=True):
    """The clock a set holds a piece to; None: no test on a schedule. `lacks_material`: it hangs on the material.

    `longer`: the clock that would hold if the figure `unseen` were confirmed in print.
    """

    interval: TestInterval | None
    lacks_material: bool = False
    longer: TestInterval | None = None
    unseen: str = ""


def asked_of(rule_set: RuleSet, piece: Piece, site: SiteRules | None = None) -> Asked:
    """Which clock of the set is this piece's; without `site` every figure counts as confirmed.

    A class nobody knows is taken as one that is asked: what is asked of none of its kind is asked of no class.
    """
    intervals = [
        interval for interval in rule_set.intervals.get(piece.kind, ())
        if not interval.classes or piece.insulation_class is None or piece.insulation_class in interval.classes
    ]  # fmt: skip
    fitting = [interval for interval in intervals if interval.material in (None, piece.material)]
    if intervals and not fitting:
        return Asked(None, lacks_material=True)
    if not fitting:
        return Asked(None)
    interval = fitting[0]
    if site is None or not interval.shelf or site.counts_as_seen(rule_set.limits[interval.shelf]):
        return Asked(interval)
    shorter = replace(interval, never=interval.reused, between=interval.reused)
    return Asked(shorter, longer=interval, unseen=rule_set.limits[interval.shelf].key)


def due(
    tested: date, first_issue: FirstIssue, interval: TestInterval, maker_months: int | None = None
) -> tuple[date, str]:
    """First day the test no longer counts, and the limit that decides, as key/months.

    `tested`: T, the earliest day it can have been. `first_issue`: F; unknown is the least over every F, which is the
    reused interval. The maker's interval decides where it is shorter.
    """
    return min(weighed(tested, first_issue, interval, maker_months), key=lambda limit: limit[0])


def weighed(
    tested: date, first_issue: FirstIssue, interval: TestInterval, maker_months: int | None = None
) -> tuple[tuple[date, str], ...]:
    """Every limit that bears on the due day, as (day, key/months); of equal days the first one decides."""
    limits = _by_set(tested, first_issue, interval)
    if maker_months is not None:
        limits = (*limits, _after(tested, maker_months, "maker-interval"))
    return limits


def shorter_months(months: int, maker_months: int | None) -> int:
    """The house interval in months, or the maker's where it is shorter; a stated 0 is an interval, not a silence."""
    return months if maker_months is None else min(months, maker_months)


def _by_set(tested: date, first_issue: FirstIssue, interval: TestInterval) -> tuple[tuple[date, str], ...]:
    if first_issue == "unknown":
        return (_after(tested, interval.reused, "first-issue-unknown"),)
    if first_issue == "never":
        return (_after(tested, interval.never, "never-issued"),)
    assert isinstance(first_issue, Day)
    if tested >= first_issue.first:
        return (_after(tested, interval.reused, "from-test"),)
    if interval.between != "capped":
        return (_after(tested, interval.between, "new-from-test"),)
    cap = _after(tested, interval.never, "from-test-issued-later")
    return (cap, _after(first_issue.first, interval.reused, "from-first-issue"))


def _after(day: date, months: int, key: str) -> tuple[date, str]:
    return add_months(day, months), f"{key}/{months}"


def due_by_issue_only(tested: date, first_issue: FirstIssue, interval: TestInterval) -> date:
    """The legacy reading up to 2020: the issue date alone, no cap (off by default)."""
    if isinstance(first_issue, Day) and tested < first_issue.first:
        return add_months(first_issue.first, interval.reused)
    return due(tested, first_issue, interval)[0]
