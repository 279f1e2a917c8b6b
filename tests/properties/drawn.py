"""What the properties draw from and compare by: generated kits with further records, and what a verdict says."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping
from copy import deepcopy
from datetime import date, timedelta
from typing import Any, Literal, NamedTuple

from hypothesis import settings
from hypothesis import strategies as st

from app.decision.case.case import read_case
from app.decision.domain.facts import Facts
from app.decision.domain.finding import Finding, Outcome
from app.decision.domain.verdict import Verdict
from app.decision.judging.judge import judge
from app.decision.judging.worked_cases import facts_of
from tests.oracle.kits import kit

Table = dict[str, Any]

#: The same examples in every run; the environment variable asks for a longer search with other examples.
MANY = os.environ.get("CUFFDATE_EXAMPLES")
proven = settings(max_examples=int(MANY or 100), deadline=None, derandomize=MANY is None, database=None)

#: Somebody who is not on this job.
OUTSIDER = "V9"
EVENTS = ("suspect", "dropped", "wet", "used-without-protectors")
REPAIRS = ("repaired", "patched")
CLOCK = st.none() | st.sampled_from(("00:10", "07:30", "09:00", "12:00", "23:50"))


def drawn_kits() -> st.SearchStrategy[Table]:
    """Kits as the generator makes them: nearly half of them issuable."""
    return st.builds(lambda seed, number: deepcopy(kit(seed, number)), st.integers(0, 2**32), st.integers(0, 1_000_000))


@st.composite
def kits(draw: st.DrawFn, *, most: int = 3) -> Table:
    """A generated kit with up to `most` further records of any sort on its pieces."""
    case = draw(drawn_kits())
    for _ in range(draw(st.integers(0, most))):
        piece = draw(st.sampled_from(case["pieces"]))
        piece["records"].append(_dated(draw(_ANY), case["on"]))
    return case


# What is drawn knows a day as a form and its distance from the job's first day, which is put in afterwards: the
# strategies are then the same for every case and are built once. Building them anew took longer than judging.
_Away = tuple[Literal["day", "month", "week"], int]


_DAYS = st.tuples(st.just("day"), st.one_of(st.just(0), st.just(0), st.integers(-12, 20), st.integers(-400, -13)))
#: The first day often, some later than it, some known as a month or a week alone.
_AWAY: st.SearchStrategy[_Away] = st.one_of(
    _DAYS,
    _DAYS,
    _DAYS,
    st.tuples(st.just("month"), st.integers(-200, 0)),
    st.tuples(st.just("week"), st.integers(-60, 0)),
)


def _on(away: _Away, first: date) -> date | str:
    form, offset = away
    day = first + timedelta(days=offset)
    if form == "day":
        return day
    year, week, _ = day.isocalendar()
    return f"{day:%Y-%m}" if form == "month" else f"{year}-W{week:02d}"


def _dated(record: Table, first: date) -> Table:
    """The drawn record with its day, and with lists of its own."""
    return deepcopy(record) | {"on": _on(record["on"], first)}


@st.composite
def _record(draw: st.DrawFn, /, what: str, **more: Any) -> Table:
    record: Table = {"what": what, "on": draw(_AWAY), **more}
    at = draw(CLOCK)
    return record if at is None else record | {"at": at}


_TESTS = st.builds(
    lambda record, named: record if named is None else record | {"after": named},
    _record("electrical-test", result="passed"),
    st.sampled_from((None, *EVENTS, *REPAIRS, "failed")),
)
_FOR = st.one_of(
    _TESTS,
    _TESTS,
    _record("air-test", left="passed", right="passed", inflation=1),
    _record("inspection", defects=[]),
    _record("inspection", defects=[], jack="voltage"),
    _record("calibration", result="passed"),
    _record("self-test", result="passed"),
    _record("release", by="P8"),
)
_AGAINST = st.one_of(
    _record("electrical-test", result="failed"),
    _record("electrical-test", result="failed", breakdown=True),
    _record("event", kind="suspect"),
    _record("event", kind="dropped"),
    _record("event", kind="used-without-protectors"),
    _record("air-test", left="failed", right="passed", inflation=1),
    _record("air-test", left="passed", right="passed", inflation=1, defects=["cut"]),
    _record("inspection", defects=["hole"]),
    _record("calibration", result="failed"),
    _record("self-test", result="failed"),
    _record("issue"),
    _record("hand-over", to=OUTSIDER),
    _record("hold", why="suspect"),
    _record("withdrawal"),
)
_REPAIRS = st.one_of(
    _record("event", kind="patched", place="cuff"),
    _record("event", kind="repaired", repair="patched", place="cuff"),
    _record("event", kind="repaired", repair="trimmed"),
    _record("event", kind="repaired"),
)
# Records that are neither: what they say depends on what stands around them.
_MOVES = st.one_of(
    _record("return"),
    _record("hand-over", to="P1"),
    _record("hand-over", to="crib"),
    _record("event", kind="repaired", repair="patched", place="cuff"),
    _record("air-test", left="passed", inflation=1),
    _record("air-test", left="passed", right="passed", inflation=1.4),
    _record("air-test", left="passed", right="passed"),
    _record("inspection", defects=[], clearance_mm=10),
    _record("inspection", defects=[], clearance_mm=120),
    _record("inspection", defects=[], jack="current"),
    _record("inspection", defects=[], caps="missing"),
    _record("inspection", defects=[], caps="present"),
)
_ANY = st.one_of(_FOR, _AGAINST, _MOVES)


def speaking_for(case: Table) -> st.SearchStrategy[Table]:
    """Records that speak for a piece, whichever sort of piece they are given to."""
    return _FOR.map(lambda record: _dated(record, case["on"]))


def speaking_against(case: Table) -> st.SearchStrategy[Table]:
    """Records that speak against a piece, whichever sort of piece they are given to.

    Repairs stand apart: with the test that names it a repair also clears a defect.
    """
    return _AGAINST.map(lambda record: _dated(record, case["on"]))


def repairs(case: Table) -> st.SearchStrategy[Table]:
    """Repairs, of which some are allowed and some are not; they speak against a piece that has no defect."""
    return _REPAIRS.map(lambda record: _dated(record, case["on"]))


class Held(NamedTuple):
    """What one demand comes to: `is_good` where everything said about it is met and lasts as long as the job."""

    is_good: bool
    good_until: date | None


Key = tuple[str, ...]


def facts(case: Table) -> Facts:
    """The question the case puts."""
    return facts_of(read_case({**case, "expect": {}}))


def decide(case: Table) -> Verdict:
    """What the program says of a case."""
    return judge(facts(case))


def by_rule(one: Finding) -> Key | None:
    """Compare findings rule by rule."""
    return (one.rule,)


def by_subject(one: Finding) -> Key | None:
    """Compare findings by rule and subject; a chain is the same chain in whatever order its members are named."""
    return (one.rule, "+".join(sorted(one.subject.split("+"))))


def said(verdict: Verdict, key: Callable[[Finding], Key | None] = by_rule) -> Mapping[Key, Held]:
    """What the verdict holds, by `key`; a key of None leaves a finding out."""
    groups: dict[Key, list[Finding]] = {}
    for one in verdict.findings:
        name = key(one)
        if name is not None:
            groups.setdefault(name, []).append(one)
    return {name: _held(group, verdict.until) for name, group in groups.items()}


def _held(group: Iterable[Finding], until: date) -> Held:
    found = list(group)
    dates = [one.good_until for one in found if one.good_until is not None]
    good = all(one.outcome is Outcome.MET for one in found) and min(dates, default=until) >= until
    return Held(good, min(dates, default=None) if good else None)


def improved(
    before: Verdict,
    after: Verdict,
    key: Callable[[Finding], Key | None] = by_rule,
    *,
    with_days: bool = True,
) -> list[str]:
    """What is better in `after`: the decision, a demand that was not good and is, or a last good day that is later.

    Only demands that stand in both are compared.
    """
    found = ["decision"] if after.may_be_issued and not before.may_be_issued else []
    old, new = said(before, key), said(after, key)
    for name in old.keys() & new.keys():
        was, now = old[name], new[name]
        if now.is_good and not was.is_good:
            found.append(f"{'/'.join(name)} is met")
        elif with_days and now.is_good and was.good_until and (now.good_until or date.max) > was.good_until:
            found.append(f"{'/'.join(name)} lasts until {now.good_until} instead of {was.good_until}")
    return found


def without(case: Table, piece: int, record: int) -> Table:
    """The case without one record."""
    less = deepcopy(case)
    del less["pieces"][piece]["records"][record]
    return less
