"""What a worked case expected and what was found, as plain values."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from app.decision.domain import former
from app.decision.domain.finding import Finding
from app.decision.judging.worked_cases import CaseResult
from app.words.saying import say_finding


def plain(value: object) -> Any:  # noqa: ANN401  # JSON values are whatever the case holds
    """Days as ISO text, tables and lists as they are."""
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {str(key): plain(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(one) for one in value]
    return value


def found_values(result: CaseResult) -> dict[str, Any]:
    """What came out; findings of the expected rules only, so that the difference is seen at a glance."""
    found = dict(result.found)
    findings = found.pop("findings", None)
    values: dict[str, Any] = plain(found)
    if isinstance(findings, tuple):
        expected = result.expected.get("findings", [])
        rules = (
            {former.RULES.get(str(one.get("rule")), one.get("rule")) for one in expected}
            if isinstance(expected, list)
            else set()
        )
        values["findings"] = [_finding(one) for one in findings if not rules or one.rule in rules]
    return values


def _finding(one: Finding) -> dict[str, Any]:
    return {
        "rule": one.rule, "subject": one.subject, "outcome": one.outcome.value,
        "good_until": None if one.good_until is None else one.good_until.isoformat(), "says": say_finding(one),
    }  # fmt: skip
