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
        return {str(key): plain(inner) for key, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(inner) for inner in value]
    return value


def found_values(result: CaseResult) -> dict[str, Any]:
    """What came out; findings of the expected rules only, so that the difference is seen at a glance."""
    came_out = dict(result.found)
    findings = came_out.pop("findings", None)
    values: dict[str, Any] = plain(came_out)
    if isinstance(findings, tuple):
        expected = result.expected.get("findings", [])
        rules = (
            {former.RULES.get(str(wanted.get("rule")), wanted.get("rule")) for wanted in expected}
            if isinstance(expected, list)
            else set()
        )
        values["findings"] = [_finding(finding) for finding in findings if not rules or finding.rule in rules]
    return values


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "rule": finding.rule, "subject": finding.subject, "outcome": finding.outcome.value,
        "good_until": None if finding.good_until is None else finding.good_until.isoformat(),
        "says": say_finding(finding),
    }  # fmt: skip
