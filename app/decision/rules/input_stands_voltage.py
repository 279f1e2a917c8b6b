"""The instrument's terminals stand the voltage between the points measured: its maximum input reaches it.

Not stated: the marked volts stand for it on isolated DC and single phase; on earthed DC, three phases and inverter
outputs nobody can tell. Source: house policy; IEC 61010 rated input (terminal maxima are a limit of their own).

>>> asked(RULE, detector(max_input_dc_v=1000))
met reaches: 1000 V, required 914.76 V
>>> asked(RULE, detector(max_input_dc_v=600))
not-met short: 600 V, required 914.76 V
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.chain import offers
from app.decision.domain.facts import Facts, chain_name
from app.decision.domain.finding import Basis, Finding, Renewal
from app.decision.domain.piece import Piece
from app.decision.domain.rule import KitRule
from app.decision.domain.voltage import Circuit, Stress, stresses

_INPUT = Basis("IEC 61010 rated input; house policy", "S", "house")
_MARK_STANDS_FOR_IT = ("isolated-dc", "ac-single-phase")


def check(facts: Facts) -> Iterable[Finding]:
    """One finding per chain, circuit and kind of current."""
    findings: list[Finding] = []
    for chain in facts.chains().chains:
        for circuit in facts.job.circuits:
            needed = facts.required(circuit)
            if needed is None:
                demand = RULE.demand(chain_name(chain), _INPUT)
                findings.append(demand.voltage_unknown(circuit.key))
                continue
            # Between terminals it is always phase to phase, whatever was confirmed about phase to earth.
            between = Circuit(key=circuit.key, supply=circuit.supply)
            findings += [_one(chain, circuit, stress) for stress in stresses(between, needed)]
    return findings


def _one(chain: tuple[Piece, ...], circuit: Circuit, stress: Stress) -> Finding:
    demand = RULE.demand(chain_name(chain), _INPUT)
    instrument = chain[0]
    stated = instrument.max_input_dc_mv if stress.current == "dc" else instrument.max_input_ac_mv
    values: dict[str, object] = {
        "circuit": circuit.key, "current": stress.current, "required": stress.volts, "unit": "V",
    }  # fmt: skip
    category = circuit.measuring_category
    if stated is None and circuit.supply in _MARK_STANDS_FOR_IT and instrument.marks and category:
        stated = offers(instrument.marks, category)
    if stated is None:
        return demand.cannot_tell("input-stands-voltage.not-stated", **values)
    values["measured"] = stated / 1000
    if not stress.is_stood_by(stated):
        return demand.not_met("input-stands-voltage.short", shortfall_v=stress.volts - stated / 1000, **values)
    return demand.met("input-stands-voltage.reaches", **values)


RULE = KitRule("input-stands-voltage", Renewal.EACH_ISSUE, "IEC 61010 rated input; house policy", check)
