"""The chain stands the voltage: at the circuit's category, the weakest of meter, leads, tips and caps reaches it.

A member offers the largest volts among its marks at or above the category; volts are never carried to another
category. Cannot tell when a mark is illegible, the caps unknown where they matter, the category or voltage unknown, or
which of several loose leads belong to the instrument.
Isolated DC counts pole to pole. Source: makers' education sheets (chain rule), house policy for CAT III on isolated DC.

>>> asked(RULE, detector(marks=[["III", 1000]]))
met reaches: 1000 V, required 914.76 V
>>> asked(RULE, detector(marks=[["III", 600], ["II", 1000]]))
not-met short: 600 V, required 914.76 V
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts, chain_name
from app.decision.domain.finding import Basis, Finding, Outcome, Remedy, Renewal
from app.decision.domain.member import member
from app.decision.domain.piece import Piece
from app.decision.domain.rule import KitRule
from app.decision.domain.voltage import X10K, Circuit

_CHAIN = Basis("chain rule of IEC 61010 marks; house policy", "S", "house")


def check(facts: Facts) -> Iterable[Finding]:
    """One finding per chain and circuit; of a chain whose leads nobody can name, no more than that it falls short."""
    chains = facts.chains()
    findings = [(chain, _one(facts, chain, circuit)) for chain in chains.chains for circuit in facts.job.circuits]
    return [_unless_open(finding, chain[0]) if chains.is_open(chain) else finding for chain, finding in findings]


def _unless_open(finding: Finding, instrument: Piece) -> Finding:
    if finding.outcome is not Outcome.MET:
        return finding
    return RULE.demand(finding.subject, _CHAIN).cannot_tell("chain.say-which", parts=instrument.code)


def _one(facts: Facts, chain: tuple[Piece, ...], circuit: Circuit) -> Finding:
    demand = RULE.demand(chain_name(chain), _CHAIN)
    stresses = facts.stresses(circuit)
    category = circuit.measuring_category
    if not stresses:
        return demand.voltage_unknown(circuit.key)
    if category is None:
        return demand.cannot_tell("chain-stands-voltage.category-unknown", remedy=Remedy.JOB, circuit=circuit.key)
    needed = max(stresses, key=lambda stress: stress.x10k)
    needed_mv = -(-needed.x10k // X10K)
    offers = {piece.code: member(facts, piece).offer(category, needed_mv) for piece in chain}
    values: dict[str, object] = {
        "circuit": circuit.key, "category": category, "required": needed.volts, "unit": "V",
        "offers": tuple(offers.items()),
    }  # fmt: skip
    known = {code: mv for code, mv in offers.items() if mv is not None}
    short = [code for code, mv in known.items() if not needed.is_stood_by(mv)]
    if short:
        weakest = min(short, key=lambda code: known[code])
        volts = known[weakest] / 1000
        key = "chain-stands-voltage.short" if volts else "chain-stands-voltage.nothing"
        return demand.not_met(key, member=weakest, measured=volts, shortfall_v=needed.volts - volts, **values)
    unknown = [code for code, mv in offers.items() if mv is None]
    if unknown:
        return demand.cannot_tell("chain-stands-voltage.mark-unknown", member=unknown[0], **values)
    weakest = min(known, key=lambda code: known[code])
    return demand.met("chain-stands-voltage.reaches", member=weakest, measured=known[weakest] / 1000, **values)


RULE = KitRule("chain-stands-voltage", Renewal.EACH_ISSUE, "chain rule of IEC 61010 marks; house policy", check)
