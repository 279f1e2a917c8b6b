"""The measurement chain: which members belong together, what they offer, what may be put across the terminals."""

from __future__ import annotations

from typing import Any, NamedTuple

from .checks import valid_today
from .days import strikes
from .sets import INSTRUMENTS, LOOSE_MEMBERS
from .world import (
    CANNOT_TELL,
    MET,
    NOT_MET,
    Circuit,
    Finding,
    Piece,
    World,
    holds,
    offered_mv,
    stands,
    stands_between,
    worst,
)

RANK = {"II": 2, "III": 3, "IV": 4}


class Chain(NamedTuple):
    """An instrument with the members that belong to it; `doubtful` where a loose member may belong here too."""

    instrument: Piece
    members: list[Piece]
    doubtful: bool


def _said(world: World) -> dict[str, set[str]]:
    """Instruments each loose member was said to belong to."""
    said: dict[str, set[str]] = {}
    for pair in world.job.get("with") or []:
        instrument, member = str(pair[0]), str(pair[1])
        said.setdefault(member, set()).add(instrument)
    return said


def chains_of(world: World) -> tuple[list[Chain], list[Piece]]:
    """Every chain, and the loose members nobody can place; sorted out once for a world."""
    if world.chains is None:
        world.chains = _sorted_out(world)
    chains: tuple[list[Chain], list[Piece]] = world.chains
    return chains


def _sorted_out(world: World) -> tuple[list[Chain], list[Piece]]:
    instruments = world.kind(*INSTRUMENTS)
    without_leads = [i for i in instruments if i.d.get("fixed_leads") is not True]
    said = _said(world)
    members: dict[str, list[Piece]] = {i.code: [i] for i in instruments}
    stray = []
    for member in world.kind(*LOOSE_MEMBERS):
        wanted = said.get(member.code) or {i.code for i in without_leads}
        here = wanted & members.keys()
        if len(wanted) == 1 and here:
            members[here.pop()].append(member)
        else:
            stray.append(member)
    unplaced = {i for m in stray for i in said.get(m.code, ())}
    doubt_everywhere = any(m.code not in said for m in stray)
    chains = []
    for i in instruments:
        loose = i.d.get("fixed_leads") is not True
        doubtful = i.code in unplaced or (loose and doubt_everywhere)
        chains.append(Chain(i, members[i.code], doubtful))
    return chains, stray


def chain_complete(world: World) -> list[Finding]:
    """Each instrument has leads, fixed or loose, and each loose member has one instrument."""
    rule = "chain-complete"
    chains, stray = chains_of(world)
    found = [Finding(rule, m.code, CANNOT_TELL) for m in stray]
    for chain in chains:
        fixed = chain.instrument.d.get("fixed_leads")
        has_leads = fixed is True or any(m.kind == "test-leads" for m in chain.members)
        outcome = CANNOT_TELL if chain.doubtful else MET if has_leads else NOT_MET if fixed is False else CANNOT_TELL
        found.append(Finding(rule, chain.instrument.code, outcome))
    return found


def _pairs(marks: object) -> list[tuple[str, int]] | None:
    """A mark as (category, mV) pairs; None where there is none or it cannot be read."""
    if not isinstance(marks, list) or not marks:
        return None
    found = []
    for pair in marks:
        volts = offered_mv(pair[1]) if isinstance(pair, (list, tuple)) and len(pair) == 2 else None
        if volts is None:
            return None
        found.append((str(pair[0]), volts))
    return found


def _offers(marks: object, category: str | None) -> int | None:
    """Largest mV among the pairs of the category or above, 0 where none; None where mark or category is unknown."""
    pairs = _pairs(marks)
    if pairs is None or category is None:
        return None
    return max((mv for c, mv in pairs if RANK.get(c, 0) >= RANK[category]), default=0)


def _caps_today(world: World, member: Piece) -> str | None:
    """What today's look-over says of the caps; the least favourable of those that nothing later overtakes."""
    looks = [r for r in member.of("inspection") if valid_today(world, member, r) and r.d.get("caps")]
    missing = [r for r in looks if r.d["caps"] != "present"]
    sound = [r for r in looks if r.d["caps"] == "present" and not r.d.get("defects")]
    present = [r for r in sound if not any(strikes(m, r) for m in missing)]
    return "present" if present else str(missing[-1].d["caps"]) if missing else None


def _caps(world: World, member: Piece) -> str:
    """present, missing, unknown, or none where the member has no caps to ask after."""
    stated, seen = member.d.get("caps"), _caps_today(world, member)
    if member.kind != "test-leads" and stated is None and "marks_cap_off" not in member.d:
        return "none"
    if "missing" in (stated, seen):
        return "missing"
    if world.as_finding:
        return str(seen or stated or "present")
    return "present" if seen == "present" and stated in {None, "present", "unknown"} else "unknown"


def _member_stands(world: World, member: Piece, circuit: Circuit) -> str:
    if _pairs(member.d.get("marks")) is None:
        return CANNOT_TELL
    with_cap = _marks_stand(world, circuit, member.d["marks"])
    caps = _caps(world, member)
    if caps in {"none", "present"}:
        return with_cap
    without_cap = _marks_stand(world, circuit, member.d.get("marks_cap_off"))
    if caps == "missing" or without_cap == MET:
        return without_cap
    return CANNOT_TELL if with_cap == MET else worst((with_cap, without_cap))


def _marks_stand(world: World, circuit: Circuit, marks: Any) -> str:
    offered = _offers(marks, circuit.category)
    return CANNOT_TELL if offered is None else stands(world, circuit, offered, offered)


def chain_stands_voltage(world: World) -> list[Finding]:
    """Every chain's smallest offer at the circuit's category stands the required voltage."""
    chains, stray = chains_of(world)
    found = [] if chains else [Finding("chain-stands-voltage", m.code, CANNOT_TELL) for m in stray]
    for chain in chains:
        outcomes = [_member_stands(world, m, c) for m in chain.members for c in world.circuits]
        if chain.doubtful:
            outcomes.append(CANNOT_TELL)
        found.append(Finding("chain-stands-voltage", chain.instrument.code, worst(outcomes)))
    return found


def _input_stands(world: World, instrument: Piece, circuit: Circuit) -> str:
    del world
    ac_mv, dc_mv = offered_mv(instrument.d.get("max_input_ac_v")), offered_mv(instrument.d.get("max_input_dc_v"))
    marked = _offers(instrument.d.get("marks"), circuit.category)
    if circuit.supply == "isolated-dc" and dc_mv is None:
        dc_mv = marked
    if circuit.supply == "ac-single-phase" and ac_mv is None:
        ac_mv = marked
    return stands_between(circuit, ac_mv, dc_mv)


def _member_input_stands(member: Piece, circuit: Circuit) -> str:
    """A lead or clip is asked only where it states a maximum of the circuit's current."""
    outcomes = []
    ac_mv, dc_mv = offered_mv(member.d.get("max_input_ac_v")), offered_mv(member.d.get("max_input_dc_v"))
    if circuit.required is not None and circuit.current in {"dc", "inverter"} and dc_mv is not None:
        outcomes.append(holds(dc_mv, circuit.required))
    if circuit.required is not None and circuit.current == "ac" and ac_mv is not None:
        outcomes.append(holds(ac_mv, circuit.required))
    return worst(outcomes)


def input_stands_voltage(world: World) -> list[Finding]:
    """Maximum input between terminals stands the voltage between the points measured."""
    found = []
    for chain in chains_of(world)[0]:
        outcomes = [_input_stands(world, chain.instrument, c) for c in world.circuits]
        outcomes += [_member_input_stands(m, c) for m in chain.members[1:] for c in world.circuits]
        found.append(Finding("input-stands-voltage", chain.instrument.code, worst(outcomes)))
    return found


def _output_proves(world: World, unit: Piece, kind_of_current: str) -> str:
    output = offered_mv(unit.d.get(f"output_{kind_of_current}_v"))
    if output is None:
        other = "ac" if kind_of_current == "dc" else "dc"
        return CANNOT_TELL if unit.d.get(f"output_{other}_v") is None else NOT_MET
    outcomes = []
    for instrument in world.kind(*INSTRUMENTS):
        threshold = offered_mv(instrument.d.get(f"threshold_{kind_of_current}_v"))
        if threshold is not None:
            outcomes.append(MET if output > threshold else NOT_MET)
        elif instrument.kind == "two-pole-detector":
            outcomes.append(world.unknown)
    return worst(outcomes)


def proving_unit_fits(world: World) -> list[Finding]:
    """Proving units: the right kind of current for every circuit, above every instrument's threshold."""
    found = []
    for unit in world.kind("proving-unit"):
        outcomes = []
        for circuit in world.circuits:
            kinds = {"dc": ("dc",), "ac": ("ac",), "inverter": ("dc", "ac")}.get(circuit.current or "", ())
            outcomes += [_output_proves(world, unit, k) for k in kinds] or [CANNOT_TELL]
        found.append(Finding("proving-unit-fits", unit.code, worst(outcomes)))
    return found


def instrument_suits_task(world: World) -> list[Finding]:
    """For proving dead a detector, and a multimeter under iec or where the system's maker names one."""
    rule = "instrument-suits-task"
    proving_dead = world.task == "isolate-and-prove-dead"
    named = world.system.get("maker_names_multimeter") is True or (
        bool(world.circuits) and all(c.d.get("maker_names_multimeter") is True for c in world.circuits)
    )
    allowed = {"two-pole-detector": True, "multimeter": named or world.tip_profile == "iec"}
    found = []
    for instrument in world.kind(*INSTRUMENTS):
        refused = proving_dead and not allowed.get(instrument.kind, False)
        found.append(Finding(rule, instrument.code, NOT_MET if refused else MET))
    return found
