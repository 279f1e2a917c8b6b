"""Findings folded into a verdict: "may be issued" only if everything is met and lasts as long as the job."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Literal

from msgspec import Struct

from app.decision.domain.finding import Finding, Outcome, Renewal

Decision = Literal["may-be-issued", "refused"]
# Said first: what no act at the counter mends.
_NEVER_MENDED = frozenset(
    {"insulation-class-stands-voltage", "voltage-mark-stands-voltage", "not-withdrawn", "not-held", "no-open-event"}
)
_ORDER = {Outcome.NOT_MET: 0, Outcome.CANNOT_TELL: 1, Outcome.CAUTION: 2, Outcome.MET: 3}


class Verdict(Struct, frozen=True):
    """The decision with its proof. `stops` is what refuses, `cautions` ride along, `met` is the rest.

    `use_until`: the earliest by-date last good day, None where no demand has one. `renew_daily`: (rule, subject)
    that must be met again on every later day.
    """

    decision: Decision
    on: date
    until: date
    stops: tuple[Finding, ...]
    cautions: tuple[Finding, ...]
    met: tuple[Finding, ...]
    renew_daily: tuple[tuple[str, str], ...]
    use_until: date | None

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What stops it first, then what was met; cautions stand apart."""
        return self.stops + self.met

    @property
    def may_be_issued(self) -> bool:
        """Whether the kit may go out."""
        return self.decision == "may-be-issued"


def fold(
    findings: tuple[Finding, ...], on: date, until: date, renewals: Mapping[str, Renewal], *, judged: bool
) -> Verdict:
    """One verdict from all findings.

    `judged`: every piece had at least one rule; without that nothing is issued. A by-date finding that does not
    reach `until` stops the job although it is met today.
    """
    short = {
        id(finding) for finding in findings
        if finding.outcome is Outcome.MET and finding.good_until is not None and finding.good_until < until
    }  # fmt: skip
    stops = [
        finding
        for finding in findings
        if finding.outcome in (Outcome.NOT_MET, Outcome.CANNOT_TELL) or id(finding) in short
    ]
    stops.sort(key=lambda finding: (_ORDER[finding.outcome], _pressing(finding.rule, renewals)))
    met = tuple(finding for finding in findings if finding.outcome is Outcome.MET and id(finding) not in short)
    cautions = tuple(finding for finding in findings if finding.outcome is Outcome.CAUTION)
    daily = {(finding.rule, finding.subject): None for finding in met if renewals[finding.rule] is Renewal.EACH_DAY}
    dates = [finding.good_until for finding in findings if finding.good_until is not None]
    decision: Decision = "may-be-issued" if judged and met and not stops else "refused"
    return Verdict(decision, on, until, tuple(stops), cautions, met, tuple(daily), min(dates, default=None))


def _pressing(rule: str, renewals: Mapping[str, Renewal]) -> int:
    """What no act at the counter mends first, volts among it; what a check today would mend last."""
    if rule in _NEVER_MENDED:
        return 0
    return 2 if renewals[rule] is Renewal.EACH_DAY else 1


def worst(findings: list[Finding]) -> Outcome | None:
    """The worst outcome among findings of one demand, cautions aside; None where there are none."""
    outcomes = [finding.outcome for finding in findings if finding.outcome is not Outcome.CAUTION]
    return min(outcomes, key=lambda outcome: _ORDER[outcome], default=None)
