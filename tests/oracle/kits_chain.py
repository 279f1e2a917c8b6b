"""Ways of the measuring chain and the proving unit."""

from __future__ import annotations

from datetime import timedelta
from random import Random

from tests.oracle.kits_plan import Plan, Table, Unfit, single, volts
from tests.oracle.kits_tests import landing
from tests.oracle.kits_ways import EDGE, on_plan, on_world
from tests.oracle.kits_world import World, add, detector, inspection, loose_chain, records

CHAIN = "chain-stands-voltage"
MEMBERS = ("multimeter", "two-pole-detector", "test-leads", "tip-or-clip")
INSTRUMENTS = ("multimeter", "two-pole-detector")


def one_of(world: World, *kinds: str) -> Table:
    pieces = world.of(*kinds)
    if not pieces:
        raise Unfit
    return pieces[0]


def _unmarked(kind: str, **wants: str) -> None:
    @on_world(f"{CHAIN}/{kind}-unmarked", "chain.marks", also=wants)
    def unmarked(world: World, rng: Random, step: int) -> None:
        del one_of(world, kind)["marks"]

    @on_world(f"{CHAIN}/{kind}-old-category", "chain.marks", supply="isolated-dc", also=wants)
    def old(world: World, rng: Random, step: int) -> None:
        one_of(world, kind)["marks"] = [[rng.choice(("I", "II")), 1000]]


_unmarked("multimeter", instrument="multimeter")
_unmarked("test-leads", instrument="multimeter")
_unmarked("tip-or-clip", instrument="multimeter", clip="fitted")
_unmarked("two-pole-detector", instrument="detector")


def _caps(world: World, state: str | None, cap_off: list[list[object]] | None) -> None:
    """Leads whose caps are `state` at the look-over and in the book, with a second mark for caps off."""
    leads = one_of(world, "test-leads")
    leads["caps"] = state or "unknown"
    if cap_off is not None:
        leads["marks_cap_off"] = cap_off
    for look in records(leads, "inspection"):
        look.pop("caps", None)
        if state is not None:
            look["caps"] = state


@on_world(f"{CHAIN}/caps-missing", "chain.marks", "chain.caps", instrument="multimeter", supply="isolated-dc")
def _caps_missing(world: World, rng: Random, step: int) -> None:
    _caps(world, "missing", [["II", 1000]])


@on_world(f"{CHAIN}/caps-unknown", "chain.marks", "chain.caps", instrument="multimeter", supply="isolated-dc")
def _caps_unknown(world: World, rng: Random, step: int) -> None:
    _caps(world, None, [["II", 1000]] if rng.random() < 0.7 else None)


@on_world("harmless/caps-unknown-cap-off-mark-stands", "chain.marks", "chain.caps", steps=(0,), spoils=False,
          instrument="multimeter", supply="isolated-dc")  # fmt: skip
def _caps_unknown_fine(world: World, rng: Random, step: int) -> None:
    _caps(world, None, [["III", 1500]])


@on_world("harmless/caps-seen-but-not-in-the-book", "chain.caps", steps=(0,), spoils=False, instrument="multimeter")
def _caps_seen(world: World, rng: Random, step: int) -> None:
    del one_of(world, "test-leads")["caps"]


@on_world("chain-complete/no-leads", "chain.leads", "chain.caps", "chain.tip", "chain.marks", "leads.look", "volts",
          early=True, instrument="multimeter")  # fmt: skip
def _no_leads(world: World, rng: Random, step: int) -> None:
    world.drop("test-leads", "tip-or-clip")


@on_world("chain-complete/leads-without-instrument", "chain.second", instrument="detector")
def _orphan_leads(world: World, rng: Random, step: int) -> None:
    world.pieces += loose_chain(world.plan, rng, "b", clip=False)[1:]


def _second_meter(world: World, rng: Random) -> None:
    world.pieces += loose_chain(world.plan, rng, "b", clip=False)


@on_world("chain-complete/two-meters-unpaired", "chain.second", instrument="multimeter", clip="none")
def _unpaired(world: World, rng: Random, step: int) -> None:
    world.drop("tip-or-clip")
    _second_meter(world, rng)


@on_world("harmless/two-meters-paired", "chain.second", steps=(0,), spoils=False, instrument="multimeter", clip="none")
def _paired(world: World, rng: Random, step: int) -> None:
    world.drop("tip-or-clip")
    _second_meter(world, rng)
    world.plan.job["with"] = [["M1", "L1"], ["M1b", "L1b"]]


@on_world(
    "harmless/detector-beside-meter", "chain.second", "proving", steps=(0,), spoils=False, instrument="multimeter"
)
def _beside(world: World, rng: Random, step: int) -> None:
    piece = detector(world.plan, rng, "D2")
    world.pieces.append(piece)
    _roomy_outputs(world)


def _roomy_outputs(world: World) -> None:
    for unit in world.of("proving-unit"):
        for key in ("output_dc_v", "output_ac_v"):
            if key in unit:
                unit[key] = 690


@on_world("instrument-suits-task/multimeter-for-proving-dead", "chain.named", tasks="I", instrument="multimeter",
          profile="gs38")  # fmt: skip
def _not_named(world: World, rng: Random, step: int) -> None:
    circuits = world.plan.circuits
    for circuit in circuits if rng.random() < 0.5 else circuits[-1:]:
        circuit.pop("maker_names_multimeter", None)


@on_world("harmless/multimeter-under-iec", "chain.named", tasks="I", steps=(0,), spoils=False, instrument="multimeter",
          profile="iec")  # fmt: skip
def _iec_caution(world: World, rng: Random, step: int) -> None:
    for circuit in world.plan.circuits:
        circuit.pop("maker_names_multimeter", None)


def _tip_edge(kind: str, limit_tenths: int, name: str, **wants: str) -> None:
    @on_world(f"tip-exposure/{name}", "chain.tip", steps=EDGE, also=wants)
    def edge(world: World, rng: Random, step: int) -> None:
        tenths = limit_tenths + step
        one_of(world, kind)["tip_mm"] = tenths // 10 if tenths % 10 == 0 else tenths / 10


_tip_edge("test-leads", 40, "leads", instrument="multimeter", profile="gs38")
_tip_edge("tip-or-clip", 40, "clip", instrument="multimeter", clip="fitted", profile="gs38")
_tip_edge("two-pole-detector", 40, "detector", instrument="detector", profile="gs38")
_tip_edge("two-pole-detector", 40, "detector-iec", instrument="detector", profile="iec", supply="isolated-dc")


@on_plan("tip-exposure/iec-category-ii", "chain.tip", "volts", steps=EDGE, instrument="multimeter", profile="iec")
def _tip_iec(plan: Plan, rng: Random, step: int) -> None:
    single(plan, "ac-single-phase", plate_max_v=volts(rng.choice((120, 230, 240)) * 1000), category="II")
    plan.pins["lead_tip_mm"] = (190 + step) / 10


@on_world("tip-exposure/not-stated", "chain.tip")
def _tip_unknown(world: World, rng: Random, step: int) -> None:
    del one_of(world, "test-leads", "two-pole-detector")["tip_mm"]


@on_world("harmless/tips-of-two-and-three", "chain.tip", steps=(-1, 0, 1), spoils=False)
def _tip_caution(world: World, rng: Random, step: int) -> None:
    one_of(world, "test-leads", "two-pole-detector")["tip_mm"] = (20 + step) / 10 if rng.random() < 0.5 else 3


def _wrong_fuse(name: str, fuse: Table, **wants: str) -> None:
    @on_world(f"fuse-fit/{name}", "chain.fuse", instrument="multimeter", also=wants)
    def wrong(world: World, rng: Random, step: int) -> None:
        one_of(world, rng.choice(("multimeter", "test-leads")))["fuse"] = dict(fuse)


_wrong_fuse("ac-only-on-dc", {"v": 1000, "ac_only": True, "kind": "hbc"}, supply="isolated-dc")
_wrong_fuse("glass", {"v": 1500, "ac_only": False, "kind": "glass"})


@on_world("harmless/fused-leads", "chain.fuse", steps=(0,), spoils=False, instrument="multimeter")
def _fused_leads(world: World, rng: Random, step: int) -> None:
    one_of(world, "test-leads")["fuse"] = dict(one_of(world, "multimeter")["fuse"])


@on_world("altitude-within-mark/metres", "altitude", "chain.second", "spare", steps=EDGE)
def _altitude(world: World, rng: Random, step: int) -> None:
    limit_m = rng.choice((2000, 2000, 3000, 4000))
    world.plan.site["altitude_m"] = limit_m + step
    target = rng.choice(world.of(*MEMBERS))
    for piece in world.of(*MEMBERS, "proving-unit", "clamp-meter", "insulation-tester"):
        piece["max_altitude_m"] = 5000
    target["max_altitude_m"] = limit_m
    if limit_m == 2000 and rng.random() < 0.5:
        del target["max_altitude_m"]


@on_world("place-dry/wet", "place")
def _wet(world: World, rng: Random, step: int) -> None:
    world.plan.job["place"] = "wet"


@on_world("calibration-in-date/twelve-months", "calibration", steps=EDGE, instrument="multimeter")
def _calibration(world: World, rng: Random, step: int) -> None:
    records(one_of(world, "multimeter"), "calibration")[0]["on"] = landing(world, rng, step, 12, latest=0)


@on_world("calibration-in-date/missing", "calibration", instrument="multimeter")
def _never_calibrated(world: World, rng: Random, step: int) -> None:
    meter = one_of(world, "multimeter")
    meter["records"].remove(records(meter, "calibration")[0])


@on_world("calibration-in-date/failed", "calibration", instrument="multimeter")
def _calibration_failed(world: World, rng: Random, step: int) -> None:
    records(one_of(world, "multimeter"), "calibration")[0]["result"] = "failed"


@on_world("harmless/older-calibrations", "calibration", steps=(0,), spoils=False, instrument="multimeter")
def _older_calibrations(world: World, rng: Random, step: int) -> None:
    meter = one_of(world, "multimeter")
    last = records(meter, "calibration")[0]["on"]
    for years in range(1, rng.randrange(2, 4)):
        add(meter, "calibration", last - timedelta(days=360 * years), result=rng.choice(("passed", "passed", "failed")))


def _self_test_ways(kind: str, **wants: str) -> None:
    area = f"self-test.{kind}"

    @on_world(f"self-test-done/{kind}-missing", area, also=wants)
    def missing(world: World, rng: Random, step: int) -> None:
        piece = one_of(world, kind)
        piece["records"].remove(records(piece, "self-test")[0])

    @on_world(f"self-test-done/{kind}-day-before", area, also=wants)
    def stale(world: World, rng: Random, step: int) -> None:
        records(one_of(world, kind), "self-test")[0]["on"] -= timedelta(days=1)

    @on_world(f"self-test-done/{kind}-failed", area, also=wants)
    def failed(world: World, rng: Random, step: int) -> None:
        if rng.random() < 0.5:
            records(one_of(world, kind), "self-test")[0]["result"] = "failed"
        else:
            add(one_of(world, kind), "self-test", world.plan.on, at="10:40", result="failed")

    @on_world(f"harmless/{kind}-tested-the-day-before-too", area, steps=(0,), spoils=False, also=wants)
    def before(world: World, rng: Random, step: int) -> None:
        add(one_of(world, kind), "self-test", world.plan.on - timedelta(days=1), result="passed")


_self_test_ways("two-pole-detector", instrument="detector")
_self_test_ways("proving-unit")


def _threshold_edge(current: str, supply: str) -> None:
    @on_world(f"proving-unit-fits/threshold-{current}", "proving", steps=EDGE, instrument="detector", supply=supply)
    def edge(world: World, rng: Random, step: int) -> None:
        # The output has to exceed the threshold: one volt more is the least that does.
        output = one_of(world, "two-pole-detector")[f"threshold_{current}_v"] + 1 - step
        one_of(world, "proving-unit")[f"output_{current}_v"] = output


_threshold_edge("dc", "isolated-dc")
_threshold_edge("ac", "ac-single-phase")


def _other_current(has: str, wanted: str, supply: str) -> None:
    @on_world(f"proving-unit-fits/{has}-only-for-{wanted}", "proving", supply=supply)
    def other(world: World, rng: Random, step: int) -> None:
        unit = one_of(world, "proving-unit")
        unit.pop(f"output_{wanted}_v", None)
        unit[f"output_{has}_v"] = 690


_other_current("ac", "dc", "isolated-dc")
_other_current("dc", "ac", "ac-single-phase")


@on_world("proving-unit-fits/output-not-stated", "proving")
def _no_output(world: World, rng: Random, step: int) -> None:
    for key in ("output_dc_v", "output_ac_v"):
        one_of(world, "proving-unit").pop(key, None)


@on_world("harmless/second-detector", "chain.second", "proving", steps=(0,), spoils=False, instrument="detector")
def _second_detector(world: World, rng: Random, step: int) -> None:
    world.pieces.append(detector(world.plan, rng, "D2"))
    _roomy_outputs(world)


@on_world("inspected/jack-in-current", "meter.look", instrument="multimeter")
def _jack(world: World, rng: Random, step: int) -> None:
    records(one_of(world, "multimeter"), "inspection")[0]["jack"] = "current"


@on_world("inspected/inner-colour-visible", "leads.look", instrument="multimeter")
def _inner_colour(world: World, rng: Random, step: int) -> None:
    records(one_of(world, "test-leads"), "inspection")[0]["defects"] = ["inner-colour-visible"]


def spare_unit(world: World, rng: Random) -> Table:
    """A second proving unit in order, both currents."""
    unit: Table = {"code": "U2", "kind": "proving-unit", "output_dc_v": 690, "output_ac_v": 690, "records": []}
    inspection(world.plan, rng, unit)
    add(unit, "self-test", world.plan.on, at="07:07", result="passed")
    return unit
