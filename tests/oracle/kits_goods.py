"""Ways of sleeves, blankets, mats, boots, hoses and covers: class, volts, clock, figures, events and repairs."""

from __future__ import annotations

from datetime import date, timedelta
from random import Random
from typing import Any

from tests.oracle.kits_chain import one_of
from tests.oracle.kits_extra import CLASSED, HOSE_AND_COVERS, SLEEVES_AND_BLANKETS, give_goods_figures
from tests.oracle.kits_plan import Plan, Table, single, volts
from tests.oracle.kits_tables import LEAKAGE_BOOTS_MA, MAX_AC_V, MAX_DC_V, TRIMMED_MM, add_months
from tests.oracle.kits_tests import EVENTS, landing
from tests.oracle.kits_ways import EDGE, on_plan, on_world
from tests.oracle.kits_world import World, add, records

CLASS = "insulation-class-stands-voltage"
COUNTS = "electrical-test-counts"
IN_DATE = "electrical-test-in-date"
LOOKED = ("insulating-matting", "dielectric-footwear")
PATCHABLE = ("rubber-sleeves", "insulating-blanket")


def _bare(world: World, kind: str) -> Table:
    """The one extra piece of the kind, with nothing but its look-over."""
    piece = one_of(world, kind)
    piece["records"] = records(piece, "inspection")
    return piece


def _tested(world: World, rng: Random, kind: str, on: date | None = None, **more: Any) -> tuple[Table, Table]:
    """The piece with one passing test, and the test."""
    piece = _bare(world, kind)
    day = on or world.plan.on - timedelta(days=rng.randrange(10, 140))
    return piece, add(piece, "electrical-test", day, **({"result": "passed"} | more))


# The clock


def _months_edge(name: str, kind: str, months: int, law: str, **wants: str) -> None:
    @on_world(f"{IN_DATE}/{kind}-{name}", "extra", steps=EDGE, extra=kind, law=law, also=wants)
    def edge(world: World, rng: Random, step: int) -> None:
        piece, _ = _tested(world, rng, kind, landing(world, rng, step, months))
        # First issue moves nothing here: the twelve months count from the test.
        used = world.plan.on - timedelta(days=rng.randrange(1, 900))
        piece["first_issue"] = rng.choice(("never", "unknown", used))


for _kind in SLEEVES_AND_BLANKETS:
    _months_edge("twelve-months", _kind, 12, "goods-12")
for _kind in (*SLEEVES_AND_BLANKETS, *HOSE_AND_COVERS):
    _months_edge("washington-six-months", _kind, 6, "wa")
for _mat_class in ("1", "2"):
    _months_edge(f"class-{_mat_class}-twelve-months", "insulating-matting", 12, "mats", goods_class=_mat_class)


def _no_test(kind: str, law: str, **wants: str) -> None:
    @on_world(f"{IN_DATE}/{kind}-no-test", "extra", extra=kind, law=law, also=wants)
    def missing(world: World, rng: Random, step: int) -> None:
        _bare(world, kind)


_no_test("rubber-sleeves", "t1")
_no_test("insulating-blanket", "t1")
_no_test("line-hose", "wa")
_no_test("insulating-cover", "wa")
_no_test("insulating-matting", "mats", goods_class="1")


def _untested(name: str, kind: str, law: str, **wants: str) -> None:
    @on_world(f"harmless/{kind}-{name}", "extra", steps=(0,), spoils=False, extra=kind, law=law, also=wants)
    def fine(world: World, rng: Random, step: int) -> None:
        piece = _bare(world, kind)
        if rng.random() < 0.5:
            years = rng.randrange(2, 8)
            add(piece, "electrical-test", add_months(world.plan.on, -12 * years), result="passed")


_untested("untested", "line-hose", "hose-free")
_untested("untested", "insulating-cover", "hose-free")
_untested("untested", "dielectric-footwear", "t1")
_untested("untested-us", "insulating-matting", "no-mats")
_untested("untested-class-0", "insulating-matting", "mats", goods_class="0")


def _failed(kind: str) -> None:
    @on_world(f"not-held/{kind}-failed", "extra", extra=kind, law="t1")
    def failed(world: World, rng: Random, step: int) -> None:
        _, test = _tested(world, rng, kind)
        day = test["on"] + timedelta(days=rng.randrange(1, 9))
        add(one_of(world, kind), "electrical-test", day, result="failed")


for _kind in CLASSED:
    _failed(_kind)


@on_world(f"{IN_DATE}/telecom-sleeves-material-unknown", "extra", law="telecom", extra="rubber-sleeves")
def _no_material(world: World, rng: Random, step: int) -> None:
    _tested(world, rng, "rubber-sleeves")[0].pop("material", None)


# Figures


def _figures(world: World, rng: Random, kind: str, current: str) -> Table:
    piece, test = _tested(world, rng, kind)
    give_goods_figures(rng, piece, test, current)
    return test


def _figure_ways(kind: str, law: str, current: str, **wants: str) -> None:
    name = f"{kind}-{current}-{law}"

    @on_world(f"{COUNTS}/{name}-volts", "extra", steps=EDGE, extra=kind, law=law, print="all", also=wants)
    def test_volts(world: World, rng: Random, step: int) -> None:
        _figures(world, rng, kind, current)["test_v"] -= step

    @on_world(f"{COUNTS}/{name}-dwell", "extra", steps=EDGE, extra=kind, law=law, print="all", also=wants)
    def dwell(world: World, rng: Random, step: int) -> None:
        test, bound = _figures(world, rng, kind, current), 60
        if rng.random() < 0.5:
            test["occasion"], bound = "acceptance", 60 if kind == "insulating-matting" else 180
        test["dwell_s"] = bound - step


for _kind in SLEEVES_AND_BLANKETS:
    _figure_ways(_kind, "us", "ac")
    _figure_ways(_kind, "us", "dc")
    _figure_ways(_kind, "iec", "ac")
_figure_ways("insulating-matting", "iec", "ac", goods_class="1")


@on_world(f"{COUNTS}/blanket-dc-where-none-is-printed", "extra", extra="insulating-blanket", law="iec", print="all")
def _blanket_dc(world: World, rng: Random, step: int) -> None:
    _figures(world, rng, "insulating-blanket", "dc")


@on_world(f"{COUNTS}/sleeves-volts-missing", "extra", extra="rubber-sleeves", law="t1", print="all")
def _volts_missing(world: World, rng: Random, step: int) -> None:
    del _figures(world, rng, "rubber-sleeves", "ac")[rng.choice(("test_v", "dwell_s", "kind_of_current"))]


@on_world("not-held/boots-current", "extra", steps=EDGE, extra="dielectric-footwear", law="iec", print="all")
def _boots_current(world: World, rng: Random, step: int) -> None:
    test = _figures(world, rng, "dielectric-footwear", "ac")
    limit = LEAKAGE_BOOTS_MA[one_of(world, "dielectric-footwear")["class"]] * 10
    test[rng.choice(("left_ma", "right_ma"))] = (limit + step) / 10


# The class and its volts


def _class_ways(kind: str) -> None:
    @on_world(f"class-known/{kind}-not-marked", "extra", extra=kind, law="t1")
    def unmarked(world: World, rng: Random, step: int) -> None:
        piece, _ = _tested(world, rng, kind)
        del piece[rng.choice(("class", "class_system"))]

    @on_world(f"class-known/{kind}-other-system", "extra", extra=kind, law="t1")
    def other(world: World, rng: Random, step: int) -> None:
        _tested(world, rng, kind)[0]["class_system"] = rng.choice(("gb", "jp"))

    if kind != "dielectric-footwear":

        @on_world(f"class-known/{kind}-class-00", "extra", extra=kind, law="t1")
        def low(world: World, rng: Random, step: int) -> None:
            _tested(world, rng, kind)[0]["class"] = "00"

    @on_plan(f"{CLASS}/{kind}-dc-limit", "volts", "glove-class", "extra", tasks="IM", steps=EDGE, extra=kind, law="t1")
    def direct(plan: Plan, rng: Random, step: int) -> None:
        _limit(plan, rng, kind, step, "isolated-dc", MAX_DC_V)

    @on_plan(f"{CLASS}/{kind}-ac-limit", "volts", "glove-class", "extra", tasks="IM", steps=EDGE, extra=kind, law="t1")
    def alternating(plan: Plan, rng: Random, step: int) -> None:
        _limit(plan, rng, kind, step, rng.choice(("ac-single-phase", "ac-three-phase")), MAX_AC_V)


def _limit(plan: Plan, rng: Random, kind: str, step: int, supply: str, table: dict[str, int]) -> None:
    """The class of the extra piece is the short plank, behind a margin so that the circuit stays in scope."""
    goods_class = rng.choice(("00", "0")) if kind == "dielectric-footwear" else "0"
    basis_points = rng.choice((1000, 1500, 2000, 2500))
    plan.glove_class = "1"
    plan.pins["goods_class"] = goods_class
    plan.site["margin_percent"] = basis_points // 100
    single(plan, supply, maker_max_v=volts(table[goods_class] * 1000 * 10_000 // (10_000 + basis_points) + step))


for _kind in CLASSED:
    _class_ways(_kind)


@on_world(f"{CLASS}/boots-not-tested-with-dc", "extra", extra="dielectric-footwear", law="t1", supply="isolated-dc")
def _boots_ac(world: World, rng: Random, step: int) -> None:
    boots = one_of(world, "dielectric-footwear")
    if rng.random() < 0.5:
        boots["dc_tested"] = False
    else:
        del boots["dc_tested"]


@on_world("harmless/boots-not-tested-with-dc-on-ac", "extra", steps=(0,), spoils=False, extra="dielectric-footwear",
          law="t1", supply="ac-single-phase")  # fmt: skip
def _boots_on_ac(world: World, rng: Random, step: int) -> None:
    one_of(world, "dielectric-footwear")["dc_tested"] = False


@on_world(f"{CLASS}/boots-class-without-dc-limit", "extra", extra="dielectric-footwear", law="t1",
          supply="isolated-dc")  # fmt: skip
def _boots_class_3(world: World, rng: Random, step: int) -> None:
    _tested(world, rng, "dielectric-footwear")[0]["class"] = rng.choice(("3", "4"))


# The yearly look-over


def _stale(kind: str) -> None:
    @on_world(f"inspection-in-date/{kind}-twelve-months", "extra", extra=kind, law="t1")
    def stale(world: World, rng: Random, step: int) -> None:
        # Today's look-over would renew the yearly one, so it has to be missing too.
        look = records(one_of(world, kind), "inspection")[0]
        look["on"] = add_months(world.plan.on, -12) - timedelta(days=rng.choice((0, 0, 40)))
        look.pop("at", None)

    @on_world(f"inspected/{kind}-eleven-months", "extra", extra=kind, law="t1")
    def fresh(world: World, rng: Random, step: int) -> None:
        look = records(one_of(world, kind), "inspection")[0]
        look["on"] = add_months(world.plan.on, -12) + timedelta(days=60)
        look.pop("at", None)


for _kind in LOOKED:
    _stale(_kind)


# Events and repairs


def _open_event(kind: str) -> None:
    @on_world(f"no-open-event/{kind}-not-tested-since", "extra", extra=kind, law="t1")
    def event(world: World, rng: Random, step: int) -> None:
        piece, test = _tested(world, rng, kind)
        since = test["on"] + timedelta(days=rng.randrange(3))
        add(piece, "event", since, kind=rng.choice(("suspect", "dropped", "wet")))

    @on_world(f"harmless/{kind}-event-tested-since", "extra", steps=(0,), spoils=False, extra=kind, law="t1")
    def tested(world: World, rng: Random, step: int) -> None:
        piece, test = _tested(world, rng, kind)
        what = rng.choice(EVENTS)
        add(piece, "event", test["on"] - timedelta(days=rng.choice((1, 5, 20))), kind=what)
        test["after"] = what


for _kind in CLASSED:
    _open_event(_kind)


def _repaired(world: World, rng: Random, kind: str, repair: str, **more: Any) -> None:
    piece, test = _tested(world, rng, kind)
    what = "patched" if repair == "patched" else "repaired"
    test["after"] = what
    entry = more if what == "patched" else more | {"repair": repair}
    add(piece, "event", test["on"] - timedelta(days=rng.randrange(1, 9)), kind=what, **entry)


def _repair_ways(kind: str, allowed: str, refused: tuple[str, ...], **more: Any) -> None:
    if allowed:

        @on_world(f"harmless/{kind}-{allowed}", "extra", steps=(0,), spoils=False, extra=kind, law="osha")
        @on_world(f"repair-allowed/{kind}-{allowed}-where-the-set-is-silent", "extra", extra=kind, law="silent")
        def listed(world: World, rng: Random, step: int) -> None:
            _repaired(world, rng, kind, allowed, **more)

    @on_world(f"repair-allowed/{kind}-not-listed", "extra", extra=kind, law="osha")
    def unlisted(world: World, rng: Random, step: int) -> None:
        _repaired(world, rng, kind, rng.choice(refused))


_repair_ways("rubber-sleeves", "patched", ("trimmed", "cut-shorter"))
_repair_ways("insulating-blanket", "patched", ("cut-shorter",))
_repair_ways("line-hose", "cut-shorter", ("patched", "trimmed"))
_repair_ways("insulating-cover", "", ("patched", "trimmed", "cut-shorter"))
_repair_ways("insulating-matting", "", ("patched", "trimmed"))
_repair_ways("dielectric-footwear", "", ("patched", "trimmed"))


def _trim_edge(goods_class: str) -> None:
    @on_world(f"repair-allowed/blanket-trimmed-class-{goods_class}", "extra", steps=EDGE, extra="insulating-blanket",
              law="osha", goods_class=goods_class)  # fmt: skip
    def trimmed(world: World, rng: Random, step: int) -> None:
        sides = [TRIMMED_MM - step, rng.choice((TRIMMED_MM, 700, 900))]
        rng.shuffle(sides)
        _repaired(world, rng, "insulating-blanket", "trimmed", remaining_mm=sides)


for _trim_class in ("0", "1", "2"):
    _trim_edge(_trim_class)


@on_world("repair-allowed/blanket-trimmed-size-unknown", "extra", extra="insulating-blanket", law="osha")
def _trim_unknown(world: World, rng: Random, step: int) -> None:
    _repaired(world, rng, "insulating-blanket", "trimmed")


def _telecom_patch(kind: str) -> None:
    @on_world(f"repair-allowed/telecom-patched-{kind}", "extra", extra=kind, law="telecom")
    def patched(world: World, rng: Random, step: int) -> None:
        _repaired(world, rng, kind, "patched")


for _kind in PATCHABLE:
    _telecom_patch(_kind)
