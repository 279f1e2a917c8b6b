"""Status of a piece on a day: what may be done with it, when it is due, which limit decides. No job needed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from msgspec import Struct

from app.decision.domain.calendar import add_months, last_good_day
from app.decision.domain.clock import asked_of, shorter_months, weighed
from app.decision.domain.declarations import Kind
from app.decision.domain.electrical_test import Judgement, Note, exempted_by
from app.decision.domain.entries import AnyEntry
from app.decision.domain.facts import Facts
from app.decision.domain.finding import Cause, Finding, Outcome
from app.decision.domain.history import has_defect, last_sound_air_test
from app.decision.domain.limits import HousePolicy, RuleSet
from app.decision.domain.piece import FirstIssue, Piece
from app.decision.domain.record import AirTest, Calibration, Inspection, SelfTest
from app.decision.domain.rule import PieceRule
from app.decision.judging.catalogues import catalogues

_EACH_DAY = ("air-test-done", "inspected", "self-test-done")
_BY_DATE = ("electrical-test-in-date", "calibration-in-date", "inspection-in-date")


class Lasting(Struct, frozen=True):
    """What of a standing does not change from one day to the next, so that it can be kept.

    `state` is the worst of everything that is no matter of date; "ready" stands for nothing being wrong.
    `checked_on`: the one day every check of the day is done for; on any other day `unchecked` says what is missing,
    None where no check of the day is asked.
    """

    state: str
    why: Note
    due_on: date | None
    decides: str
    counted_from: date | None
    weighed: tuple[tuple[date, str], ...]
    holder: str
    place: str
    first_issue: FirstIssue
    is_dated: bool
    checked_on: date | None
    unchecked: Note | None


class Status(Struct, frozen=True):
    """One piece's standing on `today`; `why` makes the sentence, `use_until` is the last good day.

    `due_on` is None where no date is known, `is_dated` False where none is asked of the kind.

    `decides` names the limit that sets the date, `tested_on` the day it counts from.
    """

    piece: Piece
    state: str
    due_on: date | None
    use_until: date | None
    why: Note
    holder: str
    place: str
    decides: str = ""
    counted_from: date | None = None
    weighed: tuple[tuple[date, str], ...] = ()
    today: date = date.min
    first_issue: FirstIssue = "unknown"
    is_dated: bool = True

    @property
    def is_of_a_date(self) -> bool:
        """Whether a date, or that the piece is out, decides it; else the reason of a finding does."""
        return self.state in ("ready", "due-soon", "overdue", "out")

    @property
    def is_past(self) -> bool:
        """Whether the due day has come, whatever else is to be said."""
        return self.due_on is not None and self.today >= self.due_on


def status_of(facts: Facts, piece: Piece) -> Status:
    """Where the piece stands on `facts.on`; the worst state wins, dates are given whenever one is known."""
    lasts = lasting(facts, piece)
    state, why = state_on(lasts, facts.on, facts.site.warning_days)
    due_on = lasts.due_on
    return Status(
        piece, state, due_on, None if due_on is None else last_good_day(due_on), why, lasts.holder, lasts.place,
        lasts.decides, lasts.counted_from, lasts.weighed, facts.on, lasts.first_issue, lasts.is_dated,
    )  # fmt: skip


def lasting(facts: Facts, piece: Piece) -> Lasting:
    """The part of a standing that stays, judged with everything up to `facts.on` known."""
    dates = list(_dates(facts, piece))
    due_on, decides, counted_from = min(dates, default=(None, "", None))
    history = facts.history(piece)
    places = sorted(history.places() - {"crib"})
    holder = places[0] if places else ""
    state, why = _state(facts, piece)
    return Lasting(
        state, why, due_on, decides, counted_from, tuple((day, key) for day, key, _ in dates), holder,
        "" if holder else "crib", history.first_issue(), is_dated(facts, piece.kind), *checked(facts, piece),
    )  # fmt: skip


def checked(facts: Facts, piece: Piece) -> tuple[date | None, Note | None]:
    """What of a lasting standing the checks of the day decide: `checked_on` and `unchecked`, and nothing else of it."""
    daily = [finding for rule in _EACH_DAY if (finding := _worst(facts, piece, rule)) is not None]
    missing = [finding for finding in daily if finding.outcome is not Outcome.MET]
    if missing:
        return None, _note(missing[0])
    return (facts.on, Note(f"{daily[0].rule}.not-today", {})) if daily else (None, None)


def moves_the_day_alone(record: AnyEntry, facts: Facts, piece: Piece, state: str) -> bool:
    """Whether a check can change nothing of a piece's lasting standing but what `checked` says of it.

    `piece`, `state`: the piece and its standing before. So it is with a check of the day that finds nothing, of a piece
    nothing was wrong with: there is nothing it could lift or bring about, and it moves no due day. Its own day may now
    be the last anything is known of, and the due day have come by then; that is told of each day anyway.
    """
    if state != "ready" or record.on is None:
        return False
    if isinstance(record, AirTest):
        return not has_defect(record) and not _is_exempted(facts, piece)
    if isinstance(record, Inspection):
        return not has_defect(record) and "inspection-in-date" not in facts.house.covers.get(piece.kind, ())
    return isinstance(record, SelfTest)


def _is_exempted(facts: Facts, piece: Piece) -> bool:
    return any(exempted_by(facts.site, rule_set, piece) for rule_set in facts.rule_sets)


def state_on(lasts: Lasting, today: date, warning_days: int) -> tuple[str, Note]:
    """State and reason on one day: overdue, due soon and check due today are matters of the day alone."""
    if lasts.state != "ready":
        return lasts.state, lasts.why
    due_on = lasts.due_on
    dated = {"due_on": due_on, "use_until": due_on and last_good_day(due_on), "why": lasts.decides}
    if due_on is not None and today >= due_on:
        return "overdue", Note("status.overdue", dated)
    if due_on is not None and (last_good_day(due_on) - today).days <= warning_days:
        return "due-soon", Note("status.dated", dated)
    if lasts.unchecked is not None and lasts.checked_on != today:
        return "inspect-today", lasts.unchecked
    return "ready", Note("status.dated" if due_on else "status.undated", dated)


def _state(facts: Facts, piece: Piece) -> tuple[str, Note]:
    """The first of these that stands decides; what comes after it is not asked."""
    gone = _worst(facts, piece, "not-withdrawn")
    # House policy asks it of every kind; one that nobody asks must stop here and not stand as ready.
    assert gone is not None, piece.kind
    if gone.outcome is not Outcome.MET:
        return ("lost" if gone.cause is Cause.LOST else "withdrawn"), _note(gone)
    for rule in ("not-held", "no-open-event"):
        held = _unmet(facts, piece, rule)
        if held is not None:
            return "on-hold", _note(held)
    issue = facts.history(piece).open_issue()
    if issue is not None:
        return "out", Note("status.out", {"since": str(issue.on)})
    return _by_test(facts, piece)


def _by_test(facts: Facts, piece: Piece) -> tuple[str, Note]:
    for rule in ("class-known", "hands-belong-together", "repair-allowed"):
        finding = _unmet(facts, piece, rule)
        if finding is not None:
            is_refused = rule == "repair-allowed" and finding.outcome is Outcome.NOT_MET
            return ("on-hold" if is_refused else "cannot-tell"), _note(finding)
    unseen = waits_for_certificate(facts, piece)
    if unseen is not None:
        return "certificate-not-seen", Note(
            unseen.reasons[0].key, {"day": str(unseen.test.on), **unseen.reasons[0].values}
        )
    for rule in _BY_DATE:
        finding = _unmet(facts, piece, rule)
        if finding is None or _has_run_out(facts, finding):
            continue
        if finding.outcome is Outcome.CANNOT_TELL:
            return "cannot-tell", _note(finding)
        return ("on-hold" if finding.cause is Cause.FAILED else "not-tested"), _note(finding)
    return "ready", Note("status.undated", {})


def _unmet(facts: Facts, piece: Piece, rule: str) -> Finding | None:
    finding = _worst(facts, piece, rule)
    return None if finding is None or finding.outcome is Outcome.MET else finding


def _worst(facts: Facts, piece: Piece, name: str) -> Finding | None:
    """What a rule says of the piece alone, cautions left out; None where nobody asks it of this kind.

    Of what several sets say the worst, of equals the last; what has run out by date is less than what no date mends,
    because the due day tells of it on every list.
    """
    rule = catalogues().rules[name]
    assert isinstance(rule, PieceRule)
    by_house = facts.rule_sets[:1] if name in facts.house.covers.get(piece.kind, ()) else ()
    by_sets = (rule_set for rule_set in facts.rule_sets if name in rule_set.covers.get(piece.kind, ()))
    findings = [
        finding
        for rule_set in (*by_house, *by_sets)
        for finding in rule.check(facts, piece, rule_set)
        if finding.outcome is not Outcome.CAUTION
    ]
    return max(reversed(findings), key=lambda finding: _weight(facts, finding), default=None)


def _weight(facts: Facts, finding: Finding) -> int:
    if finding.outcome is Outcome.MET:
        return 0
    return 1 if _has_run_out(facts, finding) else 2


def _has_run_out(facts: Facts, finding: Finding) -> bool:
    """Whether a demand is unmet because its due day has come, also where a longer clock waits to be seen in print."""
    due_on = finding.values.get("due_on")
    is_past = isinstance(due_on, date) and facts.on >= due_on
    return finding.cause is Cause.RUN_OUT or (is_past and finding.cause is Cause.NOT_IN_PRINT)


def _note(finding: Finding) -> Note:
    values = {
        "subject": finding.subject, "measured": finding.measured, "required": finding.required, **finding.values,
    }  # fmt: skip
    return Note(finding.key, values)


def waits_for_certificate(facts: Facts, piece: Piece) -> Judgement | None:
    """The latest test that would count if somebody had seen its certificate, where none counts."""
    for rule_set in facts.rule_sets:
        if asked_of(rule_set, piece, facts.site).interval is None:
            continue
        tested = facts.tested(piece, rule_set)
        if tested.last is not None or tested.failed is not None:
            continue
        waiting = [
            judgement for judgement in tested.judged
            if judgement.reasons and judgement.test.on is not None
            and all(note.cause is Cause.PAPER_NOT_SEEN for note in judgement.reasons)
        ]  # fmt: skip
        if waiting:
            return max(waiting, key=lambda judgement: judgement.test.on.first if judgement.test.on else date.min)
    return None


def is_dated(facts: Facts, kind: str) -> bool:
    """Whether any demand on this kind runs out by date; a set of leads has none, a pair of gloves always."""
    if any(rule_set.intervals.get(kind) for rule_set in facts.rule_sets):
        return True
    return is_calibrated(facts.house, facts.kinds[kind]) or "inspection-in-date" in facts.house.covers.get(kind, ())


def _or_exempted(
    facts: Facts, piece: Piece, rule_set: RuleSet, limits: list[tuple[date, str, date]]
) -> list[tuple[date, str, date]]:
    """The exemption's day where it lasts longer than the test's."""
    checked = last_sound_air_test(facts.history(piece)) if exempted_by(facts.site, rule_set, piece) else None
    if checked is None:
        return limits
    exempt_months = rule_set.limits["dielectric-exempt/months"].value
    exempt = (add_months(checked, exempt_months), f"exempted/{exempt_months}", checked)
    return [exempt] if not limits or exempt[0] > min(limits)[0] else limits


def is_calibrated(house: HousePolicy, kind: Kind) -> bool:
    """Whether a calibration is asked of the kind."""
    return "calibration-in-date" in house.covers.get(kind.key, ())


def takes_calibration(house: HousePolicy, kind: Kind) -> bool:
    """Whether a calibration can be entered: of every instrument, also of one that is not asked for it."""
    return kind.is_instrument or is_calibrated(house, kind)


def _dates(facts: Facts, piece: Piece) -> Iterator[tuple[date, str, date]]:
    """Every by-date demand as (due day, limit that decides, day it counts from)."""
    history = facts.history(piece)
    for rule_set in facts.rule_sets:
        interval = asked_of(rule_set, piece, facts.site).interval
        tested_on = None if interval is None else facts.tested(piece, rule_set).tested_on
        if interval is not None and tested_on is None:
            unseen = waits_for_certificate(facts, piece)
            tested_on = unseen.test.on.first if unseen is not None and unseen.test.on else None
        limits: list[tuple[date, str, date]] = []
        if interval is not None and tested_on is not None:
            first = history.first_issue()
            limits = [
                (day, why, tested_on) for day, why in weighed(tested_on, first, interval, piece.maker_interval_months)
            ]  # fmt: skip
        yield from _or_exempted(facts, piece, rule_set, limits)
    covers = facts.house.covers.get(piece.kind, ())
    if is_calibrated(facts.house, facts.kind(piece)):
        done = [check.on.first for check in history.all(Calibration) if check.on and check.result == "passed"]
        if done:
            months = shorter_months(facts.house.value("calibration-months"), piece.maker_interval_months)
            yield add_months(max(done), months), f"calibration/{months}", max(done)
    if "inspection-in-date" in covers:
        looks = [look.on.first for look in history.all(Inspection) if look.on and not has_defect(look)]
        if looks:
            months = shorter_months(facts.house.value("inspection-months"), piece.maker_interval_months)
            yield add_months(max(looks), months), f"inspection/{months}", max(looks)
