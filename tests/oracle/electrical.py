"""The electrical test: its three results, its clock, and the events that end it early."""

from __future__ import annotations

from datetime import date

from . import figures
from .days import ONE_DAY, Rec, add_months, span, strikes
from .world import CANNOT_TELL, INSTRUMENTS, LOOSE_MEMBERS, MET, NOT_MET, Piece, World, number

FAILED, NO_COUNT, PASSED, UNSURE = "failed", "does-not-count", "passed", "passed-if-confirmed"
NAMES = {"no-protectors": "used-without-protectors", "repair": "repaired"}
EVENTS = frozenset({"suspect", "repaired", "patched", "used-without-protectors", "dropped", "wet"})

Answer = tuple[str, date | None]


def named(word: object) -> str:
    """An event's key under its one spelling."""
    return NAMES.get(str(word), str(word))


def _limit_ma(piece: Piece, test: Rec) -> float | None:
    """Current limit in mA at 60 Hz; None where the class and length have none printed, or either is unknown."""
    row = figures.LEAKAGE_MA.get(str(piece.d.get("class")), {})
    limit = row.get(piece.d.get("length_mm", 0))
    if limit is None:
        return None
    soaked = test.d.get("soaked") is True and test.d.get("occasion") == "acceptance"
    return limit + figures.SOAK_EXTRA_MA if soaked else limit


def _hands_above_limit(piece: Piece, test: Rec) -> bool | None:
    """Whether a hand's current is above its limit; None where a figure needed to say so is missing."""
    limit, hertz = _limit_ma(piece, test), number(test.d.get("frequency_hz"))
    currents = [test.d.get("left_ma"), test.d.get("right_ma")]
    if limit is None or hertz is None:
        return None
    # Microampere times hertz, so that 10.0 mA at 50 Hz against 12 mA at 60 Hz is compared in whole numbers.
    if any(c is not None and round(c * 1000) * 60 > round(limit * 1000 * hertz) for c in currents):
        return True
    return None if None in currents else False


def _confirmed(world: World, piece: Piece, test: Rec, current: str, *, with_currents: bool) -> str:
    glove_class = str(piece.d.get("class"))
    keys = [figures.retest_key(current, glove_class)] if test.d.get("test_v") is not None else []
    if with_currents:
        keys.append(figures.leakage_key(glove_class))
    return PASSED if all(world.confirmed(k) for k in keys) else UNSURE


def _judged_by_figures(world: World, piece: Piece, test: Rec) -> str:
    current = str(test.d.get("kind_of_current"))
    above = _hands_above_limit(piece, test) if current == "ac" else False
    if above:
        return FAILED
    asked = figures.RETEST_V.get(current, {}).get(str(piece.d.get("class")))
    dwell = figures.ACCEPTANCE_DWELL_S if test.d.get("occasion") == "acceptance" else figures.DWELL_S
    volts, held = number(test.d.get("test_v")), number(test.d.get("dwell_s"))
    if asked is None or volts is None or held is None or above is None:
        return NO_COUNT
    if volts < asked or held < dwell:
        return NO_COUNT
    return _confirmed(world, piece, test, current, with_currents=current == "ac")


def _judged_by_statement(world: World, piece: Piece, test: Rec) -> str:
    if world.site.get("figures_required", True) is not False or not world.approved("figures_required"):
        return NO_COUNT
    if test.d.get("result") != "passed":
        return NO_COUNT
    volts = number(test.d.get("test_v"))
    if volts is None:
        return PASSED
    # Volts whose kind of current is not written are held against the higher figure.
    current = str(test.d.get("kind_of_current", "dc"))
    asked = figures.RETEST_V.get(current, {}).get(str(piece.d.get("class")))
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
    tests = tests_of(world, piece)
    fails = [t for t, r in tests if r == FAILED]
    return [t for t, r in tests if r in results and not any(_fail_stands(f, t) for f in fails)]


def has_open_failure(world: World, piece: Piece) -> bool:
    """Whether the piece failed a test and has not passed one since."""
    failed = any(r == FAILED for _, r in tests_of(world, piece))
    return failed and not tests_that_stand(world, piece, PASSED)


def _first_hand_over(world: World, piece: Piece) -> date | None:
    """F as the earliest day it can be; None where unknown. A piece never out is judged as handed over today."""
    stated = piece.d.get("first_issue", "unknown")
    out = [r.last for r in piece.of("issue")]
    out += [r.last for r in piece.of("hand-over") if r.d.get("to") != "crib"]
    if stated == "never":
        return min([*out, world.on])
    days = span(stated)
    if days is None or days[0] > world.on:
        return None
    return min([*out, days[0]])


def due_day(world: World, piece: Piece, tested: date) -> date:
    """First day the test no longer counts: 6 months in service, at most 12 on the shelf before first issue."""
    first = _first_hand_over(world, piece)
    due = add_months(tested, figures.MONTHS_IN_SERVICE)
    if first is not None and tested < first:
        shelf = add_months(tested, figures.MONTHS_ON_SHELF)
        due = min(add_months(first, figures.MONTHS_IN_SERVICE), shelf)
    maker = number(piece.d.get("maker_interval_months"))
    return due if maker is None else min(due, add_months(tested, int(maker)))


def _last_good_day(world: World, piece: Piece, tests: list[Rec]) -> date | None:
    if not tests:
        return None
    return due_day(world, piece, max(t.first for t in tests)) - ONE_DAY


def electrical_test_counts(world: World, piece: Piece) -> Answer | None:
    """Gloves: at least one passing test that counts is in the register."""
    if piece.kind != "rubber-gloves":
        return None
    results = {r for _, r in tests_of(world, piece)}
    return MET if PASSED in results else CANNOT_TELL if UNSURE in results else NOT_MET, None


def electrical_test_in_date(world: World, piece: Piece) -> Answer | None:
    """Gloves: the last passing test, not overtaken by a failure, is younger than its interval."""
    if piece.kind != "rubber-gloves":
        return None
    good = _last_good_day(world, piece, tests_that_stand(world, piece, PASSED))
    if good and good >= world.on:
        return MET, good
    perhaps = _last_good_day(world, piece, tests_that_stand(world, piece, PASSED, UNSURE))
    return (CANNOT_TELL if perhaps and perhaps >= world.on else NOT_MET), None


def _closes(test: Rec, event: Rec) -> bool:
    if not strikes(event, test):
        return True
    names_it = named(test.d.get("after")) == named(event.d.get("kind"))
    return names_it and test.first == event.last and not (test.at and event.at)


def _is_part_released(piece: Piece, event: Rec) -> bool:
    """A part of measuring kit replaced: what clears it is no electrical test, and a release says that it was cleared."""
    if piece.kind not in (*INSTRUMENTS, *LOOSE_MEMBERS) or event.d.get("kind") != "repaired":
        return False
    return any(r.d.get("by") and not strikes(event, r) for r in piece.of("release"))


def no_open_event(world: World, piece: Piece) -> Answer | None:
    """Any piece: each triggering event is followed by a passing test, or by one of its day that names it."""
    sure = tests_that_stand(world, piece, PASSED)
    perhaps = tests_that_stand(world, piece, PASSED, UNSURE)
    outcome = MET
    for event in piece.of("event"):
        if any(_closes(t, event) for t in sure) or _is_part_released(piece, event):
            continue
        if not any(_closes(t, event) for t in perhaps):
            return NOT_MET, None
        outcome = CANNOT_TELL
    return outcome, None
