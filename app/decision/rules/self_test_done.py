"""The self-test is done today and passed: detectors and proving units, each use.

One that failed today is not mended by another try: somebody releases it by name, and it passes after that. Void on
return, change of custody and an incident. Source: makers' manuals: any failed step, do not use.

>>> asked(RULE, detector(records=[self_test(result="passed")]))
met done
>>> asked(RULE, detector(records=[self_test(result="failed")]))
not-met failed
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Basis, Cause, Finding, Remedy, Renewal
from app.decision.domain.history import History
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.record import Release, SelfTest
from app.decision.domain.rule import PieceRule


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece."""
    del rule_set
    demand = RULE.demand(piece.code, Basis("IEC 61243-3 practice, each use; house policy", "S", "house"))
    history = facts.history(piece)
    tests = history.of_today(SelfTest)
    releases = [release for release in history.all(Release) if release.by is not None]
    failed = [test for test in tests if test.result != "passed"]
    # Tried again until it passes is no self-test: after a failed step somebody releases it, and then it is tested.
    answered = [
        test for test in failed
        if any(history.is_after(release, test) and _passes_after(history, tests, release) for release in releases)
    ]  # fmt: skip
    if len(answered) < len(failed):
        return [demand.not_met("self-test-done.failed", cause=Cause.FAILED)]
    if not tests:
        return [demand.not_met("self-test-done.not-today", cause=Cause.NOT_DONE, remedy=Remedy.SELF_TEST)]
    return [demand.met("self-test-done.done")]


def _passes_after(history: History, tests: list[SelfTest], release: Release) -> bool:
    return any(test.result == "passed" and history.is_after(test, release) for test in tests)


RULE = PieceRule("self-test-done", Renewal.EACH_DAY, "makers' manuals; house policy", check)
