"""The proof of a decision as it is stored: keys and values, never a sentence. What is read is made from it.

Form 1, which older programs wrote, held each sentence as it was said and the worked case as its text. Such lines stay
as they are; they are read into the form of today, with the names of today.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from datetime import date, time
from decimal import Decimal
from typing import Any

from msgspec import Struct

from app.decision.case.writing import inputs
from app.decision.domain import former
from app.decision.domain.finding import Basis, Finding, Outcome
from app.decision.domain.voltage import Circuit, voltage_class
from app.decision.judging.answers import KitAnswer
from app.decision.judging.change import Change
from app.register.derived import rules_digest

Table = Mapping[str, Any]
FORM = 2
_INPUTS = ("rule_sets", "on", "until", "site", "job", "person", "second", "pieces")
_DAYS = frozenset({"on", "until", "valid_until", "first_issue"})
# Written first in its table, as people look for it; stored text is sorted.
_LEADING = ("code", "key", "what", "kind", "on", "at", "rule", "subject")
_WORST_FIRST = ("not-met", "cannot-tell", "met")


class Proof(Struct, frozen=True):
    """What was decided, and what it was made from and under.

    `answer`: the decision, its findings and changes, each by key and values. `case`: the inputs in the keys of a worked
    case. `editions`: of each rule set and of house policy, by key. `form`: how it was stored.
    """

    answer: Table
    case: Table
    editions: Mapping[str, str]
    rules_digest: str
    form: int = FORM


def proof_of(answer: KitAnswer) -> Proof:
    """The proof of a decision just taken."""
    facts = answer.facts
    editions = {rule_set.key: rule_set.edition for rule_set in facts.rule_sets}
    return Proof(
        answer_of(answer), _plain(inputs(facts)), {**editions, "house": facts.house.edition},
        rules_digest(facts.site, facts.rule_sets),
    )  # fmt: skip


def answer_of(answer: KitAnswer) -> Table:
    """The decision as plain keys and values: numbers in volts, days as ISO text.

    `open_issues` stands there only where something is out on figures that a reading contradicts.
    """
    verdict, question = answer.verdict, answer.question
    values: dict[str, Any] = {
        "decision": verdict.decision,
        "rule_sets": [rule_set.key for rule_set in answer.facts.rule_sets],
        "on": question.on,
        "until": question.until,
        "required": [_required(answer, circuit) for circuit in answer.facts.job.circuits],
        "findings": [_finding(finding) for finding in verdict.findings],
        "cautions": [_finding(finding) for finding in verdict.cautions],
        "renew_daily": [{"rule": rule, "subject": subject} for rule, subject in verdict.renew_daily],
        "use_until": verdict.use_until,
        "changes": [_change(change) for change in answer.changes],
    }
    if answer.open_issues:
        values["open_issues"] = [
            {"entry": str(issue.entry), "person": issue.person, "until": issue.until, "pieces": issue.pieces}
            for issue in answer.open_issues
        ]
    plain: Table = _plain(values)
    return plain


def _required(answer: KitAnswer, circuit: Circuit) -> Table:
    needed = answer.facts.required(circuit)
    return {
        "circuit": circuit.key,
        "supply": circuit.supply,
        "working_v": None if needed is None else needed.mv / 1000,
        "origin": None if needed is None else needed.origin,
        "margin_percent": None if needed is None else needed.margin_bp / 100,
        "required_v": None if needed is None else needed.volts,
        "category": circuit.measuring_category,
        "voltage_class": None if needed is None else voltage_class(circuit.supply, needed.mv),
    }


def _finding(finding: Finding) -> Table:
    return {
        "rule": finding.rule,
        "subject": finding.subject,
        "outcome": finding.outcome.value,
        "measured": finding.measured,
        "required": finding.required,
        "unit": finding.unit,
        "clause": finding.basis.clause,
        "confidence": finding.basis.confidence,
        "rule_set": finding.basis.rule_set,
        "key": finding.key,
        "cause": finding.cause.value,
        "remedy": finding.remedy.value,
        "values": finding.values,
        "good_until": finding.good_until,
    }


def _change(change: Change) -> Table:
    return {
        "change": change.change, "subject": change.subject, "other": change.other, "key": change.key,
        "kind": change.kind, "about": None if change.about is None else _finding(change.about),
    }  # fmt: skip


def finding_of(kept: Table) -> Finding:
    """A stored finding as one a sentence can be made of; days within it are ISO text."""
    return Finding(
        kept["rule"], kept["subject"], Outcome(kept["outcome"]), kept["key"],
        Basis(kept["clause"], kept["confidence"], kept["rule_set"]), kept["values"],
        kept["measured"], kept["required"], kept["unit"],
    )  # fmt: skip


def change_of(kept: Table) -> Change:
    """A stored change as one a sentence can be made of."""
    about = None if kept["about"] is None else finding_of(kept["about"])
    return Change(kept["change"], kept["subject"], kept["key"], kept["kind"], kept["other"], about)


def read_proof(stored: Table) -> Proof:
    """A proof as it was stored by this or an older program, in the form and names of today."""
    if "form" in stored:
        return Proof(**stored)
    case = tomllib.loads(stored["case"])["case"][0]
    answer = {former.ANSWER.get(part, part): values for part, values in stored["answer"].items()}
    return Proof(
        _named_today(answer), _named_today({key: case[key] for key in _INPUTS if key in case}),
        stored["editions"], stored["rules_digest"], 1,
    )  # fmt: skip


def as_worked_case(proof: Proof, name: str) -> Table:
    """The decision as the table of a worked case, with the decision and every finding of it expected."""
    return {
        "id": name, "source": "a decision of this register", "confidence": "D", "level": "decision",
        **{key: _as_written(proof.case[key], key) for key in _INPUTS if proof.case.get(key) is not None},
        "expect": {"decision": proof.answer["decision"], "findings": _expected(proof.answer["findings"])},
    }  # fmt: skip


def _expected(findings: Iterable[Table]) -> list[Table]:
    """The worst outcome of each rule and subject."""
    worst: dict[tuple[str, str], Table] = {}
    for finding in sorted(findings, key=lambda finding: _WORST_FIRST.index(finding["outcome"])):
        rule, subject, outcome = finding["rule"], finding["subject"], finding["outcome"]
        worst.setdefault((rule, subject), {"rule": rule, "subject": subject, "outcome": outcome})
    return [worst[key] for key in sorted(worst)]


def reasons(answer: Table) -> list[tuple[str, str, str]]:
    """What stands against a kit, in order: rule, subject and key of everything that is not met."""
    refused = (finding for finding in answer["findings"] if finding["outcome"] != "met")
    return sorted((finding["rule"], finding["subject"], finding["key"]) for finding in refused)


def _plain(value: Any) -> Any:  # noqa: ANN401  # any value a finding carries
    """A value as JSON holds it, figures as figures: a decimal of a case has at most 15 digits and is not rounded."""
    if isinstance(value, Mapping):
        return {str(key): _plain(part) for key, part in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(part) for part in value]
    if isinstance(value, Finding):
        return _plain(_finding(value))
    if isinstance(value, (bool, int, float, str)) or value is None:
        return value
    return _text_or_figure(value)


def _text_or_figure(value: object) -> float | str:
    if isinstance(value, Decimal):
        return float(value)
    return value.isoformat() if isinstance(value, (date, time)) else str(value)


def _named_today(value: Any, key: str = "") -> Any:  # noqa: ANN401  # any part of a stored table
    """Records, their keys and rules by the names of today."""
    if isinstance(value, Mapping):
        return {former.FIELDS.get(key, key): _named_today(part, key) for key, part in value.items()}
    if isinstance(value, list):
        return [_named_today(part, key) for part in value]
    names = {"what": former.RECORDS, "rule": former.RULES}.get(key, {})
    return names.get(value, value) if isinstance(value, str) else value


def _as_written(value: Any, key: str = "") -> Any:  # noqa: ANN401  # any part of a stored table
    """A stored value as a worked case writes it: whole days as days, figures to their last decimal."""
    if isinstance(value, Mapping):
        known = [name for name in (*_LEADING, *value) if value.get(name) is not None]
        return {name: _as_written(value[name], name) for name in dict.fromkeys(known)}
    if isinstance(value, list):
        return [_as_written(part, key) for part in value]
    if isinstance(value, float):
        return Decimal(str(value))
    if key in _DAYS and isinstance(value, str) and len(value) == len("2026-03-02"):
        return date.fromisoformat(value)
    return value
