"""Ways of people, roles, custody, holds, look-overs of plain pieces, arc, and of the kit as a list."""

from __future__ import annotations

import copy
from datetime import date, timedelta
from random import Random

from tests.oracle.kits_chain import spare_unit
from tests.oracle.kits_plan import Plan, Table, Unfit
from tests.oracle.kits_tests import retest
from tests.oracle.kits_ways import EDGE, GLOVES, on_plan, on_world
from tests.oracle.kits_world import GLOVE_KINDS, World, add, glove_pair, inspection, plain_piece, records

#: Pieces whose look-over answers nothing but itself.
PLAIN = ("leather-protectors", "proving-unit", "barrier-set", "lock-off-set", "insulated-tool", "arc-face-shield")
NOT_HANDS = (*PLAIN, "multimeter", "two-pole-detector", "test-leads", "tip-or-clip", "rescue-hook")
MEASURING = ("multimeter", "two-pole-detector", "test-leads", "tip-or-clip")
CHAIN_AREAS = (
    "chain.marks",
    "chain.caps",
    "chain.leads",
    "chain.second",
    "chain.named",
    "chain.tip",
    "chain.fuse",
    "altitude",
    "calibration",
    "self-test.two-pole-detector",
    "meter.look",
    "leads.look",
)


def _any(world: World, rng: Random, kinds: tuple[str, ...] = PLAIN) -> Table:
    pieces = world.of(*kinds)
    if not pieces:
        raise Unfit
    return rng.choice(pieces)


def _role(name: str, kinds: tuple[str, ...], *touches: str, tasks: str = "ILM", **wants: str) -> None:
    @on_world(f"task-roles-filled/{name}", f"role.{name}", *touches, tasks=tasks, early=True, also=wants)
    def missing(world: World, rng: Random, step: int) -> None:
        world.drop(*kinds)


_role(
    "no-gloves",
    GLOVE_KINDS,
    *GLOVES,
    "glove-class",
    "cuff",
    "protector",
    "second.hands",
    "person.sizes",
    "spare.hands",
)
_role("no-protectors", ("leather-protectors",), "protector", "cuff", "second.hands", "spare.hands")
_role("no-chain", ("multimeter", "two-pole-detector", "test-leads", "tip-or-clip"), *CHAIN_AREAS, "volts", "proving")
_role("no-proving-unit", ("proving-unit",), "proving", "self-test.proving-unit", "spare")
_role("no-barrier", ("barrier-set",), "spare", tasks="IL")
_role("no-lock-off", ("lock-off-set",), "spare", tasks="IL")
_role("no-tool", ("insulated-tool",), "mark", "volts", "spare", tasks="L")
_role("no-face-shield", ("arc-face-shield",), "arc", "spare", tasks="L", energy="set")
_role("no-rescue-hook", ("rescue-hook",), "mark", "volts", "hook.look", tasks="L")


@on_world("person-authorised/end-day", "person.end", steps=EDGE)
def _end(world: World, rng: Random, step: int) -> None:
    world.person["valid_until"] = world.plan.until - timedelta(days=step)


@on_world("person-authorised/ended-before", "person.end")
def _ended(world: World, rng: Random, step: int) -> None:
    world.person["valid_until"] = world.plan.on - timedelta(days=rng.randrange(1, 300))


@on_world("person-authorised/other-scope", "person.scope", tasks="LM")
def _scope(world: World, rng: Random, step: int) -> None:
    world.person["scopes"] = ["isolate"]


@on_world("person-authorised/no-scope", "person.scope")
def _no_scope(world: World, rng: Random, step: int) -> None:
    world.person["scopes"] = []


@on_world("second-person-present/missing", "second", "second.hands", tasks="LM")
def _alone(world: World, rng: Random, step: int) -> None:
    world.second = None


@on_world(
    "second-person-present/same-person",
    "second",
    "second.hands",
    "gloves.size",
    "person.sizes",
    "person.end",
    "person.scope",
    tasks="LM",
)
def _same(world: World, rng: Random, step: int) -> None:
    for pair in world.pairs:
        pair.piece["size"] = world.person["glove_sizes"][0]
    world.second = copy.deepcopy(world.person)


@on_world(
    "second-person-present/no-own-gloves",
    "second",
    "second.hands",
    "gloves.size",
    "person.sizes",
    "spare.hands",
    tasks="L",
    early=True,
)
def _no_own_gloves(world: World, rng: Random, step: int) -> None:
    world.pieces.remove(world.pairs.pop().piece)


@on_world(
    "second-person-present/no-own-protectors",
    "second",
    "second.hands",
    "protector",
    "spare.hands",
    tasks="L",
    early=True,
)
def _no_own_protectors(world: World, rng: Random, step: int) -> None:
    world.pieces.remove(world.pairs[-1].protectors)


@on_world("at-hand/with-somebody-else", "custody")
def _elsewhere(world: World, rng: Random, step: int) -> None:
    _any(world, rng, NOT_HANDS)["custody"] = "P7"


@on_world("at-hand/gloves-with-somebody-else", "gloves.custody", "gloves.test")
def _gloves_elsewhere(world: World, rng: Random, step: int) -> None:
    retest(world, rng, world.pairs[0], "before")
    world.pairs[0].piece["custody"] = "P7"


def _part_held(piece: Table, rng: Random, on: date) -> None:
    if rng.random() < 0.5:
        add(piece, "hold", on - timedelta(days=30), why=rng.choice(("lead", "cap", "mark")))
    else:
        add(piece, "inspection", on - timedelta(days=30), defects=["cracked"])


def _hold_ways() -> None:
    kinds = (*NOT_HANDS, *GLOVE_KINDS)

    @on_world("not-held/held", "hold")
    def held(world: World, rng: Random, step: int) -> None:
        add(_any(world, rng, kinds), "hold", world.plan.on - timedelta(days=rng.randrange(10)), why="recall")

    @on_world("not-held/released-too-late", "hold")
    def late(world: World, rng: Random, step: int) -> None:
        piece, on = _any(world, rng, kinds), world.plan.on
        add(piece, "hold", on - timedelta(days=5), why="recall")
        add(piece, "release", on + timedelta(days=1), by="P9")

    @on_world("not-held/held-again", "hold")
    def again(world: World, rng: Random, step: int) -> None:
        piece, on = _any(world, rng, kinds), world.plan.on
        add(piece, "hold", on - timedelta(days=50), why="recall")
        add(piece, "release", on - timedelta(days=40), by="P9")
        add(piece, "hold", on - timedelta(days=rng.randrange(1, 30)), why="recall")

    @on_world("not-held/released-without-its-test", "hold")
    def untested(world: World, rng: Random, step: int) -> None:
        # The last test of these worlds lies up to 140 days back; the hold comes after it and nothing answers it.
        piece, on = _any(world, rng, kinds), world.plan.on
        why = rng.choice(("suspect", "dropped", "wet", "no-protectors", "repair"))
        add(piece, "hold", on - timedelta(days=3), why=why)
        add(piece, "release", on - timedelta(days=1), by="P9")

    @on_world("not-held/released-by-nobody", "hold")
    def nameless(world: World, rng: Random, step: int) -> None:
        piece, on = _any(world, rng, kinds), world.plan.on
        add(piece, "hold", on - timedelta(days=30), why="recall")
        add(piece, "release", on - timedelta(days=20))

    @on_world("not-held/defect-merely-released", "hold")
    def unmended(world: World, rng: Random, step: int) -> None:
        piece, on = _any(world, rng, GLOVE_KINDS), world.plan.on
        add(piece, "inspection", on - timedelta(days=30), defects=["cut"])
        add(piece, "release", on - timedelta(days=20), by="P9")

    @on_world("not-held/part-not-replaced-before-the-look", "hold")
    def unreplaced(world: World, rng: Random, step: int) -> None:
        piece, on = _any(world, rng, MEASURING), world.plan.on
        _part_held(piece, rng, on)
        add(piece, "inspection", on - timedelta(days=25), defects=[])
        if rng.random() < 0.5:
            add(piece, "event", on - timedelta(days=25), kind="repaired")
        add(piece, "release", on - timedelta(days=20), by="P9")

    @on_world("harmless/part-replaced-and-looked-over", "hold", steps=(0,), spoils=False)
    def replaced(world: World, rng: Random, step: int) -> None:
        piece, on = _any(world, rng, MEASURING), world.plan.on
        _part_held(piece, rng, on)
        add(piece, "event", on - timedelta(days=28), kind="repaired")
        add(piece, "inspection", on - timedelta(days=25), defects=[])
        add(piece, "release", on - timedelta(days=20), by="P9")

    @on_world("harmless/held-and-released", "hold", steps=(0,), spoils=False)
    def released(world: World, rng: Random, step: int) -> None:
        piece, on = _any(world, rng, NOT_HANDS), world.plan.on
        add(piece, "hold", on - timedelta(days=rng.randrange(20, 90)), why="recall")
        add(piece, "release", on - timedelta(days=rng.randrange(1, 19)), by="P9")

    @on_world("not-withdrawn/withdrawn", "withdrawn")
    def withdrawn(world: World, rng: Random, step: int) -> None:
        add(_any(world, rng, kinds), "withdrawal", world.plan.on - timedelta(days=rng.choice((0, 0, 1, 7, 200))))

    @on_world("harmless/withdrawn-the-day-after", "withdrawn", steps=(0,), spoils=False)
    def ahead(world: World, rng: Random, step: int) -> None:
        # Judged on its first day the record is not there yet; a job of one day ends before it.
        if world.plan.until != world.plan.on:
            raise Unfit
        add(_any(world, rng, NOT_HANDS), "withdrawal", world.plan.on + timedelta(days=1))


_hold_ways()


@on_world("inspected/missing", "plain.look")
def _not_looked(world: World, rng: Random, step: int) -> None:
    piece = _any(world, rng)
    piece["records"].remove(records(piece, "inspection")[0])


@on_world("inspected/day-before", "plain.look")
def _looked_before(world: World, rng: Random, step: int) -> None:
    records(_any(world, rng), "inspection")[0]["on"] = world.plan.on - timedelta(days=rng.choice((1, 1, 1, 30)))


@on_world("inspected/day-after", "plain.look")
def _looked_ahead(world: World, rng: Random, step: int) -> None:
    records(_any(world, rng), "inspection")[0]["on"] = world.plan.on + timedelta(days=1)


@on_world("inspected/returned-since", "plain.look")
def _looked_returned(world: World, rng: Random, step: int) -> None:
    piece = _any(world, rng, tuple(kind for kind in PLAIN if kind != "proving-unit"))
    records(piece, "inspection")[0]["at"] = "06:30"
    add(piece, "issue", world.plan.on - timedelta(days=1))
    add(piece, "return", world.plan.on, at="11:00")


def _hook_way(name: str, **age: int) -> None:
    @on_world(f"inspection-in-date/{name}", "hook.look", tasks="L")
    def stale(world: World, rng: Random, step: int) -> None:
        # Today's look-over would renew the yearly one, so it has to be missing too.
        look = records(_any(world, rng, ("rescue-hook",)), "inspection")[0]
        on = world.plan.on
        leap = on.month == 2 and on.day == 29
        look["on"] = on.replace(year=on.year - 1, day=28 if leap else on.day) - timedelta(**age)
        look.pop("at", None)


_hook_way("hook-twelve-months", days=0)
_hook_way("hook-past-twelve-months", days=40)


@on_world("inspection-in-date/hook-never", "hook.look", tasks="L")
def _hook_never(world: World, rng: Random, step: int) -> None:
    hook = _any(world, rng, ("rescue-hook",))
    hook["records"].remove(records(hook, "inspection")[0])


@on_world("voltage-mark-stands-voltage/not-marked", "mark", tasks="L")
def _no_mark(world: World, rng: Random, step: int) -> None:
    del _any(world, rng, ("insulated-tool", "rescue-hook"))["voltage_mark"]


@on_world("voltage-mark-stands-voltage/ac-only", "mark", tasks="L", supply="isolated-dc")
def _ac_mark(world: World, rng: Random, step: int) -> None:
    _any(world, rng, ("insulated-tool", "rescue-hook"))["voltage_mark"] = {"ac_v": 1000}


def _shield(world: World, rng: Random, energy: int, **fields: object) -> None:
    """Set the job's incident energy, in tenths of a cal/cm2, and every field of the one shield."""
    shield = _any(world, rng, ("arc-face-shield",))
    for key in ("arc_rating_cal", "fabric_rating_cal", "window_rating_cal", "hood", "balaclava"):
        shield.pop(key, None)
    shield.update(fields)
    world.plan.job["incident_energy_cal"] = energy / 10


@on_world("arc-rating/rating", "arc", tasks="L", steps=EDGE, energy="set")
def _rating(world: World, rng: Random, step: int) -> None:
    energy = rng.randrange(20, 390)
    _shield(world, rng, energy, arc_rating_cal=(energy - step) / 10, hood=energy > 120, balaclava=energy <= 120)


@on_world("arc-rating/weaker-of-fabric-and-window", "arc", tasks="L", steps=EDGE, energy="set")
def _weaker(world: World, rng: Random, step: int) -> None:
    energy = rng.randrange(20, 390)
    weak, strong = (energy - step) / 10, 65
    fabric, window = (weak, strong) if rng.random() < 0.5 else (strong, weak)
    _shield(world, rng, energy, fabric_rating_cal=fabric, window_rating_cal=window, hood=True, balaclava=False)


@on_world("arc-rating/hood-above-12", "arc", tasks="L", steps=EDGE, energy="set")
def _hood(world: World, rng: Random, step: int) -> None:
    _shield(world, rng, 120 + step, arc_rating_cal=25, hood=False, balaclava=True)


@on_world("arc-rating/cover-from-1-2", "arc", tasks="L", steps=EDGE, energy="set")
def _cover(world: World, rng: Random, step: int) -> None:
    # 1.2 itself asks for the balaclava, so 1.1 is the last value without.
    _shield(world, rng, 11 + step, arc_rating_cal=8, hood=False, balaclava=False)


@on_world("arc-rating/no-balaclava", "arc", tasks="L", energy="set")
def _bare(world: World, rng: Random, step: int) -> None:
    _shield(world, rng, rng.randrange(20, 110), arc_rating_cal=12, hood=False, balaclava=False)


@on_world("arc-rating/rating-not-stated", "arc", tasks="L", energy="set")
def _unrated(world: World, rng: Random, step: int) -> None:
    _shield(world, rng, rng.randrange(20, 110), hood=True, balaclava=False)


@on_world("no-piece-twice/listed-twice", "twice")
def _twice(world: World, rng: Random, step: int) -> None:
    world.pieces.append(copy.deepcopy(_any(world, rng, (*PLAIN, *GLOVE_KINDS, "rescue-hook"))))


@on_world("harmless/spare-pieces", "spare", "mark", "volts", steps=(0,), spoils=False)
def _spare(world: World, rng: Random, step: int) -> None:
    kinds = ["barrier-set", "lock-off-set", "insulated-tool"]
    for kind in kinds[: rng.randrange(1, 4)]:
        world.pieces.append(plain_piece(world.plan, rng, kind, f"X{len(world.pieces)}"))
    if rng.random() < 0.4:
        world.pieces.append(spare_unit(world, rng))


@on_world(
    "harmless/spare-gloves",
    "spare.hands",
    "days",
    "gloves.size",
    "person.sizes",
    "cuff",
    "protector",
    tasks="IM",
    steps=(0,),
    spoils=False,
    cuff="measured",
)
def _spare_gloves(world: World, rng: Random, step: int) -> None:
    sizes = world.person["glove_sizes"]
    glove_pair(world, rng, 2, sizes[0], measured=True)


@on_world("harmless/tool-not-looked-over-for-a-year", "spare", "mark", tasks="L", steps=(0,), spoils=False)
def _tool_history(world: World, rng: Random, step: int) -> None:
    tool = _any(world, rng, ("insulated-tool",))
    add(tool, "inspection", world.plan.on - timedelta(days=400), defects=[])


@on_plan("harmless/job-of-weeks", "days", steps=(0,), spoils=False)
def _weeks(plan: Plan, rng: Random, step: int) -> None:
    plan.until = plan.on + timedelta(days=rng.randrange(14, 29))


@on_world("harmless/second-look", "plain.look", steps=(0,), spoils=False)
def _second_look(world: World, rng: Random, step: int) -> None:
    inspection(world.plan, rng, _any(world, rng, ("barrier-set", "lock-off-set", "leather-protectors")))
