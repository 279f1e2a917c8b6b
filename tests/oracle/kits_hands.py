"""Ways of gloves, protectors and the hands that wear them (the test's clock and figures: kits_tests.py)."""

from __future__ import annotations

from datetime import timedelta
from random import Random

from tests.oracle.kits_plan import Plan, Unfit
from tests.oracle.kits_tables import CLEARANCE_F496_MM, CLEARANCE_MM, LEATHER_HUNDREDTHS
from tests.oracle.kits_tests import retest
from tests.oracle.kits_ways import EDGE, on_plan, on_world
from tests.oracle.kits_world import Pair, World, add

AIR = ("gloves.air", "gloves.look")
DEFECTS = ("hole", "tear", "puncture", "cut", "swelling", "softening", "hardening", "sticky", "inelastic", "other")


def _looked(world: World, at: str = "09:30") -> Pair:
    """First pair, with a look-over of its own, so that only the air test is in question."""
    pair = world.pairs[0]
    if pair.look is None:
        pair.look = add(pair.piece, "inspection", world.plan.on, defects=[])
    pair.look["at"] = at
    return pair


@on_world("air-test-done/missing", *AIR)
def _air_missing(world: World, rng: Random, step: int) -> None:
    pair = _looked(world)
    pair.piece["records"].remove(pair.air)


@on_world("air-test-done/day-before", *AIR)
def _air_stale(world: World, rng: Random, step: int) -> None:
    _looked(world).air["on"] = world.plan.on - timedelta(days=1)


@on_world("air-test-done/day-after", *AIR)
def _air_ahead(world: World, rng: Random, step: int) -> None:
    _looked(world).air["on"] = world.plan.on + timedelta(days=1)


@on_world("air-test-done/one-hand-failed", *AIR)
def _air_failed(world: World, rng: Random, step: int) -> None:
    _looked(world).air[rng.choice(("left", "right"))] = "failed"


@on_world("air-test-done/one-hand-only", *AIR)
def _air_one_hand(world: World, rng: Random, step: int) -> None:
    del _looked(world).air[rng.choice(("left", "right"))]


@on_world("air-test-done/inflation-type-i", *AIR, steps=EDGE)
def _inflation_i(world: World, rng: Random, step: int) -> None:
    pair = _looked(world)
    pair.piece["type"], pair.air["inflation"] = "I", (150 + step) / 100


@on_world("air-test-done/inflation-type-ii", *AIR, steps=EDGE)
def _inflation_ii(world: World, rng: Random, step: int) -> None:
    pair = _looked(world)
    pair.piece["type"], pair.air["inflation"] = "II", (125 + step) / 100


def _back_and_looked(world: World, rng: Random) -> Pair:
    """Air-tested at dawn and looked over again at half past eleven; what undoes the first comes at eleven."""
    pair = _looked(world, at="11:30")
    retest(world, rng, pair, "before")
    pair.air["at"] = "06:30"
    return pair


@on_world("air-test-done/returned-since", *AIR, "gloves.test", "gloves.custody")
def _air_returned(world: World, rng: Random, step: int) -> None:
    pair = _back_and_looked(world, rng)
    add(pair.piece, "issue", world.plan.on - timedelta(days=1), at="08:00")
    add(pair.piece, "return", world.plan.on, at="11:00")


@on_world("air-test-done/handed-over-since", *AIR, "gloves.test", "gloves.custody")
def _air_handed_over(world: World, rng: Random, step: int) -> None:
    pair = _back_and_looked(world, rng)
    add(pair.piece, "hand-over", world.plan.on, at="11:00", to="P1")
    pair.piece["custody"] = "P1"


@on_world("harmless/returned-before-the-checks", *AIR, "gloves.test", "gloves.custody", steps=(0,), spoils=False)
def _returned_early(world: World, rng: Random, step: int) -> None:
    pair = _looked(world)
    retest(world, rng, pair, "before")
    pair.air["at"] = "08:15"
    add(pair.piece, "issue", world.plan.on - timedelta(days=rng.randrange(1, 5)), at="08:00")
    add(pair.piece, "return", world.plan.on, at="05:45")


@on_world("inspected/glove-defect", *AIR)
def _glove_defect(world: World, rng: Random, step: int) -> None:
    pair = _looked(world)
    pair.air["at"] = "06:30"  # a clean air test after the look-over would stand in its place
    if pair.look is not None:
        pair.look["defects"] = [rng.choice(DEFECTS)]


@on_world("class-known/class-not-marked", "gloves.class", "gloves.test", "gloves.custody", "glove-class", "protector",
          "cuff")  # fmt: skip
def _no_class(world: World, rng: Random, step: int) -> None:
    retest(world, rng, world.pairs[0], "before")
    del world.pairs[0].piece["class"]


@on_world("class-known/system-not-stated", "gloves.class", "gloves.test")
def _no_system(world: World, rng: Random, step: int) -> None:
    del world.pairs[0].piece["class_system"]


@on_world("class-known/other-system", "gloves.class", "gloves.test", law="t1")
def _other_system(world: World, rng: Random, step: int) -> None:
    world.pairs[0].piece["class_system"] = rng.choice(("gb", "jp"))


@on_world("glove-fits-wearer/size", "gloves.size", "person.sizes", steps=EDGE)
def _size(world: World, rng: Random, step: int) -> None:
    base = max(world.person["glove_sizes"])
    if world.second is not None:
        # Nobody else in the job can wear it either, so one reading of "own gloves" is as good as another.
        world.second["glove_sizes"] = list(world.person["glove_sizes"])
        for pair in world.pairs:
            pair.piece["size"] = base
    size = base + 1 + step / 2
    world.pairs[0].piece["size"] = int(size) if size == int(size) else size


@on_world("glove-fits-wearer/size-not-marked", "gloves.size")
def _no_size(world: World, rng: Random, step: int) -> None:
    del world.pairs[0].piece["size"]


@on_world("glove-fits-wearer/wearer-not-measured", "person.sizes")
def _no_sizes(world: World, rng: Random, step: int) -> None:
    del world.person["glove_sizes"]


@on_world("glove-fits-wearer/both-pairs-fit-one", "gloves.size", "person.sizes", "second", tasks="L")
def _both_fit_one(world: World, rng: Random, step: int) -> None:
    if world.second is None:
        raise Unfit
    size = min(world.person["glove_sizes"])
    world.second["glove_sizes"] = [size + 3]
    for pair in world.pairs:
        pair.piece["size"] = size


def _cuff_edge(name: str, unit_of: dict[str, int], **wants: str) -> None:
    @on_world(f"cuff-clearance/{name}", "cuff", "gloves.look", steps=EDGE, cuff="measured", also=wants)
    def edge(world: World, rng: Random, step: int) -> None:
        pair = world.pairs[0]
        if pair.look is not None:
            pair.look["clearance_mm"] = unit_of[world.plan.glove_class] - step


_cuff_edge("measured", CLEARANCE_MM)
_cuff_edge("measured-class-2", CLEARANCE_MM, glove_class="2")
_cuff_edge("measured-class-3", CLEARANCE_MM, glove_class="3")


@on_world("cuff-clearance/from-lengths", "cuff", "gloves.look", "spare.hands", tasks="IM", steps=EDGE)
def _cuff_lengths(world: World, rng: Random, step: int) -> None:
    pair = world.pairs[0]
    if pair.look is not None:
        del pair.look["clearance_mm"]
    pair.protectors["length_mm"] = pair.piece["length_mm"] - 15 - CLEARANCE_MM[world.plan.glove_class] + step


@on_plan("cuff-clearance/f496-table", "cuff", "gloves.look", steps=EDGE, cuff="measured", glove_class="0")
def _f496(plan: Plan, rng: Random, step: int) -> None:
    plan.site["clearance_table"] = "astm-f496"
    plan.approve("clearance_table")
    plan.pins["clearance"] = CLEARANCE_F496_MM["0"] - step


@on_world("cuff-clearance/not-measured", "cuff", "gloves.look")
def _cuff_unknown(world: World, rng: Random, step: int) -> None:
    for pair in world.pairs[:1]:
        pair.protectors.pop("length_mm", None)
        if pair.look is not None:
            del pair.look["clearance_mm"]


def _leather_edge(name: str, thin: bool, **wants: str) -> None:
    @on_world(f"protector-fits-class/{name}", "protector", steps=EDGE, also=wants)
    def edge(world: World, rng: Random, step: int) -> None:
        low, high = LEATHER_HUNDREDTHS[world.plan.glove_class]
        rng.choice(world.pairs).protectors["leather_mm"] = (low - step if thin else high + step) / 100


_leather_edge("leather-thin", True)
_leather_edge("leather-thin-class-00", True, glove_class="00")
_leather_edge("leather-thin-class-1", True, glove_class="1")
_leather_edge("leather-thick", False)
_leather_edge("leather-thick-class-1", False, glove_class="1")


@on_world("protector-fits-class/other-class", "protector")
def _other_cut(world: World, rng: Random, step: int) -> None:
    others = [class_ for class_ in ("00", "0", "1", "2") if class_ != world.plan.glove_class]
    rng.choice(world.pairs).protectors["cut_for_class"] = rng.choice(others)


@on_world("protector-fits-class/class-not-stated", "protector")
def _no_cut(world: World, rng: Random, step: int) -> None:
    del rng.choice(world.pairs).protectors["cut_for_class"]


@on_world("protector-fits-class/sheep-above-class-0", "protector", glove_class="1")
@on_world("harmless/sheep-class-0", "protector", steps=(0,), spoils=False, glove_class="0")
def _sheep(world: World, rng: Random, step: int) -> None:
    world.pairs[0].protectors["leather"] = "sheep"
