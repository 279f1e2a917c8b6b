"""Folding findings: only met findings that last as long as the job let a kit go."""

from __future__ import annotations

from datetime import date
from itertools import combinations_with_replacement, permutations

import pytest

from app.decision.domain.finding import HOUSE_BASIS, Demand, Finding, Outcome, Renewal
from app.decision.domain.verdict import Verdict, fold, worst

ON, UNTIL = date(2026, 3, 2), date(2026, 3, 6)
RENEWALS = {"dated": Renewal.BY_DATE, "daily": Renewal.EACH_DAY, "issue": Renewal.EACH_ISSUE}


def pen(rule: str, subject: str = "G1") -> Demand:
    return Demand(rule, subject)


MET = pen("issue").met("m")
NOT_MET = pen("issue", "G2").not_met("n")
CANNOT_TELL = pen("issue", "G3").cannot_tell("c")
CAUTION = pen("issue", "G4").caution("w")


def folded(*findings: Finding, judged: bool = True) -> Verdict:
    return fold(findings, ON, UNTIL, RENEWALS, judged=judged)


@pytest.mark.parametrize("many", [1, 2, 3, 4])
def test_every_mixture(many: int) -> None:
    for mixture in combinations_with_replacement((MET, NOT_MET, CANNOT_TELL, CAUTION), many):
        verdict = folded(*mixture)
        outcomes = {one.outcome for one in mixture}
        may = MET in mixture and not outcomes & {Outcome.NOT_MET, Outcome.CANNOT_TELL}
        assert verdict.may_be_issued is may
        assert verdict.decision == ("may-be-issued" if may else "refused")
        assert len(verdict.stops) + len(verdict.met) + len(verdict.cautions) == many


def test_nothing_asked_or_nothing_judged_lets_nothing_go() -> None:
    assert not folded().may_be_issued
    assert not folded(CAUTION).may_be_issued
    assert not folded(MET, judged=False).may_be_issued


@pytest.mark.parametrize(
    ("good_until", "may"), [(date(2026, 3, 5), False), (UNTIL, True), (date(2026, 3, 7), True)]
)  # fmt: skip
def test_what_runs_out_before_the_last_planned_day_stops(good_until: date, may: bool) -> None:
    dated = pen("dated").met_until("m", good_until)
    verdict = folded(dated, MET)
    assert verdict.may_be_issued is may
    assert (dated in verdict.stops) is not may
    assert (dated in verdict.met) is may
    assert verdict.use_until == good_until


def test_known_shortfalls_come_before_doubts_and_lapses() -> None:
    lapse = pen("dated").met_until("m", ON)
    assert folded(lapse, CANNOT_TELL, NOT_MET).stops == (NOT_MET, CANNOT_TELL, lapse)


def test_what_no_check_mends_is_said_first_and_checks_of_the_day_last() -> None:
    daily, late = pen("daily").not_met("d"), pen("issue").not_met("n")
    volts = pen("insulation-class-stands-voltage").not_met("v")
    renewals = {**RENEWALS, "insulation-class-stands-voltage": Renewal.EACH_ISSUE}
    for order in permutations((daily, late, volts)):
        verdict = fold(order, ON, UNTIL, renewals, judged=True)
        assert verdict.stops == (volts, late, daily)
    doubt = pen("insulation-class-stands-voltage").cannot_tell("c")
    assert fold((doubt, daily), ON, UNTIL, renewals, judged=True).stops == (daily, doubt)


def test_findings_are_stops_then_met_and_cautions_apart() -> None:
    verdict = folded(MET, CAUTION, NOT_MET)
    assert verdict.findings == (NOT_MET, MET)
    assert verdict.cautions == (CAUTION,)


def test_the_earliest_last_good_day_is_shown() -> None:
    days = [date(2026, 4, 1), date(2026, 3, 20), date(2026, 5, 1)]
    assert folded(*(pen("dated", str(day)).met_until("m", day) for day in days)).use_until == date(2026, 3, 20)
    assert folded(MET).use_until is None


def test_what_is_renewed_daily_is_listed_once() -> None:
    daily = pen("daily").met("m")
    assert folded(daily, daily, pen("daily", "G2").met("m"), MET, pen("daily", "G3").not_met("n")).renew_daily == (
        ("daily", "G1"), ("daily", "G2"),
    )  # fmt: skip


def test_the_worst_of_one_demand() -> None:
    assert worst([]) is None
    assert worst([CAUTION]) is None
    assert worst([MET, CAUTION]) is Outcome.MET
    assert worst([MET, CANNOT_TELL]) is Outcome.CANNOT_TELL
    assert worst([CANNOT_TELL, NOT_MET, MET]) is Outcome.NOT_MET


def test_a_pen_writes_figures_and_words_apart() -> None:
    found = pen("dated").met_until("m", ON, measured=3, required=2.5, unit="mm", how="measured")
    assert (found.measured, found.required, found.unit, found.good_until) == (3, 2.5, "mm", ON)
    assert found.values == {"how": "measured"}
    assert (found.basis, found.rule, found.subject) == (HOUSE_BASIS, "dated", "G1")
    assert MET.unit is None
