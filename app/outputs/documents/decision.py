"""The decision on a kit: what stops it, what to change, cautions, what was met; and the same as plain values."""

from __future__ import annotations

from collections import Counter
from datetime import date
from typing import Any

from msgspec import Struct

from app.decision.domain.document import Document, Section
from app.decision.domain.finding import HOUSE, Finding
from app.decision.domain.voltage import Circuit, voltage_class
from app.decision.judging.answers import KitAnswer, OpenIssue
from app.decision.judging.change import MOST_CHANGES, Change
from app.words.saying import listed, say, say_finding
from app.words.vocabulary import CHECKS_OF_A_DAY, CONFIDENCE

CAUTIONS = ("caution.check", "caution.defer")


class Said(Struct, frozen=True):
    """A decision in sentences, in the order people need them; `changes` are steps, `validity` is "" for a refusal."""

    title: str
    question: str
    stops: tuple[str, ...]
    changes: tuple[str, ...]
    open_issues: tuple[str, ...]
    validity: str
    required: tuple[str, ...]
    cautions: tuple[str, ...]
    met: tuple[str, ...]


def said(answer: KitAnswer) -> Said:
    """The decision in sentences, what was met spelt out."""
    verdict = answer.verdict
    sets = listed(one.title for one in answer.facts.rule_sets)
    return Said(
        say(f"decision.{verdict.decision}", {"set": sets, "on": answer.question.on.isoformat()}),
        _question_line(answer),
        tuple(_stop_line(answer, one) for one in verdict.stops),
        tuple(dict.fromkeys(say_change(one) for one in answer.changes)),
        tuple(say_open_issue(one) for one in answer.open_issues),
        _validity(answer) if verdict.may_be_issued else "",
        tuple(_required_line(answer, one) for one in _circuits(answer)),
        tuple(dict.fromkeys(say_finding(one) for one in verdict.cautions)),
        _met(answer, unfolded=True),
    )


def build(answer: KitAnswer, *, unfolded: bool = False) -> Document:
    """The decision as people read it, in the order they need it; `unfolded` spells out what was met."""
    found = said(answer)
    sections = [Section(say("decision.required-heading", {}), found.required)]
    if found.stops:
        sections.insert(0, Section(say("decision.stops", {}), found.stops))
        if found.changes:
            sections.insert(1, Section(say("decision.changes", {}), found.changes, is_ordered=len(found.changes) > 1))
    if found.open_issues:
        # People are at work on figures that are wrong: before anything else of the kit that lies here.
        sections.insert(1, Section(say("decision.open-issues", {}), found.open_issues))
    if found.validity:
        sections.append(Section(say("decision.validity", {}), (found.validity,)))
    if found.cautions:
        sections.append(Section(say("decision.cautions", {}), found.cautions))
    sections.append(Section(say("decision.met", {}), _met(answer, unfolded=unfolded)))
    return Document(found.title, found.question, tuple(sections), tuple(say(key, {}) for key in CAUTIONS))


def _met(answer: KitAnswer, *, unfolded: bool) -> tuple[str, ...]:
    met = answer.verdict.met
    if unfolded:
        return tuple(dict.fromkeys(say_finding(one) for one in met))
    counts = Counter(one.subject for one in met)
    subjects = listed(f"{subject} {count}" for subject, count in counts.items())
    return (say("decision.met-folded", {"count": len(met), "subjects": subjects}),)


def _circuits(answer: KitAnswer) -> tuple[Circuit, ...]:
    return answer.facts.job.circuits


def _question_line(answer: KitAnswer) -> str:
    question = answer.question
    second = "" if question.second is None else say("decision.with-second", {"second": question.second})
    key = "decision.question-one-day" if question.on == question.until else "decision.question"
    return say(
        key,
        {
            "person": question.person, "second": second, "task": question.task, "system": answer.system.name,
            "circuits": listed(one.key for one in _circuits(answer)), "on": question.on.isoformat(),
            "until": question.until.isoformat(),
        },
    )  # fmt: skip


def _required_line(answer: KitAnswer, circuit: Circuit) -> str:
    needed = answer.facts.required(circuit)
    values: dict[str, object] = {"circuit": circuit.key, "supply": circuit.supply}
    if needed is None:
        return say("decision.required-unknown", values)
    category = circuit.measuring_category
    at = "" if category is None else say("decision.at-category", {"category": category})
    values |= {
        "working_v": needed.mv / 1000, "origin": needed.origin, "margin": needed.margin_bp / 100,
        "required_v": needed.volts, "category": at,
    }  # fmt: skip
    return say("decision.required", values)


def _stop_line(answer: KitAnswer, stop: Finding) -> str:
    says = say_finding(stop)
    if stop.outcome.value == "met":
        says = say("decision.does-not-reach", {"says": says, "until": answer.question.until.isoformat()})
    clause, letter = stop.basis.clause, stop.basis.confidence
    if letter == "H":
        return say("decision.proof-house", {"says": says, "clause": clause or HOUSE})
    return say("decision.proof", {"says": says, "clause": clause, "letter": CONFIDENCE[letter]})


def _validity(answer: KitAnswer) -> str:
    verdict = answer.verdict
    daily = listed(sorted({CHECKS_OF_A_DAY[rule] for rule, _ in verdict.renew_daily}))
    key = "decision.use-until" if daily else "decision.use-until-only"
    first = next((one.subject for one in verdict.findings if one.good_until == verdict.use_until), "")
    return say(key, {"use_until": verdict.use_until, "daily": daily, "first": first})


def say_change(change: Change) -> str:
    """One change as a sentence."""
    about = "" if change.about is None else say_finding(change.about)
    return say(
        change.key,
        {
            "piece": change.subject,
            "other": change.other,
            "kind": change.kind,
            "says": about,
            "most": MOST_CHANGES,
            "limit": "" if change.about is None else change.about.values.get("limit", ""),
        },
    )


def say_open_issue(issue: OpenIssue) -> str:
    """What is out, with whom and how long, and what to do about it."""
    return say(
        "decision.open-issue",
        {"entry": str(issue.entry), "person": issue.person, "until": issue.until, "pieces": listed(issue.pieces)},
    )


def as_values(answer: KitAnswer) -> dict[str, Any]:
    """The decision as plain values: numbers in volts, days as ISO text, each finding with its sentence.

    `open_issues` stands there only where something is out on figures that a reading contradicts.
    """
    verdict, question = answer.verdict, answer.question
    values: dict[str, Any] = {
        "decision": verdict.decision,
        "rule_sets": [one.key for one in answer.facts.rule_sets],
        "on": question.on.isoformat(),
        "until": question.until.isoformat(),
        "required": [_required_values(answer, circuit) for circuit in _circuits(answer)],
        "findings": [_finding_values(one) for one in verdict.findings],
        "cautions": [_finding_values(one) for one in verdict.cautions],
        "renew_daily": [{"rule": rule, "subject": subject} for rule, subject in verdict.renew_daily],
        "use_until": _iso(verdict.use_until),
        "changes": [
            {"change": one.change, "subject": one.subject, "other": one.other, "says": say_change(one)}
            for one in answer.changes
        ],
    }
    if answer.open_issues:
        values["open_issues"] = [
            {
                "entry": str(one.entry), "person": one.person, "until": one.until.isoformat(),
                "pieces": list(one.pieces),
            }
            for one in answer.open_issues
        ]  # fmt: skip
    return values


def _required_values(answer: KitAnswer, circuit: Circuit) -> dict[str, Any]:
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


def _finding_values(finding: Finding) -> dict[str, Any]:
    return {
        "rule": finding.rule,
        "subject": finding.subject,
        "outcome": finding.outcome.value,
        "measured": _plain(finding.measured),
        "required": _plain(finding.required),
        "unit": finding.unit,
        "clause": finding.basis.clause,
        "confidence": finding.basis.confidence,
        "rule_set": finding.basis.rule_set,
        "key": finding.key,
        "cause": finding.cause.value,
        "remedy": finding.remedy.value,
        "says": say_finding(finding),
        "good_until": _iso(finding.good_until),
    }


def _plain(figure: object) -> object:
    return figure.isoformat() if isinstance(figure, date) else figure


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
