"""Ways of torque tools, clamp meters and insulation testers: two demands on one tool, a chain of its own beside the kit's."""

from __future__ import annotations

from datetime import timedelta
from random import Random

from tests.oracle.kits_chain import CHAIN, one_of
from tests.oracle.kits_extra import METERS
from tests.oracle.kits_job import CHAIN_AREAS
from tests.oracle.kits_plan import Plan, single, volts
from tests.oracle.kits_tests import landing
from tests.oracle.kits_ways import EDGE, on_plan, on_world
from tests.oracle.kits_world import World, add, records

CALIBRATED = ("torque-tool", *METERS)
# Another meter in a kit for proving dead is a reason of its own.
LIVE = "LM"


def _tasks(kind: str) -> str:
    return "ILM" if kind == "torque-tool" else LIVE


def _calibration_ways(kind: str) -> None:
    @on_world(f"calibration-in-date/{kind}-twelve-months", "extra", tasks=_tasks(kind), steps=EDGE, extra=kind)
    def months(world: World, rng: Random, step: int) -> None:
        day = landing(world, rng, step, 12, latest=0)
        records(one_of(world, kind), "calibration")[0]["on"] = day

    @on_world(f"calibration-in-date/{kind}-missing", "extra", tasks=_tasks(kind), extra=kind)
    def missing(world: World, rng: Random, step: int) -> None:
        piece = one_of(world, kind)
        piece["records"].remove(records(piece, "calibration")[0])

    @on_world(f"calibration-in-date/{kind}-failed", "extra", tasks=_tasks(kind), extra=kind)
    def failed(world: World, rng: Random, step: int) -> None:
        record = records(one_of(world, kind), "calibration")[0]
        if rng.random() < 0.5:
            record["result"] = "failed"
        else:
            add(one_of(world, kind), "calibration", record["on"], result="failed")

    @on_world(f"calibration-in-date/{kind}-maker-interval", "extra", tasks=_tasks(kind), steps=EDGE, extra=kind)
    def maker(world: World, rng: Random, step: int) -> None:
        day = landing(world, rng, step, 6, latest=0)
        piece = one_of(world, kind)
        piece["maker_interval_months"] = 6
        records(piece, "calibration")[0]["on"] = day


for _kind in CALIBRATED:
    _calibration_ways(_kind)


@on_plan("voltage-mark-stands-voltage/torque-dc", "volts", "glove-class", "extra", steps=EDGE, extra="torque-tool")
def _torque_dc(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = "0"
    limit_v = rng.choice((500, 750, 1000))
    plan.pins["torque"] = {"ac_v": 1000, "dc_v": limit_v}
    single(plan, "isolated-dc", maker_max_v=volts(limit_v * 1000 + step))


@on_plan("voltage-mark-stands-voltage/torque-ac", "volts", "glove-class", "extra", steps=EDGE, extra="torque-tool")
def _torque_ac(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = "0"
    limit_v = rng.choice((300, 500))
    plan.pins["torque"] = {"ac_v": limit_v, "dc_v": 1500}
    single(plan, rng.choice(("ac-single-phase", "ac-three-phase")), maker_max_v=volts(limit_v * 1000 + step))


@on_world("voltage-mark-stands-voltage/torque-not-marked", "extra", extra="torque-tool")
def _torque_unmarked(world: World, rng: Random, step: int) -> None:
    del one_of(world, "torque-tool")["voltage_mark"]


@on_world("harmless/torque-tool-not-looked-over-for-a-year", "extra", steps=(0,), spoils=False, extra="torque-tool")
def _torque_history(world: World, rng: Random, step: int) -> None:
    add(one_of(world, "torque-tool"), "inspection", world.plan.on - timedelta(days=500), defects=[])


@on_world("inspected/torque-missing", "extra", extra="torque-tool")
def _torque_unseen(world: World, rng: Random, step: int) -> None:
    piece = one_of(world, "torque-tool")
    piece["records"].remove(records(piece, "inspection")[0])


def _meter_ways(kind: str) -> None:
    @on_plan(f"{CHAIN}/{kind}-mark", "volts", "glove-class", "extra", tasks=LIVE, steps=EDGE, extra=kind)
    def mark(plan: Plan, rng: Random, step: int) -> None:
        plan.glove_class = "0"
        limit_v = rng.choice((300, 600, 1000))
        plan.pins["extra_marks"] = [["III", limit_v]]
        single(plan, "isolated-dc", maker_max_v=volts(limit_v * 1000 + step))

    @on_plan(f"input-stands-voltage/{kind}", "volts", "glove-class", "extra", tasks=LIVE, steps=EDGE, extra=kind)
    def most(plan: Plan, rng: Random, step: int) -> None:
        plan.glove_class = "0"
        plan.pins["extra_input"] = limit_v = rng.choice((300, 600, 690))
        single(plan, "isolated-dc", maker_max_v=volts(limit_v * 1000 + step))

    @on_world(f"{CHAIN}/{kind}-unmarked", "extra", tasks=LIVE, extra=kind)
    def unmarked(world: World, rng: Random, step: int) -> None:
        del one_of(world, kind)["marks"]

    @on_world(f"{CHAIN}/{kind}-lower-category", "extra", tasks=LIVE, extra=kind, supply="isolated-dc")
    def lower(world: World, rng: Random, step: int) -> None:
        one_of(world, kind)["marks"] = [["II", 1500]]

    @on_world(f"tip-exposure/{kind}", "extra", tasks=LIVE, steps=EDGE, extra=kind, profile="gs38")
    def tip(world: World, rng: Random, step: int) -> None:
        one_of(world, kind)["tip_mm"] = (40 + step) / 10

    @on_world(f"fuse-fit/{kind}-glass", "extra", tasks=LIVE, extra=kind)
    def glass(world: World, rng: Random, step: int) -> None:
        one_of(world, kind)["fuse"] = {"v": 1500, "ac_only": False, "kind": "glass"}

    @on_world(f"inspected/{kind}-jack-in-current", "extra", tasks=LIVE, extra=kind)
    def jack(world: World, rng: Random, step: int) -> None:
        records(one_of(world, kind), "inspection")[0]["jack"] = "current"

    @on_world(f"chain-complete/{kind}-without-leads", "extra", "chain.second", tasks=LIVE, extra=kind,
              instrument="detector")  # fmt: skip
    def leadless(world: World, rng: Random, step: int) -> None:
        piece = one_of(world, kind)
        if rng.random() < 0.5:
            piece["fixed_leads"] = False
        else:
            del piece["fixed_leads"]

    @on_world(
        f"altitude-within-mark/{kind}", "extra", "altitude", "chain.second", "spare", tasks=LIVE, steps=EDGE, extra=kind
    )
    def altitude(world: World, rng: Random, step: int) -> None:
        for piece in world.of("multimeter", "two-pole-detector", "test-leads", "tip-or-clip", "proving-unit", *METERS):
            piece["max_altitude_m"] = 5000
        one_of(world, kind)["max_altitude_m"] = limit_m = rng.choice((2000, 3000))
        world.plan.site["altitude_m"] = limit_m + step

    @on_world(f"instrument-suits-task/{kind}-for-proving-dead", "extra", "chain.named", tasks="I", extra=kind)
    def suits(world: World, rng: Random, step: int) -> None:
        one_of(world, kind)

    @on_world(f"task-roles-filled/{kind}-alone", "extra", "volts", "proving", "role.no-chain", *CHAIN_AREAS, tasks=LIVE,
              early=True, extra=kind, instrument="detector")  # fmt: skip
    def alone(world: World, rng: Random, step: int) -> None:
        world.drop("two-pole-detector")


for _kind in METERS:
    _meter_ways(_kind)
