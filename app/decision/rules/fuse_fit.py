"""The fuse fits: volts at or above what the circuit asks, fit for DC on a DC circuit, neither glass nor blown.

A piece with no fuse stated has none to judge. Cannot tell when the fuse's volts, kind, or fitness for DC are not known.
Source: makers' sheets: replace only with the same breaking capacity; a DC rating on DC is from memory.

>>> asked(RULE, detector(fuse={"kind": "hbc", "v": 1000, "ac_only": False}))
met fits: 1000 V, required 914.76 V
>>> asked(RULE, detector(fuse={"kind": "hbc", "v": 600, "ac_only": False}))
not-met short: 600 V, required 914.76 V
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.chain import Fuse
from app.decision.domain.facts import Facts
from app.decision.domain.finding import Basis, Demand, Finding, Renewal
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.rule import PieceRule
from app.decision.domain.voltage import Circuit

_FUSE = Basis("fuse of the instrument or lead; house policy", "H", "house")
_BAD = ("glass", "blown")
_GOOD = ("hbc", "hrc")


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece with a fuse and circuit."""
    del rule_set
    demand = RULE.demand(piece.code, _FUSE)
    fuse = piece.fuse
    if fuse is None or fuse.kind == "none":
        return [demand.met("fuse-fit.none")]
    if fuse.kind in _BAD:
        return [demand.not_met("fuse-fit.kind", kind=fuse.kind)]
    if fuse.kind not in _GOOD:
        return [demand.cannot_tell("fuse-fit.kind-unknown", kind=fuse.kind or "")]
    return [_one(facts, fuse, circuit, demand) for circuit in facts.job.circuits] or [demand.met("fuse-fit.fits")]


def _one(facts: Facts, fuse: Fuse, circuit: Circuit, demand: Demand) -> Finding:
    stresses = facts.stresses(circuit)
    if not stresses:
        return demand.voltage_unknown(circuit.key)
    has_dc = any(stress.current == "dc" for stress in stresses)
    if has_dc and fuse.is_ac_only:
        return demand.not_met("fuse-fit.ac-only", circuit=circuit.key)
    needed = max(stresses, key=lambda stress: stress.x10k)
    values: dict[str, object] = {"circuit": circuit.key, "required": needed.volts, "unit": "V"}
    if fuse.mv is None or (has_dc and fuse.is_ac_only is None):
        return demand.cannot_tell("fuse-fit.not-stated", **values)
    values["measured"] = fuse.mv / 1000
    if not needed.is_stood_by(fuse.mv):
        return demand.not_met("fuse-fit.short", shortfall_v=needed.volts - fuse.mv / 1000, **values)
    return demand.met("fuse-fit.fits", **values)


RULE = PieceRule("fuse-fit", Renewal.EACH_ISSUE, "makers' sheets; house policy", check)
