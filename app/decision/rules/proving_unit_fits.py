"""The proving unit fits: it gives the circuit's kind of current, above the threshold of every instrument in the kit.

Behind an inverter both kinds are asked. Cannot tell when neither output is stated, or a detector's threshold is not.
Source: GS38 (known source where none is at hand).

>>> asked(RULE, proving_unit(output_dc_v=690), detector(threshold_dc_v=12))
met fits: 690 V, required 12 V
>>> asked(RULE, proving_unit(output_dc_v=12), detector(threshold_dc_v=12))
not-met below-threshold: 12 V, required 12 V
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Basis, Demand, Finding, Renewal
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.rule import PieceRule
from app.decision.domain.voltage import currents


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per kind of current and instrument."""
    del rule_set
    demand = RULE.demand(piece.code, Basis("GS38, known source; house policy", "S", "house"))
    asked = sorted({current for circuit in facts.job.circuits for current in currents(circuit.supply)})
    instruments = [piece for piece in facts.pieces if facts.kind(piece).is_instrument]
    findings: list[Finding] = []
    for current in asked:
        output = piece.output_dc_mv if current == "dc" else piece.output_ac_mv
        if output is None:
            nothing_known = piece.output_dc_mv is None and piece.output_ac_mv is None
            key = "proving-unit-fits.output-unknown" if nothing_known else "proving-unit-fits.other-current"
            findings.append((demand.cannot_tell if nothing_known else demand.not_met)(key, current=current))
            continue
        findings += [_one(facts, output, current, instrument, demand) for instrument in instruments]
    return findings or [demand.met("proving-unit-fits.fits")]


def _one(facts: Facts, output: int, current: str, instrument: Piece, demand: Demand) -> Finding:
    threshold = instrument.threshold_dc_mv if current == "dc" else instrument.threshold_ac_mv
    values: dict[str, object] = {
        "current": current,
        "instrument": instrument.code,
        "measured": output / 1000,
        "unit": "V",
    }
    if threshold is None:
        if facts.kind(instrument).has_self_test and not facts.rest_in_order:
            return demand.cannot_tell("proving-unit-fits.threshold-unknown", **values)
        return demand.met("proving-unit-fits.fits", **values)
    values["required"] = threshold / 1000
    if output <= threshold:
        return demand.not_met("proving-unit-fits.below-threshold", **values)
    return demand.met("proving-unit-fits.fits", **values)


RULE = PieceRule("proving-unit-fits", Renewal.EACH_ISSUE, "GS38; house policy", check)
