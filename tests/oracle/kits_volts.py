"""Ways of the voltage: each limit in turn is made the short plank, and the circuit is set around it.

The circuit's maximum carries the step (1 mV on stated maxima and cells, 1 V behind an inverter, 0.01 % on
the margin), everything but the plank has room.
"""

from __future__ import annotations

from random import Random
from typing import Any

from tests.oracle.kits_plan import Plan, single, volts
from tests.oracle.kits_tables import MAX_AC_V, MAX_DC_V
from tests.oracle.kits_ways import EDGE, on_plan

CLASS = "insulation-class-stands-voltage"
CHAIN = "chain-stands-voltage"
INPUT = "input-stands-voltage"
MARK = "voltage-mark-stands-voltage"


def _stated(plan: Plan, limit_v: int, step: int, supply: str = "isolated-dc", **more: Any) -> None:
    """One circuit whose stated maximum (no margin) is `step` mV off the limit."""
    single(plan, supply, maker_max_v=volts(limit_v * 1000 + step), **more)


def _cells_around(plan: Plan, rng: Random, limit_v: int, step: int) -> None:
    """Cells with 10 % margin: the largest cell maximum in mV that the limit carries, and `step` mV off it."""
    carried = limit_v * 10_000_000 // 11_000
    series = rng.randrange(carried // 4500 + 1, carried // 4205 + 1)
    top = carried // series
    cells = {"series": series, "chemistry": "nmc", "max_v": (top + step) / 1000}
    single(plan, "isolated-dc", cells=cells)


@on_plan(f"{CLASS}/class-00-dc-limit", "volts", "glove-class", steps=EDGE)
def _class_dc(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = "00"
    _stated(plan, MAX_DC_V["00"], step)


@on_plan(f"{CLASS}/class-00-ac-limit", "volts", "glove-class", steps=EDGE)
def _class_ac(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = "00"
    _stated(plan, MAX_AC_V["00"], step, rng.choice(("ac-single-phase", "ac-three-phase")))


def _behind_margin(plan: Plan, rng: Random, limit_v: int, step: int, supply: str) -> None:
    basis_points = rng.choice((1000, 1500, 2000, 2500))
    plan.glove_class = "0"
    plan.site["margin_percent"] = basis_points // 100
    single(plan, supply, maker_max_v=volts(limit_v * 1000 * 10_000 // (10_000 + basis_points) + step))


@on_plan(f"{CLASS}/class-0-dc-behind-margin", "volts", "glove-class", tasks="IM", steps=EDGE)
def _class_0_dc(plan: Plan, rng: Random, step: int) -> None:
    _behind_margin(plan, rng, MAX_DC_V["0"], step, "isolated-dc")


@on_plan(f"{CLASS}/class-0-ac-behind-margin", "volts", "glove-class", tasks="IM", steps=EDGE)
def _class_0_ac(plan: Plan, rng: Random, step: int) -> None:
    _behind_margin(plan, rng, MAX_AC_V["0"], step, rng.choice(("ac-single-phase", "ac-three-phase")))


@on_plan(f"{CLASS}/class-00-cells", "volts", "glove-class", steps=EDGE)
def _class_cells(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = "00"
    _cells_around(plan, rng, MAX_DC_V["00"], step)


@on_plan(f"{CLASS}/class-00-boosted", "volts", "glove-class", steps=EDGE)
def _class_boosted(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = "00"
    boosted = volts(MAX_DC_V["00"] * 10_000_000 // 11_000 + step)
    single(plan, "isolated-dc", cells={"series": 168, "chemistry": "nimh"}, boosted_v=boosted)


@on_plan(f"{CLASS}/class-00-inverter-ac", "volts", "glove-class", steps=EDGE)
def _class_inverter(plan: Plan, rng: Random, step: int) -> None:
    # 612 V of link give 499.7 V r.m.s., 613 V give 500.5 V; the link alone would pass the 750 V DC.
    plan.glove_class = "00"
    single(plan, "inverter-output", maker_max_v=612 + step)


@on_plan(f"{CLASS}/class-0-container", "volts", "glove-class", tasks="IM")
def _container(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = "0"
    single(plan, "isolated-dc", cells={"series": 384, "chemistry": "lfp"})


def _part_edge(part: str, instrument: str, **wants: str) -> None:
    @on_plan(f"{CHAIN}/{part}-mark", "volts", "glove-class", steps=EDGE, instrument=instrument, also=wants)
    def third(plan: Plan, rng: Random, step: int) -> None:
        plan.glove_class = "0"
        limit_v = rng.choice((300, 600, 690, 1000))
        plan.pins[part] = [["III", limit_v]] + ([["II", limit_v]] if rng.random() < 0.1 else [])
        _stated(plan, limit_v, step)

    @on_plan(f"{CHAIN}/{part}-mark-iv", "volts", "glove-class", steps=EDGE, instrument=instrument, also=wants)
    def fourth(plan: Plan, rng: Random, step: int) -> None:
        plan.glove_class = "0"
        limit_v = rng.choice((300, 600))
        plan.pins[part] = [["III", 1000], ["IV", limit_v]]
        _stated(plan, limit_v, step, rng.choice(("ac-single-phase", "ac-three-phase")), category="IV")

    @on_plan(f"{CHAIN}/{part}-higher-volts-lower-category", "volts", "glove-class", instrument=instrument, also=wants)
    def lower(plan: Plan, rng: Random, step: int) -> None:
        plan.glove_class = "0"
        plan.pins[part] = [["II", 1000], ["III", 300]]
        _stated(plan, rng.randrange(301, 900), 0)

    @on_plan(f"{CHAIN}/{part}-higher-category-lower-volts", "volts", "glove-class", instrument=instrument, also=wants)
    def higher(plan: Plan, rng: Random, step: int) -> None:
        plan.glove_class = "0"
        plan.pins[part] = [["IV", 600]]
        _stated(plan, rng.randrange(601, 990), 0)


_part_edge("meter", "multimeter")
_part_edge("leads", "multimeter")
_part_edge("clip", "multimeter", clip="fitted")
_part_edge("detector", "detector")


@on_plan(f"{CHAIN}/mark-behind-margin", "volts", "glove-class", steps=EDGE)
def _margin_step(plan: Plan, rng: Random, step: int) -> None:
    stated_v, percent, limit_v = rng.choice(((500, 20, 600), (480, 25, 600), (800, 25, 1000), (600, 15, 690)))
    plan.glove_class = "0"
    # One basis point of margin is the unit here; a house margin of 0 on stated maxima is raised, so nobody approves.
    plan.site["margin_percent"] = percent if step == 0 else (percent * 100 + step) / 100
    plan.pins["meter"] = plan.pins["detector"] = [["III", limit_v]]
    single(plan, "isolated-dc", maker_max_v=stated_v)


@on_plan(f"{CHAIN}/mark-cells", "volts", "glove-class", steps=EDGE)
def _mark_cells(plan: Plan, rng: Random, step: int) -> None:
    limit_v = rng.choice((300, 600, 690, 1000))
    plan.glove_class = "0"
    plan.pins["leads"] = plan.pins["detector"] = [["III", limit_v], ["IV", 300]]
    _cells_around(plan, rng, limit_v, step)


@on_plan(f"{CHAIN}/mark-cells-margin-lowered", "volts", "glove-class", steps=EDGE)
def _mark_lowered(plan: Plan, rng: Random, step: int) -> None:
    limit_v = rng.choice((600, 690, 1000))
    plan.glove_class = "0"
    plan.site["margin_percent"] = 0
    plan.approve("margin_percent")
    plan.pins["meter"] = plan.pins["detector"] = [["III", limit_v]]
    series = {600: 140, 690: 162, 1000: 235}[limit_v]
    top = limit_v * 1000 // series
    single(plan, "isolated-dc", cells={"series": series, "chemistry": "nmc", "max_v": (top + step) / 1000})


@on_plan(f"{INPUT}/dc-limit", "volts", "glove-class", steps=EDGE)
def _input_dc(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = "0"
    plan.pins["input_dc"] = limit_v = rng.choice((600, 690, 1000))
    _stated(plan, limit_v, step, rng.choice(("isolated-dc", "earthed-dc")))


@on_plan(f"{INPUT}/ac-limit", "volts", "glove-class", steps=EDGE)
def _input_ac(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = "0"
    plan.pins["input_ac"] = limit_v = rng.choice((300, 600, 690))
    _stated(plan, limit_v, step, rng.choice(("ac-single-phase", "ac-three-phase")))


@on_plan(f"{INPUT}/inverter-ac", "volts", "glove-class", steps=EDGE)
def _input_inverter(plan: Plan, rng: Random, step: int) -> None:
    # 734 V of link give 599.3 V r.m.s., 735 V give 600.1 V.
    plan.glove_class = "0"
    plan.pins["input_ac"] = 600
    single(plan, "inverter-output", maker_max_v=734 + step)


@on_plan("fuse-fit/volts", "volts", "glove-class", "chain.fuse", steps=EDGE, instrument="multimeter")
def _fuse_volts(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = "0"
    plan.pins["fuse_v"] = limit_v = rng.choice((250, 600, 1000))
    _stated(plan, limit_v, step)


def _mark_edge(part: str) -> None:
    @on_plan(f"{MARK}/{part}-dc", "volts", "glove-class", "mark", tasks="L", steps=EDGE)
    def direct(plan: Plan, rng: Random, step: int) -> None:
        plan.glove_class = "0"
        limit_v = rng.choice((500, 750, 1000))
        plan.pins[part] = {"ac_v": 1000, "dc_v": limit_v}
        _stated(plan, limit_v, step)

    @on_plan(f"{MARK}/{part}-inverter-ac", "volts", "glove-class", "mark", tasks="L", steps=EDGE)
    def alternating(plan: Plan, rng: Random, step: int) -> None:
        plan.glove_class = "0"
        plan.pins[part] = {"ac_v": 500, "dc_v": 1500}
        single(plan, "inverter-output", maker_max_v=612 + step)


_mark_edge("tool")
_mark_edge("hook")


@on_plan("circuit-in-scope/dc-1500", "volts", "glove-class", tasks="IM", steps=EDGE)
def _scope_dc(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = "1"
    _stated(plan, 1500, step)


@on_plan("circuit-in-scope/ac-1000", "volts", "glove-class", tasks="IM", steps=EDGE)
def _scope_ac(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = "1"
    _stated(plan, 1000, step, rng.choice(("ac-single-phase", "ac-three-phase")))


@on_plan("circuit-in-scope/class-a-on-assumed-cells", "volts")
def _assumed(plan: Plan, rng: Random, step: int) -> None:
    series, chemistry = rng.choice(((14, "nmc"), (21, "lto"), (37, "nimh"), (16, "lfp"), (13, "unknown-lithium")))
    single(plan, "isolated-dc", cells={"series": series, "chemistry": chemistry})


@on_plan("harmless/class-b-on-assumed-cells", "volts", steps=(0,), spoils=False)
def _assumed_above(plan: Plan, rng: Random, step: int) -> None:
    series, chemistry = rng.choice(((15, "nmc"), (22, "lto"), (38, "nimh"), (17, "lfp"), (14, "unknown-lithium")))
    single(plan, "isolated-dc", cells={"series": series, "chemistry": chemistry})


@on_plan("harmless/class-a-line", "volts", steps=(-1, 0, 1), spoils=False)
def _class_a(plan: Plan, rng: Random, step: int) -> None:
    # Both sides of the line ask for no more than the kit holds.
    limit_v, supply = rng.choice(((60, "isolated-dc"), (30, "ac-single-phase")))
    _stated(plan, limit_v, step, supply)


@on_plan("harmless/mild-hybrid-cells-stated", "volts", steps=(0,), spoils=False)
def _mild(plan: Plan, rng: Random, step: int) -> None:
    single(plan, "isolated-dc", cells={"series": rng.choice((13, 14, 15)), "chemistry": "nmc", "max_v": 4.2})


@on_plan("working-voltage-known/nominal-only", "volts")
def _nominal(plan: Plan, rng: Random, step: int) -> None:
    single(plan, "isolated-dc", nominal_v=rng.randrange(200, 700))


@on_plan("working-voltage-known/reading-only", "volts")
def _reading_only(plan: Plan, rng: Random, step: int) -> None:
    single(plan, "isolated-dc", reading_v=rng.randrange(200, 700))
    if rng.random() < 0.5:
        plan.circuits[0]["nominal_v"] = plan.circuits[0]["reading_v"] + 20


@on_plan("working-voltage-known/one-circuit-of-two", "volts")
def _second_unknown(plan: Plan, rng: Random, step: int) -> None:
    single(plan, "isolated-dc", maker_max_v=rng.randrange(200, 590))
    plan.circuits.append({"key": "second", "supply": "isolated-dc", "category": "III", "nominal_v": 355})


@on_plan("working-voltage-known/nothing-stated", "volts")
def _nothing(plan: Plan, rng: Random, step: int) -> None:
    single(plan, "isolated-dc")


@on_plan("data-agrees-with-reading/maker-maximum", "volts", steps=EDGE)
def _reading(plan: Plan, rng: Random, step: int) -> None:
    top = rng.randrange(150_000, 590_000)
    single(plan, "isolated-dc", maker_max_v=volts(top), reading_v=volts(top + step))


@on_plan("data-agrees-with-reading/cells", "volts", steps=EDGE)
def _reading_cells(plan: Plan, rng: Random, step: int) -> None:
    series, top = rng.randrange(80, 130), 4201 + rng.randrange(100)
    cells = {"series": series, "chemistry": "nmc", "max_v": top / 1000}
    single(plan, "isolated-dc", cells=cells, reading_v=volts(series * top + step))


@on_plan(
    "protectors-worn/stricter-reading", "volts", "glove-class", "protector", "cuff", tasks="IM", steps=EDGE, law="six"
)
def _worn(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class, limit_v, supply = rng.choice(
        (
            ("00", 375, "isolated-dc"),
            ("0", 750, "isolated-dc"),
            ("00", 250, "ac-single-phase"),
            ("0", 500, "ac-single-phase"),
        )
    )
    plan.job |= {"without_protectors": True, "dexterity_stated_by": "P9"}
    _stated(plan, limit_v, step, supply)


@on_plan("protectors-worn/dexterity-not-stated", "volts", "glove-class", "protector", "cuff", tasks="IM")
def _no_dexterity(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = "0"
    plan.job["without_protectors"] = True
    _stated(plan, rng.randrange(100, 480), 0)


@on_plan("protectors-worn/low-risk-not-stated", "volts", "glove-class", "protector", "cuff", tasks="IM")
def _no_low_risk(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = rng.choice(("1", "2"))
    plan.job |= {"without_protectors": True, "dexterity_stated_by": "P9"}
    _stated(plan, rng.randrange(100, 480), 0)


@on_plan(
    "harmless/without-protectors-class-1",
    "volts",
    "glove-class",
    "protector",
    "cuff",
    tasks="IM",
    steps=(0,),
    spoils=False,
    law="six",
)
def _low_risk(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = "1"
    plan.job |= {"without_protectors": True, "dexterity_stated_by": "P9", "low_damage_risk_stated_by": "P9"}
    _stated(plan, rng.randrange(100, 999), 0)
