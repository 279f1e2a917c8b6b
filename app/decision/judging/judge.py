"""Run what the rule sets and house policy switch on, and fold the findings into a verdict."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import TypeVar

from app.decision.domain.facts import Facts
from app.decision.domain.finding import HOUSE, HOUSE_BASIS, Basis, Demand, Finding, Remedy
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.rule import CircuitRule, KitRule, PieceRule, Rule
from app.decision.domain.verdict import Verdict, fold
from app.decision.judging.catalogues import Catalogues, catalogues
from app.decision.judging.looser import EXEMPTION, looser_rules

R = TypeVar("R", bound=Rule)


def judge(facts: Facts) -> Verdict:
    """Decide whether this kit may be issued for this job: each set judges, all must allow."""
    known = catalogues()
    asked = tuple(_all(facts, known))
    findings = (*asked, *_notices(facts), *_site_cautions(facts), *_figures_caution(asked))
    covered = {piece.kind for piece in facts.pieces} <= set(facts.house.covers)
    renewals = {rule.key: rule.renewal for rule in known.rules.values()}
    return fold(findings, facts.on, facts.until, renewals, judged=covered and bool(facts.pieces))


def _notices(facts: Facts) -> Iterator[Finding]:
    """What a chosen set says of itself, on every decision it takes part in."""
    for rule_set in facts.rule_sets:
        for key in rule_set.notices:
            yield Demand("rule-set", rule_set.key, HOUSE_BASIS).caution(key, set=rule_set.title)


def _site_cautions(facts: Facts) -> Iterator[Finding]:
    """A looser site rule is shown on every decision, with who approved it and why, or that it was not applied."""
    for key in looser_rules(facts.site, facts.house):
        demand = Demand("site-rules", key, HOUSE_BASIS)
        approval = facts.site.dielectric_exempt_00_0 if key == EXEMPTION else facts.site.approver(key)
        if approval is None:
            yield demand.caution("site-rule.not-applied")
        else:
            yield demand.caution("site-rule.applied", approved_by=approval.approved_by, reason=approval.reason)


def _figures_caution(findings: tuple[Finding, ...]) -> Iterator[Finding]:
    """One folded caution for every figure seen only in secondary texts or handouts."""
    seen = {
        finding.basis.clause for finding in findings if finding.basis.confidence in ("S", "T") and finding.basis.clause
    }
    clauses = sorted({clause.replace(f"; {HOUSE}", "") for clause in seen})
    if clauses:
        demand = Demand("figures", "kit", HOUSE_BASIS)
        yield demand.caution("figures-not-primary", count=len(clauses), clauses=" | ".join(clauses))


def _all(facts: Facts, known: Catalogues) -> Iterator[Finding]:
    for circuit in facts.job.circuits:
        for rule in _of(known, facts.house.circuit, CircuitRule):
            yield from rule.check(facts, circuit)
    if not facts.job.circuits:
        yield Demand("working-voltage-known", "kit", Basis("house policy", "H")).cannot_tell(
            "no-circuit", remedy=Remedy.JOB
        )
    for kit_rule in _of(known, facts.house.kit, KitRule):
        yield from kit_rule.check(facts)
    for piece in facts.pieces:
        yield from piece_findings(facts, piece, known)


def piece_findings(facts: Facts, piece: Piece, known: Catalogues) -> Iterator[Finding]:
    """Everything asked of one piece by house policy and by each set."""
    for rule in _of(known, facts.house.covers.get(piece.kind, ()), PieceRule):
        yield from rule.check(facts, piece, facts.rule_sets[0])
    for rule_set in facts.rule_sets:
        if facts.kind(piece).is_classed and piece.kind not in rule_set.covers:
            yield Demand("class-known", piece.code, Basis("", "H", rule_set.key)).cannot_tell(
                "class-known.kind-not-covered", set=rule_set.title
            )
        for rule in _of(known, rule_set.covers.get(piece.kind, ()), PieceRule):
            yield from rule.check(facts, piece, rule_set)


def _of(known: Catalogues, names: Iterable[str], shape: type[R]) -> list[R]:
    """The named rules of one shape; the catalogues were held against each other at start-up."""
    rules = (known.rules[name] for name in names)
    return [rule for rule in rules if isinstance(rule, shape)]


def ask(facts: Facts, names: Collection[str]) -> tuple[Finding, ...]:
    """Ask only the named rules (worked cases of level finding).

    A rule that makes no demand of a piece's kind answers met without a last good day.
    """
    known = catalogues()
    findings: list[Finding] = []
    for name in sorted(names):
        rule = known.rules[name]
        if isinstance(rule, CircuitRule):
            findings += [finding for circuit in facts.job.circuits for finding in rule.check(facts, circuit)]
        elif isinstance(rule, KitRule):
            findings += rule.check(facts)
        elif isinstance(rule, PieceRule):
            findings += [finding for piece in facts.pieces for finding in _ask_piece(facts, piece, rule)]
    return tuple(findings)


def _ask_piece(facts: Facts, piece: Piece, rule: PieceRule) -> Iterable[Finding]:
    asking: list[RuleSet] = [
        rule_set for rule_set in facts.rule_sets if rule.key in rule_set.covers.get(piece.kind, ())
    ]
    if rule.key in facts.house.covers.get(piece.kind, ()):
        asking.append(facts.rule_sets[0])
    if not asking:
        return [rule.demand(piece.code).met("no-demand")]
    return [finding for rule_set in asking for finding in rule.check(facts, piece, rule_set)]
