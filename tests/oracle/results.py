"""The three results of an electrical test, by the tables of the rule set."""

from __future__ import annotations

from . import figures
from .days import Rec, span
from .sets import GLOVES, HOSE_AND_COVERS, SLEEVES_AND_BLANKETS
from .world import Piece, World, number

FAILED, NO_COUNT, PASSED, UNSURE = "failed", "does-not-count", "passed", "passed-if-confirmed"
NAMES = {"no-protectors": "used-without-protectors", "repair": "repaired"}
EVENTS = frozenset({"suspect", "repaired", "patched", "used-without-protectors", "dropped", "wet"})


def named(word: object) -> str:
    """An event's key under its one spelling."""
    return NAMES.get(str(word), str(word))


def _printed_class(world: World, piece: Piece) -> str | None:
    """The class marked, where the set prints that class for the kind, whatever system the mark is of."""
    goods_class, system = piece.d.get("class"), world.rule_set.system
    if system == "gb":
        printed = tuple(figures.GB_AC_MV) if piece.kind in GLOVES else ()
    elif system == "iec":
        printed = figures.CLASSES if piece.kind in (*GLOVES, "dielectric-footwear") else figures.CLASSES[1:]
    else:
        printed = ()
    return str(goods_class) if goods_class in printed else None


def class_of(world: World, piece: Piece) -> str | None:
    """The class marked, where it is of the set's class system and the set prints it for the kind."""
    return _printed_class(world, piece) if piece.d.get("class_system") == world.rule_set.system else None


def number_of_class(world: World, piece: Piece) -> str | None:
    """The class number marked, where any chosen set judges the class system of the mark; house tables go by number."""
    if piece.d.get("class_system") not in {s.system for s in world.chosen}:
        return None
    goods_class = piece.d.get("class")
    return str(goods_class) if goods_class in figures.CLASSES else None


def _asked_v(world: World, piece: Piece, current: str) -> float | None:
    """Volts a test of the kind has to reach; None where the set prints none, or the class is not told."""
    tables, kind = world.rule_set.tables, piece.kind
    if kind in GLOVES or kind in SLEEVES_AND_BLANKETS:
        row = {("us", "ac"): figures.RETEST_AC_V, ("us", "dc"): figures.RETEST_DC_V, ("iec", "ac"): figures.RETEST_AC_V}
    elif kind == "insulating-matting":
        row = {("us", "ac"): figures.RETEST_AC_V, ("iec", "ac"): figures.RETEST_AC_V}
    elif kind in HOSE_AND_COVERS:
        row = {("us", "ac"): figures.RETEST_AC_V}
    elif kind == "dielectric-footwear":
        row = {("iec", "ac"): figures.RETEST_AC_V}
    else:
        row = {}
    return row.get((tables, current), {}).get(class_of(world, piece) or "")


def _limit_ma(world: World, piece: Piece, test: Rec) -> float | None:
    """Current limit in mA (US: at 60 Hz); None where none is printed for class and length, or either is unknown."""
    goods_class = _printed_class(world, piece) or ""
    if piece.kind == "dielectric-footwear":
        return figures.LEAKAGE_FOOTWEAR_MA.get(goods_class)
    length = piece.d.get("length_mm", 0)
    if world.rule_set.tables == "us":
        limit = figures.LEAKAGE_US_MA.get(goods_class, {}).get(length)
        soaked = test.d.get("soaked") is True and test.d.get("occasion") == "acceptance"
        return limit + figures.SOAK_EXTRA_MA if soaked and limit is not None else limit
    column = min(length, figures.LEAKAGE_LAST_COLUMN_MM)
    return figures.LEAKAGE_IEC_MA.get(goods_class, {}).get(column)


def _has_current_limit(world: World, piece: Piece) -> bool:
    if piece.kind in GLOVES:
        return world.rule_set.tables in {"us", "iec", "gb"}
    return piece.kind == "dielectric-footwear" and world.rule_set.tables == "iec"


def _hands_above_limit(world: World, piece: Piece, test: Rec) -> bool | None:
    """Whether a hand's current is above its limit; None where a figure needed to say so is missing."""
    limit = _limit_ma(world, piece, test)
    # The US table scales by frequency; microampere times hertz, so that 10.0 mA at 50 Hz is compared in whole numbers.
    hertz = number(test.d.get("frequency_hz")) if world.rule_set.tables == "us" else 60
    currents = [test.d.get("left_ma"), test.d.get("right_ma")]
    if limit is None or hertz is None:
        return None
    if any(c is not None and round(c * 1000) * 60 > round(limit * 1000 * hertz) for c in currents):
        return True
    return None if None in currents else False


def _confirmed(world: World, piece: Piece, test: Rec, current: str, *, with_currents: bool) -> str:
    name, tables, goods_class = world.rule_set.name, world.rule_set.tables, _printed_class(world, piece) or ""
    keys = [figures.goods_key(name, tables, piece.kind)]
    if test.d.get("test_v") is not None:
        keys.append(figures.retest_key(name, tables, current, goods_class))
    if with_currents and piece.kind in GLOVES:
        keys.append(figures.leakage_key(name, tables, goods_class))
    return PASSED if all(world.confirmed(k) for k in keys) else UNSURE


def _judged_by_figures(world: World, piece: Piece, test: Rec) -> str:
    current = str(test.d.get("kind_of_current"))
    with_currents = current == "ac" and _has_current_limit(world, piece)
    above = _hands_above_limit(world, piece, test) if with_currents else False
    if above:
        return FAILED
    asked = _asked_v(world, piece, current)
    dwell = figures.DWELL_S
    if test.d.get("occasion") == "acceptance":
        mat = piece.kind == "insulating-matting"
        dwell = figures.ACCEPTANCE_DWELL_MATTING_S if mat else figures.ACCEPTANCE_DWELL_S
    volts, held = number(test.d.get("test_v")), number(test.d.get("dwell_s"))
    if asked is None or volts is None or held is None or above is None:
        return NO_COUNT
    if volts < asked or held < dwell:
        return NO_COUNT
    return _confirmed(world, piece, test, current, with_currents=with_currents)


def _judged_by_statement(world: World, piece: Piece, test: Rec) -> str:
    waived = world.site.get("figures_required", True) is False and world.approved("figures_required")
    if not waived or not world.rule_set.may_waive_figures:
        return NO_COUNT
    if test.d.get("result") != "passed":
        return NO_COUNT
    volts = number(test.d.get("test_v"))
    if volts is None:
        return PASSED
    # Volts whose kind of current is not written are held against the higher figure.
    current = str(test.d.get("kind_of_current", "dc"))
    asked = _asked_v(world, piece, current)
    if asked is None or volts < asked:
        return NO_COUNT
    return _confirmed(world, piece, test, current, with_currents=False)


def result_of_test(world: World, piece: Piece, test: Rec) -> str:
    """One of the three results, or passed-if-confirmed where it hangs on a figure nobody confirmed in print."""
    if test.d.get("result") == "failed" or test.d.get("breakdown") is True:
        return FAILED
    evidence = test.d.get("evidence")
    doubtful = span(test.d.get("on")) is None or test.d.get("certificate_names_piece") is False
    if evidence == "figures":
        judged = _judged_by_figures(world, piece, test)
        return NO_COUNT if doubtful and judged != FAILED else judged
    if doubtful:
        return NO_COUNT
    if evidence == "stated-pass":
        return _judged_by_statement(world, piece, test)
    if evidence is None and test.d.get("result") == "passed":
        return PASSED
    return NO_COUNT


def tests_of(world: World, piece: Piece) -> list[tuple[Rec, str]]:
    """Every electrical test of the piece with its result."""
    if piece.tests is None:
        piece.tests = [(t, result_of_test(world, piece, t)) for t in piece.of("electrical-test")]
    return piece.tests


def _fail_stands(fail: Rec, test: Rec) -> bool:
    """On one day the failure stands, unless the later certificate names it."""
    if fail.last != test.first:
        return fail.last > test.first
    if test.d.get("after") != "failed":
        return True
    return bool(fail.at and test.at and fail.at >= test.at)


def tests_that_stand(world: World, piece: Piece, *results: str) -> list[Rec]:
    """Tests with one of the results that no failure has overtaken."""
    found = piece.status.get(results)
    if found is None:
        tests = tests_of(world, piece)
        fails = [t for t, r in tests if r == FAILED]
        found = [t for t, r in tests if r in results and not any(_fail_stands(f, t) for f in fails)]
        piece.status[results] = found
    return found


def has_open_failure(world: World, piece: Piece) -> bool:
    """Whether the piece failed a test and has not passed one since."""
    tests = tests_of(world, piece)
    failed = bool(tests) and any(r == FAILED for _, r in tests)
    return failed and not tests_that_stand(world, piece, PASSED)
