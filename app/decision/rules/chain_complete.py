"""The chain is complete: every instrument has its leads, every loose part belongs to one instrument.

An instrument without fixed leads needs test leads in the kit. With two such instruments, or none, nobody can tell
which leads belong where until it is said. Source: house policy.

>>> asked(RULE, plain("M1", "multimeter"), plain("W1", "test-leads"))
met complete
>>> asked(RULE, plain("M1", "multimeter"))
not-met no-leads
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts, chain_name
from app.decision.domain.finding import Cause, Finding, Remedy, Renewal
from app.decision.domain.piece import Piece
from app.decision.domain.rule import KitRule


def check(facts: Facts) -> Iterable[Finding]:
    """One finding per chain, and one where loose parts belong nowhere."""
    chains = facts.chains()
    findings: list[Finding] = []
    if chains.unassigned:
        codes = ", ".join(sorted(piece.code for piece in chains.unassigned))
        findings.append(RULE.demand(chains.unassigned[0].code).cannot_tell(chains.why, parts=codes))
    findings += [_one(facts, chain, is_open=chains.is_open(chain)) for chain in chains.chains]
    return findings


def _one(facts: Facts, chain: tuple[Piece, ...], *, is_open: bool) -> Finding:
    demand = RULE.demand(chain_name(chain))
    instrument = chain[0]
    if is_open:
        return demand.cannot_tell("chain.say-which", parts=instrument.code)
    if instrument.fixed_leads is True or any(piece.kind == "test-leads" for piece in chain):
        return demand.met("chain-complete.complete")
    if instrument.fixed_leads is None and facts.kind(instrument).has_self_test:
        return demand.cannot_tell("chain-complete.leads-unknown")
    return demand.not_met("chain-complete.no-leads", cause=Cause.MISSING, remedy=Remedy.ADD_PIECE)


RULE = KitRule("chain-complete", Renewal.EACH_ISSUE, "house policy", check)
