"""Not held: no failed test stands; every hold and every defect is lifted by a release and the evidence it asks.

What clears a hold: suspect, dropped, wet, no protectors, repair - a passing test naming it (kit without a class, which
is not tested: a clean inspection); failed - a later pass; a defect of rubber goods - a repair and the test naming it; a
defect of the measuring chain, a lead, cap or mark - the part replaced and a clean inspection after that; a defect of
anything else - nothing, withdraw it; taken without issue, lost - a clean inspection (gloves: air test); recall and
other reasons: the release itself. The evidence stands between hold and release, and the release says by whom. That the
inspection was somebody else's than the replacement is asked where the register is told of them: a record here names
nobody. In a worked case that asks about findings alone, who released it need not be written; the evidence must be. A
defect found by a check counts there as released once it is repaired and tested, where no release is written at all.
Source: house policy; 1910.137(c)(2)(iii), (iv), (x).

>>> hold = {"what": "hold", "on": "2026-02-01", "why": "recall"}
>>> asked(RULE, detector(records=[hold, {"what": "release", "on": "2026-02-02", "by": "P9"}]))
met free
>>> asked(RULE, detector(records=[hold]))
not-met held
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Cause, Demand, Finding, Remedy, Renewal
from app.decision.domain.history import History, has_defect
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.record import AirTest, ElectricalTest, Event, Hold, Inspection, Record, Release
from app.decision.domain.rule import PieceRule
from app.decision.fields.words import EVENTS

_SAME = {"repair": "repaired", "no-protectors": "used-without-protectors"}
_PARTS = ("lead", "cap", "mark")
# Nobody saw what was done with it: somebody looks it over before it is issued again.
_LOOK = ("taken-without-issue", "lost", "look")


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece; the first open hold or defect is named, else an unanswered failure."""
    demand = RULE.demand(piece.code)
    tested = facts.tested(piece, rule_set)
    open_finding = _open_hold(facts, piece, tested.passing, demand) or _open_defect(
        facts, piece, tested.passing, demand
    )
    if open_finding is not None:
        return [open_finding]
    if tested.failed is None:
        return [demand.met("not-held.free")]
    since = str(tested.failed.on or "")
    return [demand.not_met("not-held.failed", cause=Cause.FAILED, remedy=Remedy.RETEST, why="failed", since=since)]


def _open_hold(facts: Facts, piece: Piece, passing: list[ElectricalTest], demand: Demand) -> Finding | None:
    history = facts.history(piece)
    for hold in history.all(Hold):
        releases = [release for release in history.all(Release) if history.is_after(release, hold)]
        if not any(_lifts(facts, piece, hold, hold.why, release, passing) for release in releases):
            key = "not-held.released-without-evidence" if releases else "not-held.held"
            return demand.not_met(key, cause=Cause.ON_HOLD, remedy=Remedy.RELEASE, why=hold.why, since=str(hold.on))
    return None


def _open_defect(facts: Facts, piece: Piece, passing: list[ElectricalTest], demand: Demand) -> Finding | None:
    history = facts.history(piece)
    looks: list[AirTest | Inspection] = [*history.all(AirTest), *history.all(Inspection)]
    for look in looks:
        if has_defect(look) and not _is_released(facts, piece, look, passing):
            defects = look.defects or ("one-hand-failed",)
            return demand.not_met(
                "not-held.defect", cause=Cause.DEFECT, remedy=Remedy.RELEASE, defects=defects, since=str(look.on)
            )
    return None


def _is_released(facts: Facts, piece: Piece, look: AirTest | Inspection, passing: list[ElectricalTest]) -> bool:
    history = facts.history(piece)
    releases = history.all(Release)
    if not releases and facts.rest_in_order:
        # Where nobody wrote of releases, what was repaired and tested for it is taken as released.
        return history.is_mended(look, passing)
    after = (release for release in releases if history.is_after(release, look))
    return any(_lifts(facts, piece, look, "defect", release, passing) for release in after)


def _lifts(facts: Facts, piece: Piece, hold: Record, why: str, release: Release, passing: list[ElectricalTest]) -> bool:
    """Whether a release that came after the hold lifts it."""
    if release.by is None and not facts.rest_in_order:
        return False
    history = facts.history(piece)
    name = _SAME.get(why, why)
    if cleared_by(why, is_classed=facts.kind(piece).is_classed) in _LOOK:
        return _is_inspected(history, hold, release)
    if name in EVENTS or name == "failed":
        return _is_tested(history, hold, release, passing, None if name == "failed" else name)
    if name == "defect" or name in _PARTS:
        return _is_mended(facts, piece, hold, release, passing)
    return True


def cleared_by(why: str, *, is_classed: bool) -> str:
    """The word under which stands what clears a hold: kit without a class is not tested, so it is looked at."""
    return "look" if not is_classed and _SAME.get(why, why) in EVENTS else why


def _is_mended(facts: Facts, piece: Piece, hold: Record, release: Release, passing: list[ElectricalTest]) -> bool:
    """Gloves: repaired, then tested for it. Measuring chain: part replaced, inspected clean. Anything else: never."""
    history, kind = facts.history(piece), facts.kind(piece)
    if kind.is_classed:
        repairs = [event for event in history.all(Event) if event.kind in ("repaired", "patched")]
        since = [repair for repair in repairs if _since(history, hold, repair)]
        return any(_is_tested(history, repair, release, passing, repair.kind) for repair in since)
    return (kind.is_instrument or kind.is_chain_part) and _is_replaced_and_seen(history, hold, release)


def _is_replaced_and_seen(history: History, hold: Record, release: Release) -> bool:
    """Whether a part was replaced certainly after the hold, and the piece inspected clean certainly after that."""
    looks = [look for look in history.all(Inspection) if not has_defect(look) and not history.is_after(look, release)]
    done = [event for event in history.all(Event) if event.kind == "repaired" and history.is_after(event, hold)]
    return any(history.is_after(look, repair) for repair in done for look in looks)


def _is_inspected(history: History, hold: Record, release: Release) -> bool:
    """Clean inspection, or for gloves an air test of both hands without a defect, between hold and release."""
    looks: list[AirTest | Inspection] = [*history.all(Inspection)]
    looks += [air for air in history.all(AirTest) if (air.left, air.right) == ("passed", "passed")]
    return any(
        history.is_after(look, hold) and not has_defect(look) and not history.is_after(look, release) for look in looks
    )


def _since(history: History, hold: Record, event: Event) -> bool:
    return event.on is not None and event.on.first >= hold.latest(history.today)


def _is_tested(
    history: History, since: Record, release: Release, passing: list[ElectricalTest], name: str | None
) -> bool:
    """Whether a test that counts stands between the two; `name`: it must name that event, None: any later one."""
    assert release.on is not None  # an undated release comes after nothing
    first, last = since.latest(history.today), release.on.first
    tests = [test for test in passing if test.on is not None and first <= test.on.first <= last]
    if name is None:
        return any(history.is_after(test, since) or test.after == "failed" for test in tests)
    return any(test.after == name for test in tests)


RULE = PieceRule("not-held", Renewal.EACH_ISSUE, "house policy; 1910.137(c)(2)(iii), (iv), (x)", check)
