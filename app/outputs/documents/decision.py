"""The decision on a kit: what stops it, what to change, cautions, what was met; and the same as plain values."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from app.decision.domain.finding import Finding, Outcome
from app.decision.domain.voltage import Circuit
from app.decision.judging.answers import KitAnswer, OpenIssue
from app.decision.judging.change import MOST_CHANGES, Change
from app.outputs.document import Document, Section
from app.outputs.paper.toml_text import render
from app.register.proof import Proof, answer_of, as_worked_case, change_of, finding_of
from app.words.saying import listed, say, say_finding
from app.words.vocabulary import CHECKS_OF_A_DAY

# The finding that gathers what was seen only at second hand: told in one line with what was met.
_SOURCES = "figures"
# Where the name of a text ends and what is said about it begins.
_FIRST = re.compile(r"; | \(in ")


class Said(Struct, frozen=True):
    """A decision in sentences, in the order people need them.

    `validity` says for which days, and what is repeated daily; () for a refusal. `sources`: every clause behind it with
    how it was seen.
    """

    title: str
    question: str
    stops: tuple[str, ...]
    changes: tuple[str, ...]
    open_issues: tuple[str, ...]
    validity: tuple[str, ...]
    required: tuple[str, ...]
    cautions: tuple[str, ...]
    met: tuple[str, ...]
    sources: tuple[str, ...]


def said(answer: KitAnswer) -> Said:
    """The decision in sentences, everything spelt out."""
    verdict = answer.verdict
    sets = listed(rule_set.title for rule_set in answer.facts.rule_sets)
    return Said(
        say(f"decision.{verdict.decision}", {"set": sets, "on": answer.question.on}),
        _question_line(answer),
        tuple(_stop_line(answer, stop) for stop in verdict.stops),
        tuple(dict.fromkeys(say_change(change) for change in answer.changes)),
        tuple(say_open_issue(issue) for issue in answer.open_issues),
        _validity(answer) if verdict.may_be_issued else (),
        tuple(_required_line(answer, circuit) for circuit in _circuits(answer)),
        tuple(dict.fromkeys(say_finding(caution) for caution in verdict.cautions if caution.rule != _SOURCES)),
        tuple(dict.fromkeys(say_finding(finding) for finding in verdict.met)),
        _sources(answer),
    )


def build(answer: KitAnswer, *, with_met: bool = False, with_sources: bool = False) -> Document:
    """The decision as people read it, on one screen: what was met and the sources in a line each, or spelt out."""
    told = said(answer)
    sections = [Section("", (*told.required, *told.validity), is_plain=True)]
    if told.stops:
        sections.insert(0, Section(say("decision.stops", {}), told.stops))
        if told.changes:
            sections.insert(1, Section(say("decision.changes", {}), told.changes, is_ordered=len(told.changes) > 1))
    if told.open_issues:
        # People are at work on figures that are wrong: before anything else of the kit that lies here.
        sections.insert(1, Section(say("decision.open-issues", {}), told.open_issues))
    if told.cautions:
        sections.append(Section(say("decision.cautions", {}), told.cautions))
    if with_met:
        sections.append(Section(say("decision.met", {}), told.met))
    if with_sources:
        sections.append(Section(say("decision.sources", {}), told.sources))
    if not (with_met and with_sources):
        second_hand = next(
            (caution.values["count"] for caution in answer.verdict.cautions if caution.rule == _SOURCES), 0
        )
        folded = say(
            "decision.folded",
            {"count": len(answer.verdict.met), "sources": len(told.sources), "second_hand": second_hand},
        )
        sections.append(Section("", (folded,), is_plain=True))
    return Document(told.title, told.question, tuple(sections), (say("caution.short", {}),))


def _sources(answer: KitAnswer) -> tuple[str, ...]:
    """Each clause this decision rests on, once, with how it was seen."""
    findings = (*answer.verdict.findings, *answer.verdict.cautions)
    seen = {
        (finding.basis.clause, finding.basis.confidence) for finding in findings if finding.basis.confidence != "H"
    }  # fmt: skip
    return tuple(
        say("decision.source", {"clause": clause, "letter": letter}) for clause, letter in sorted(seen) if clause
    )  # fmt: skip


def _circuits(answer: KitAnswer) -> tuple[Circuit, ...]:
    return answer.facts.job.circuits


def _question_line(answer: KitAnswer) -> str:
    question = answer.question
    keys = {
        (True, True): "decision.question-one-day", (True, False): "decision.question",
        (False, True): "decision.question-two-one-day", (False, False): "decision.question-two",
    }  # fmt: skip
    return say(
        keys[question.second is None, question.on == question.until],
        {
            "person": question.person, "second": question.second, "task": question.task, "system": answer.system.name,
            "circuits": listed(circuit.key for circuit in _circuits(answer)), "on": question.on,
            "until": question.until,
        },
    )  # fmt: skip


def _required_line(answer: KitAnswer, circuit: Circuit) -> str:
    needed = answer.facts.required(circuit)
    values: dict[str, object] = {"circuit": circuit.key, "supply": circuit.supply}
    if needed is None:
        return say("decision.required-unknown", values)
    category = circuit.measuring_category
    values |= {
        "working_v": needed.mv / 1000, "origin": needed.origin, "margin": needed.margin_bp / 100,
        "required_v": needed.volts, "category": category,
    }  # fmt: skip
    return say("decision.required" if category is None else "decision.required-at", values)


def _stop_line(answer: KitAnswer, stop: Finding) -> str:
    """The reason with the text it rests on in short; whole texts stand with the sources."""
    says = say_finding(stop)
    if stop.outcome is Outcome.MET:
        says = say("decision.does-not-reach", {"says": says, "until": answer.question.until})
    is_house = stop.basis.confidence == "H" or not stop.basis.clause
    clause = say("rules.offer-house", {}) if is_house else _FIRST.split(stop.basis.clause)[0]
    return say("decision.proof", {"says": says, "clause": clause})


def _validity(answer: KitAnswer) -> tuple[str, ...]:
    verdict, question = answer.verdict, answer.question
    first = next((finding.subject for finding in verdict.findings if finding.good_until == verdict.use_until), "")
    values = {"on": question.on, "until": question.until, "use_until": verdict.use_until, "first": first}
    days = "decision.for-day" if question.on == question.until else "decision.for-days"
    daily = listed(sorted({CHECKS_OF_A_DAY[rule] for rule, _ in verdict.renew_daily}))
    return (
        say(f"{days}-only" if verdict.use_until is None else days, values),
        *([say("decision.daily", {"daily": daily})] if daily else []),
    )


def say_change(change: Change) -> str:
    """One change as a sentence, with the finding it answers."""
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
    """The decision as plain values: numbers in volts, days as ISO text, each finding with its sentence."""
    return kept_values(answer_of(answer))


def kept_values(answer: Mapping[str, Any]) -> dict[str, Any]:
    """A decision as it was kept, each finding and change with its sentence."""
    return {
        **answer,
        "findings": [_with_sentence(finding) for finding in answer["findings"]],
        "cautions": [_with_sentence(finding) for finding in answer["cautions"]],
        "changes": [_change_values(change) for change in answer["changes"]],
    }


def case_text(proof: Proof, name: str) -> str:
    """The decision as a worked case, TOML."""
    return render({"case": [as_worked_case(proof, name)]})


def _with_sentence(finding: Mapping[str, Any]) -> dict[str, Any]:
    # What an older program kept has its sentence, and no values to make another of.
    if "values" not in finding:
        return dict(finding)
    says = say_finding(finding_of(finding))
    return {("says" if key == "values" else key): says if key == "values" else part for key, part in finding.items()}


def _change_values(change: Mapping[str, Any]) -> dict[str, Any]:
    says = change["says"] if "says" in change else say_change(change_of(change))
    return {"change": change["change"], "subject": change["subject"], "other": change.get("other", ""), "says": says}
