"""Ways of the rule sets beyond the default: other clocks, other tables, sets that say nothing, two sets together."""

from __future__ import annotations

from datetime import timedelta
from random import Random

from tests.oracle.kits_plan import Plan, Table, single, volts
from tests.oracle.kits_tables import LEAKAGE_IEC_MA, MAX_GB_AC_V, add_months
from tests.oracle.kits_tests import COUNTS, IN_DATE, TEST, landing, retest
from tests.oracle.kits_ways import EDGE, on_plan, on_world
from tests.oracle.kits_world import World, add, give_figures

CLASS = "insulation-class-stands-voltage"
EXEMPT = "dielectric_exempt_00_0"


@on_world(f"{IN_DATE}/six-months-even-if-never-issued", *TEST, steps=EDGE, law="test-clock")
def _never_from_test(world: World, rng: Random, step: int) -> None:
    retest(world, rng, world.pairs[0], "never", landing(world, rng, step, 6))


@on_world(f"{IN_DATE}/six-months-even-if-issued-later", *TEST, steps=EDGE, law="test-clock")
def _later_from_test(world: World, rng: Random, step: int) -> None:
    tested = landing(world, rng, step, 6)
    retest(world, rng, world.pairs[0], "before", tested)
    world.pairs[0].piece["first_issue"] = tested + timedelta(days=rng.randrange(1, (world.plan.on - tested).days + 1))


@on_world(f"{IN_DATE}/gb-six-months-once-handed-over", *TEST, steps=EDGE, law="gb", supply="ac-single-phase")
def _gb(world: World, rng: Random, step: int) -> None:
    # The issue judged is itself the first hand-over, so a piece never out has six months too.
    retest(world, rng, world.pairs[0], rng.choice(("never", "unknown", "before")), landing(world, rng, step, 6))


def _telecom_edge(material: str, months: int, style: str) -> None:
    @on_world(f"{IN_DATE}/telecom-{material}-{style}", *TEST, steps=EDGE, law="telecom")
    def edge(world: World, rng: Random, step: int) -> None:
        pair, tested = world.pairs[0], landing(world, rng, step, months)
        retest(world, rng, pair, "never" if style == "new" else "before", tested)
        pair.piece["material"] = material
        if style == "new" and rng.random() < 0.5:
            used = tested + timedelta(days=rng.randrange(1, (world.plan.on - tested).days + 1))
            pair.piece["first_issue"] = used
        elif style == "reissued":
            earlier = tested - timedelta(days=rng.randrange(1, 300))
            pair.piece["first_issue"] = rng.choice((tested, earlier, "unknown"))


_telecom_edge("natural", 12, "new")
_telecom_edge("natural", 9, "reissued")
_telecom_edge("synthetic", 18, "new")
_telecom_edge("synthetic", 15, "reissued")


@on_world(f"{IN_DATE}/telecom-material-unknown", *TEST, law="telecom")
def _material(world: World, rng: Random, step: int) -> None:
    retest(world, rng, world.pairs[0], "before")
    del world.pairs[0].piece["material"]


@on_world("repair-allowed/telecom-patched-gloves", *TEST, law="telecom")
def _patched(world: World, rng: Random, step: int) -> None:
    test = retest(world, rng, world.pairs[0], "before")
    test["after"] = "patched"
    add(world.pairs[0].piece, "event", test["on"] - timedelta(days=4), kind="patched", place="cuff")


@on_world("harmless/gloves-patched-on-the-cuff", *TEST, steps=(0,), spoils=False, law="osha")
@on_world("repair-allowed/set-silent-on-glove-repairs", *TEST, law="silent")
def _patched_on_cuff(world: World, rng: Random, step: int) -> None:
    test = retest(world, rng, world.pairs[0], "before")
    test["after"] = "patched"
    place = rng.choice(("cuff", "gauntlet", "between-wrist-and-cuff"))
    add(world.pairs[0].piece, "event", test["on"] - timedelta(days=4), kind="patched", place=place)


def _iec_figures(world: World, rng: Random) -> tuple[Table, int]:
    """A test of the first pair with AC figures, well in date; answers it and its limit of table T2b in tenths."""
    pair = world.pairs[0]
    test = retest(world, rng, pair, "before")
    give_figures(pair.piece, test, rng, "ac")
    test["frequency_hz"] = rng.choice((50, 60))
    test["left_ma"], test["right_ma"] = rng.randrange(10, 60) / 10, rng.randrange(10, 60) / 10
    return test, LEAKAGE_IEC_MA[pair.piece["class"]][min(pair.piece["length_mm"], 460)] * 10


@on_world(f"{IN_DATE}/current-iec", *TEST, steps=EDGE, law="iec", print="all")
def _current_iec(world: World, rng: Random, step: int) -> None:
    # Neither the frequency nor the soak moves this table's limits.
    test, limit = _iec_figures(world, rng)
    if rng.random() < 0.3:
        test.update(occasion="acceptance", dwell_s=180, soaked=True)
    test[rng.choice(("left_ma", "right_ma"))] = (limit + step) / 10


@on_world(f"{IN_DATE}/current-iec-long-composite", *TEST, "cuff", steps=EDGE, law="iec", print="all",
          glove_class="1", glove_kind="composite-gloves", cuff="measured")  # fmt: skip
def _current_800(world: World, rng: Random, step: int) -> None:
    world.pairs[0].piece["length_mm"] = 800
    world.pairs[0].protectors.pop("length_mm", None)
    test, limit = _iec_figures_of_800(world, rng)
    test[rng.choice(("left_ma", "right_ma"))] = (limit + step) / 10


def _iec_figures_of_800(world: World, rng: Random) -> tuple[Table, int]:
    piece = world.pairs[0].piece
    piece["length_mm"] = 460
    test, limit = _iec_figures(world, rng)
    piece["length_mm"] = 800
    return test, limit


@on_world(f"{COUNTS}/no-us-limit-for-long-composite", *TEST, "cuff", law="us", print="all", glove_class="1",
          glove_kind="composite-gloves", cuff="measured")  # fmt: skip
def _us_800(world: World, rng: Random, step: int) -> None:
    _iec_figures_of_800(world, rng)
    world.pairs[0].protectors.pop("length_mm", None)


@on_world(f"{COUNTS}/test-volts-iec", *TEST, steps=EDGE, law="iec", print="all")
def _volts_iec(world: World, rng: Random, step: int) -> None:
    _iec_figures(world, rng)[0]["test_v"] -= step


@on_world(f"{COUNTS}/stated-pass-where-no-set-offers-it", *TEST, law="iec")
@on_world(f"{COUNTS}/stated-pass-one-set-of-two", *TEST, law="us-and-iec")
def _stated_pass(world: World, rng: Random, step: int) -> None:
    retest(world, rng, world.pairs[0], "before").update(evidence="stated-pass", occasion="in-service")
    world.plan.site["figures_required"] = False
    world.plan.approve("figures_required")


@on_world(f"{COUNTS}/dc-test-where-none-is-printed", *TEST, law="iec", print="all")
@on_world(f"{COUNTS}/dc-test-one-set-of-two", *TEST, law="us-and-iec", print="all")
def _dc_figures(world: World, rng: Random, step: int) -> None:
    pair = world.pairs[0]
    give_figures(pair.piece, retest(world, rng, pair, "before"), rng, "dc")


@on_world(f"{COUNTS}/figures-under-gb", *TEST, law="gb", supply="ac-single-phase", print="all")
def _figures_gb(world: World, rng: Random, step: int) -> None:
    pair = world.pairs[0]
    give_figures(pair.piece, retest(world, rng, pair, "before"), rng, "ac")


@on_world(f"{IN_DATE}/shelf-months-not-confirmed", *TEST, tasks="IM", law="nfpa", print="open", glove_class="0",
          supply="plain-dc", instrument="detector")  # fmt: skip
def _shelf(world: World, rng: Random, step: int) -> None:
    # Seven months on the shelf: only the twelve months, of confidence M in this set, would still carry it.
    on = world.plan.on
    retest(world, rng, world.pairs[0], "never", add_months(on, -7) - timedelta(days=rng.randrange(60)))


@on_world("harmless/shelf-months-not-needed", *TEST, tasks="IM", steps=(0,), spoils=False, law="nfpa", print="open",
          glove_class="0", supply="plain-dc", instrument="detector")  # fmt: skip
def _shelf_fine(world: World, rng: Random, step: int) -> None:
    retest(world, rng, world.pairs[0], "never")


def _exempt(plan: Plan) -> None:
    """The site lets classes 00 and 0 go without."""
    plan.site[EXEMPT] = {"approved_by": "P9", "reason": "annex E.5"}


@on_world("harmless/exempt-class-00", *TEST, steps=(0,), spoils=False, law="en", glove_class="00", supply="plain-dc")
@on_world("harmless/exempt-class-0", *TEST, steps=(0,), spoils=False, law="en", glove_class="0", supply="plain-dc")
@on_world(f"{IN_DATE}/no-exemption-for-class-1", *TEST, law="en", glove_class="1")
@on_world(f"{IN_DATE}/exemption-no-set-offers", *TEST, law="not-en", glove_class="0")
def _exempt_untested(world: World, rng: Random, step: int) -> None:
    pair = world.pairs[0]
    test = retest(world, rng, pair, rng.choice(("before", "never", "unknown")))
    pair.piece["records"].remove(test)
    _exempt(world.plan)


@on_world("not-held/exempt-but-failed", *TEST, law="en", glove_class="0")
def _exempt_failed(world: World, rng: Random, step: int) -> None:
    retest(world, rng, world.pairs[0], "before")["result"] = "failed"
    _exempt(world.plan)


@on_plan(f"{CLASS}/gb-class-0-limit", "volts", "glove-class", steps=EDGE, law="gb")
def _gb_limit(plan: Plan, rng: Random, step: int) -> None:
    supply = rng.choice(("ac-single-phase", "ac-three-phase"))
    single(plan, supply, maker_max_v=volts(MAX_GB_AC_V["0"] * 1000 + step))
    plan.pins["gb_class"] = "0"


@on_plan(f"{CLASS}/gb-prints-no-dc", "volts", "glove-class", law="gb")
def _gb_dc(plan: Plan, rng: Random, step: int) -> None:
    single(plan, "isolated-dc", maker_max_v=rng.randrange(100, 370))
    plan.pins["gb_class"] = "1"


@on_plan("class-known/jp-names-no-class-here", "volts", "glove-class", "gloves.class", law="jp")
def _jp(plan: Plan, rng: Random, step: int) -> None:
    supply = rng.choice(("isolated-dc", "ac-single-phase"))
    single(plan, supply, maker_max_v=rng.randrange(100, 370))


@on_world("class-known/one-set-of-two-reads-another-system", "gloves.class", "gloves.test", law="t1-and-gb",
          supply="ac-single-phase")  # fmt: skip
def _two_systems(world: World, rng: Random, step: int) -> None:
    for pair in world.pairs:
        retest(world, rng, pair, "before")


@on_world("class-known/gb-has-no-class-00", "gloves.class", "gloves.test", "cuff", "protector", law="gb",
          supply="ac-single-phase")  # fmt: skip
def _gb_00(world: World, rng: Random, step: int) -> None:
    retest(world, rng, world.pairs[0], "before")
    world.pairs[0].piece["class"] = "00"


@on_plan("protectors-worn/telecom-250-volts", "volts", "glove-class", "protector", "cuff", tasks="IM", steps=EDGE,
         law="telecom")  # fmt: skip
def _bare_telecom(plan: Plan, rng: Random, step: int) -> None:
    # Below 250 V alone, so that 249.999 V is the last that passes.
    plan.glove_class = "0"
    plan.job |= {"without_protectors": True, "dexterity_stated_by": "P9"}
    supply = rng.choice(("isolated-dc", "ac-single-phase"))
    single(plan, supply, maker_max_v=volts(249_999 + step))


@on_plan("protectors-worn/telecom-other-class", "volts", "glove-class", "protector", "cuff", tasks="IM", law="telecom")
def _bare_telecom_class(plan: Plan, rng: Random, step: int) -> None:
    plan.glove_class = rng.choice(("00", "1"))
    plan.job |= {"without_protectors": True, "dexterity_stated_by": "P9", "low_damage_risk_stated_by": "P9"}
    single(plan, "isolated-dc", maker_max_v=rng.randrange(70, 200))
