"""The one runner of worked cases: no store, no branch on an id, the same path for ours, the trade's and past decisions.

A case waits where it needs a kind, rule set, rule, calculation, record, entry or offered reading that does not exist
yet; `why` names it. Waiting is neither passed nor failed.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from app.decision.case.case import Case, Expected
from app.decision.case.pieces import read_record
from app.decision.domain import former
from app.decision.domain.electrical_test import judge as judge_test
from app.decision.domain.errors import BadInput
from app.decision.domain.facts import Facts, Job
from app.decision.domain.finding import Finding, Outcome
from app.decision.domain.piece import Piece
from app.decision.domain.record import ElectricalTest
from app.decision.domain.verdict import worst
from app.decision.fields.records import SORTS
from app.decision.fields.words import RULE_SETS
from app.decision.judging.calculate import calculate
from app.decision.judging.calculation import Answer
from app.decision.judging.catalogues import calculations, catalogues
from app.decision.judging.judge import ask, judge
from app.decision.judging.offered import offer

State = Literal["passed", "failed", "waiting"]
CATALOGUED_SITE_KEYS = ("dielectric_exempt_00_0",)


class CaseResult(Struct, frozen=True):
    """What came out, beside what was expected; both as plain values."""

    id: str
    state: State
    expected: Mapping[str, object]
    found: Mapping[str, object]
    why: str = ""


class Waits(Exception):
    """The case needs something that does not exist yet."""


def run_case(case: Case) -> CaseResult:
    """Run one case; a case that cannot be put as written fails with the reason, one that waits says for what."""
    expected = dict(case.expect)
    try:
        _wait(case)
        answer = _RUN[case.level](case)
    except Waits as reason:
        return CaseResult(case.id, "waiting", expected, {}, str(reason))
    except BadInput as fault:
        if case.expect.get("error") is True:
            return CaseResult(case.id, "passed", expected, {"error": True})
        return CaseResult(case.id, "failed", expected, {"error": True}, str(fault))
    why = _COMPARE[case.level](case, answer) if _asks(case) else "nothing is expected at this level"
    return CaseResult(case.id, "failed" if why else "passed", expected, answer, why)


def _asks(case: Case) -> bool:
    """Whether the case expects anything its level can answer; one that does not could never fail."""
    return any(key in case.expect and case.expect[key] != [] for key in _ASKED[case.level])


def _wait(case: Case) -> None:
    known = catalogues()
    for name in case.rule_sets:
        if case.level != "calculation" and name not in known.rule_sets:
            raise Waits(f"rule-set {name}")
    for piece in case.pieces:
        if piece.kind not in known.kinds:
            raise Waits(f"kind {piece.kind}")
    for expected in case.expected:
        if expected.rule not in known.rules:
            raise Waits(f"rule {expected.rule}")
    offered = {key for rule_set in known.rule_sets.values() for key in rule_set.offers}
    for key in CATALOGUED_SITE_KEYS:
        if case.site_table.get(key) and key not in offered:
            raise Waits(f"offered-reading {key}")


def facts_of(case: Case) -> Facts:
    """The question a case puts. At level finding and entry what is not written is in order."""
    known = catalogues()
    rest_in_order = case.level in ("finding", "entry")
    site = case.site
    if rest_in_order:
        required = bool(case.site_table.get("figures_required", False))
        site = replace(site, confirmed_in_print=None, figures_required=required, approvals_taken_as_given=True)
    job = case.job
    on = case.on or date.min
    return Facts(
        on=on,
        until=case.until or on,
        job=Job(
            task=None if job.task is None else known.tasks[job.task],
            circuits=job.circuits,
            without_protectors=job.without_protectors,
            dexterity_stated_by=job.dexterity_stated_by,
            low_damage_risk_stated_by=job.low_damage_risk_stated_by,
            incident_energy_mcal=job.incident_energy_mcal,
            place=job.place,
            with_leads=job.with_leads,
        ),
        pieces=case.pieces,
        kinds=known.kinds,
        house=known.house,
        rule_sets=tuple(known.rule_sets[name] for name in case.rule_sets),
        site=site,
        person=case.person,
        second=case.second,
        rest_in_order=rest_in_order,
    )


def _calculate(case: Case) -> dict[str, object]:
    known = catalogues()
    table = dict(case.ask)
    what = str(table.pop("what", ""))
    if what not in calculations():
        raise Waits(f"calculation {what}")
    if table.get("rule_set") in RULE_SETS and table["rule_set"] not in known.rule_sets:
        raise Waits(f"rule-set {table['rule_set']}")
    return _shown(calculate(what, table, f"case {case.id} ask"))


def _shown(answer: Answer) -> dict[str, object]:
    shown: dict[str, object] = {"value": answer.value}
    if answer.unit is not None:
        shown["unit"] = answer.unit
    if answer.caution:
        shown["caution"] = True
    return shown


def _find(case: Case) -> dict[str, object]:
    findings = ask(facts_of(case), {expected.rule for expected in case.expected})
    return {"findings": findings}


def _decide(case: Case) -> dict[str, object]:
    verdict = judge(facts_of(case))
    return {"decision": verdict.decision, "findings": verdict.findings + verdict.cautions}


def _enter(case: Case) -> dict[str, object]:
    table = dict(case.entry)
    what = former.RECORDS.get(str(table.get("what", "")), str(table.get("what", "")))
    if what not in SORTS:
        raise Waits("entry isolation-record" if what == "isolation-record" else f"unknown-entry {what}")
    facts = facts_of(case)
    code = table.pop("piece", None)
    piece = next((piece for piece in facts.pieces if piece.code == code), None)
    if piece is None:
        raise BadInput("entry.unknown-piece", place=f"case {case.id}", thing=str(code))
    record = read_record(table, f"case {case.id} entry")
    offered = offer(record, piece, facts)
    if offered.refused:
        return {"entry": "refused"}
    if isinstance(record, ElectricalTest):
        return _tested(record, piece, facts)
    return {"entry": "accepted", **({"result": offered.result} if offered.result else {})}


def _tested(test: ElectricalTest, piece: Piece, facts: Facts) -> dict[str, object]:
    judged = [judge_test(test, piece, rule_set, facts.house, facts.site) for rule_set in facts.rule_sets]
    order = ("failed", "does-not-count", "passed")
    worst_one = min(judged, key=lambda judgement: order.index(judgement.result))
    entry = "accepted-with-caution" if worst_one.cautions else "accepted"
    return {"entry": entry, "result": worst_one.result}


def _compare_value(case: Case, answer: Mapping[str, object]) -> str:
    wanted, value = case.expect.get("value"), answer.get("value")
    if case.expect.get("error"):
        return "an error was expected"
    if case.expect.get("caution") and not answer.get("caution"):
        return "a caution was expected"
    if "unit" in case.expect and case.expect["unit"] != answer.get("unit"):
        return f"unit {answer.get('unit')}"
    within = case.expect.get("within", 0)
    if _is_number(wanted) and _is_number(value) and isinstance(within, (int, float)):
        return "" if abs(float(str(wanted)) - float(str(value))) <= within + 1e-9 else "value differs"
    return "" if wanted == value else "value differs"


def _is_number(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _compare_findings(case: Case, answer: Mapping[str, object]) -> str:
    if "decision" in case.expect and case.expect["decision"] != answer.get("decision"):
        return f"decision {answer.get('decision')}"
    findings = answer["findings"]
    assert isinstance(findings, tuple)
    if case.expect.get("caution") and not any(finding.outcome is Outcome.CAUTION for finding in findings):
        return "a caution was expected"
    return next((why for expected in case.expected if (why := _differs(expected, findings))), "")


def _differs(expected: Expected, findings: tuple[Finding, ...]) -> str:
    mine = [
        finding for finding in findings
        if finding.rule == expected.rule and expected.subject in (None, finding.subject)
    ]  # fmt: skip
    outcome = worst(mine)
    if outcome is None:
        return f"{expected.rule}: no finding"
    if outcome.value != expected.outcome:
        return f"{expected.rule}: {outcome.value}"
    dates = [finding.good_until for finding in mine if finding.good_until is not None]
    if expected.good_until is not None and min(dates, default=None) != expected.good_until:
        return f"{expected.rule}: good until {min(dates, default=None)}"
    if expected.caution and not any(finding.outcome is Outcome.CAUTION for finding in mine):
        return f"{expected.rule}: no caution"
    return ""


def _compare_entry(case: Case, answer: Mapping[str, object]) -> str:
    for key in ("entry", "result"):
        if key in case.expect and case.expect[key] != answer.get(key):
            return f"{key} {answer.get(key)}"
    if case.expect.get("caution") and answer.get("entry") != "accepted-with-caution":
        return "a caution was expected"
    return ""


_ASKED = {
    "calculation": ("value", "error"),
    "finding": ("findings",),
    "decision": ("decision", "findings"),
    "entry": ("entry", "result"),
}
_RUN = {"calculation": _calculate, "finding": _find, "decision": _decide, "entry": _enter}
_COMPARE = {
    "calculation": _compare_value,
    "finding": _compare_findings,
    "decision": _compare_findings,
    "entry": _compare_entry,
}
