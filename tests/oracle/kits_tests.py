"""Ways of the gloves' electrical test: its clock, its figures, what followed it."""

from __future__ import annotations

from datetime import date, timedelta
from random import Random

from tests.oracle.kits_plan import Plan, Table, Unfit
from tests.oracle.kits_tables import LEAKAGE_MA, add_months, landing_on
from tests.oracle.kits_ways import EDGE, on_plan, on_world
from tests.oracle.kits_world import Pair, World, add, give_figures

TEST = ("gloves.test", "gloves.custody")
COUNTS = "electrical-test-counts"
IN_DATE = "electrical-test-in-date"
#: Events that only a passing test naming them clears.
EVENTS = ("suspect", "dropped", "wet", "used-without-protectors")


def retest(world: World, rng: Random, pair: Pair, style: str, tested: date | str | None = None) -> Table:
    """Rewrite a pair's history as one passing test without figures; answers the test.

    `style` "before": first issued before the test; "never", "unknown": as the key says. `tested` defaults to a day
    well inside six months.
    """
    piece, on = pair.piece, world.plan.on
    undone = ("issue", "return", "hand-over", "event", "electrical-test")
    piece["records"] = [record for record in piece["records"] if record["what"] not in undone]
    piece["custody"] = "crib"
    day = tested if tested is not None else on - timedelta(days=rng.randrange(10, 140))
    piece["first_issue"] = style if style != "before" else on - timedelta(days=rng.randrange(230, 700))
    pair.test = add(piece, "electrical-test", day, result="passed")
    return pair.test


def _landing(rng: Random, due: date, months: int) -> date:
    days = landing_on(due, months)
    if not days:
        raise Unfit
    return rng.choice(days)


def due_day(world: World, step: int) -> date:
    """Due day that makes the last good day one after, on, or one before the last planned day."""
    return world.plan.until + timedelta(days=1 - step)


def landing(world: World, rng: Random, step: int, months: int, *, latest: int = 1) -> date:
    """A day at least `latest` days before the first whose `months`-later day is the due day; Unfit where none is."""
    days = landing_on(due_day(world, step), months)
    if not days or (world.plan.on - days[-1]).days < latest:
        raise Unfit
    return rng.choice(days)


@on_world(f"{IN_DATE}/six-months-from-test", *TEST, steps=EDGE, law="six")
def _from_test(world: World, rng: Random, step: int) -> None:
    retest(world, rng, world.pairs[0], "before", _landing(rng, due_day(world, step), 6))


@on_world(f"{IN_DATE}/tested-on-first-issue", *TEST, steps=EDGE, law="six")
def _same_day(world: World, rng: Random, step: int) -> None:
    tested = _landing(rng, due_day(world, step), 6)
    retest(world, rng, world.pairs[0], "before", tested)
    world.pairs[0].piece["first_issue"] = tested


@on_world(f"{IN_DATE}/first-issue-unknown", *TEST, steps=EDGE, law="six")
def _unknown(world: World, rng: Random, step: int) -> None:
    retest(world, rng, world.pairs[0], "unknown", _landing(rng, due_day(world, step), 6))
    if rng.random() < 0.5:
        del world.pairs[0].piece["first_issue"]


@on_world(f"{IN_DATE}/six-months-from-first-issue", *TEST, steps=EDGE, law="issue-clock")
def _from_first_issue(world: World, rng: Random, step: int) -> None:
    used = _landing(rng, due_day(world, step), 6)
    retest(world, rng, world.pairs[0], "before", used - timedelta(days=rng.randrange(1, 150)))
    world.pairs[0].piece["first_issue"] = used


@on_world(f"{IN_DATE}/twelve-months-cap", *TEST, steps=EDGE, law="issue-clock")
def _cap(world: World, rng: Random, step: int) -> None:
    due, on = due_day(world, step), world.plan.on
    tested = _landing(rng, due, 12)
    # First issued late enough for its own six months to reach past the cap.
    room = (on - add_months(due, -6)).days - 4
    if room < 1:
        raise Unfit
    retest(world, rng, world.pairs[0], "before", tested)
    world.pairs[0].piece["first_issue"] = on - timedelta(days=rng.randrange(room))


@on_world(f"{IN_DATE}/never-issued", *TEST, steps=EDGE, law="issue-clock")
def _never(world: World, rng: Random, step: int) -> None:
    retest(world, rng, world.pairs[0], "never", _landing(rng, due_day(world, step), 12))


@on_plan(
    f"{IN_DATE}/never-issued-long-job",
    *TEST,
    "days",
    "person.end",
    tasks="IM",
    steps=EDGE,
    history="fresh",
    law="issue-clock",
)
def _long_job(plan: Plan, rng: Random, step: int) -> None:
    # The hand-over itself starts the six months, on the first day of the job.
    plan.until = add_months(plan.on, 6) + timedelta(days=step - 1)


@on_world(f"{IN_DATE}/no-test", *TEST)
def _no_test(world: World, rng: Random, step: int) -> None:
    test = retest(world, rng, world.pairs[0], rng.choice(("before", "never", "unknown")))
    world.pairs[0].piece["records"].remove(test)


@on_world(f"{IN_DATE}/test-after-the-day", *TEST)
def _ahead(world: World, rng: Random, step: int) -> None:
    retest(world, rng, world.pairs[0], "before", world.plan.on + timedelta(days=1))


@on_world(f"{IN_DATE}/failed-since", *TEST)
def _failed_since(world: World, rng: Random, step: int) -> None:
    test = retest(world, rng, world.pairs[0], "before")
    add(world.pairs[0].piece, "electrical-test", test["on"] + timedelta(days=rng.randrange(1, 10)), result="failed")


@on_world(f"{IN_DATE}/pass-and-fail-on-one-day", *TEST)
def _both_on_one_day(world: World, rng: Random, step: int) -> None:
    test = retest(world, rng, world.pairs[0], "before")
    add(world.pairs[0].piece, "electrical-test", test["on"], result="failed")


@on_world(f"{IN_DATE}/vague-month", *TEST, steps=(0,), law="six")
def _vague_month(world: World, rng: Random, step: int) -> None:
    # Six months from the first of the month: spoiled when that day is in the job, in order a month later.
    until = world.plan.until
    month = add_months(until.replace(day=1), -6 if step > 0 else -5)
    retest(world, rng, world.pairs[0], "before", f"{month:%Y-%m}")


@on_world(f"{IN_DATE}/vague-week", *TEST, steps=(0,), law="six")
def _vague_week(world: World, rng: Random, step: int) -> None:
    day = add_months(world.plan.until, -6)
    year, week, _ = (day if step > 0 else day + timedelta(days=13)).isocalendar()
    retest(world, rng, world.pairs[0], "before", f"{year}-W{week:02d}")


@on_world("not-withdrawn/breakdown-test", *TEST)
def _breakdown(world: World, rng: Random, step: int) -> None:
    test = retest(world, rng, world.pairs[0], "before")
    before = test["on"] - timedelta(days=rng.randrange(1, 60))
    add(world.pairs[0].piece, "electrical-test", before, result="failed", breakdown=True)


def _figures(world: World, rng: Random, current: str = "ac", hz: int = 60) -> tuple[Table, int]:
    """A test of the first pair by figures at `hz`, well in date; answers it and its limit in tenths of a mA."""
    pair = world.pairs[0]
    test = retest(world, rng, pair, "before")
    limit = give_figures(pair.piece, test, rng, current)
    if current == "ac":
        test["frequency_hz"] = hz
        test["left_ma"], test["right_ma"] = rng.randrange(10, 60) / 10, rng.randrange(10, 60) / 10
    return test, limit


@on_world(f"{COUNTS}/test-volts-ac", *TEST, steps=EDGE, print="all", law="us")
def _volts_ac(world: World, rng: Random, step: int) -> None:
    _figures(world, rng)[0]["test_v"] -= step


@on_world(f"{COUNTS}/test-volts-dc", *TEST, steps=EDGE, print="all", law="us")
def _volts_dc(world: World, rng: Random, step: int) -> None:
    _figures(world, rng, "dc")[0]["test_v"] -= step


@on_world(f"{COUNTS}/dwell-in-service", *TEST, steps=EDGE, print="all", law="us")
def _dwell(world: World, rng: Random, step: int) -> None:
    _figures(world, rng, rng.choice(("ac", "dc")))[0]["dwell_s"] = 60 - step


@on_world(f"{COUNTS}/dwell-acceptance", *TEST, steps=EDGE, print="all", law="us")
def _dwell_acceptance(world: World, rng: Random, step: int) -> None:
    _figures(world, rng, rng.choice(("ac", "dc")))[0].update(occasion="acceptance", dwell_s=180 - step)


@on_world("harmless/dwell-at-the-upper-bound", *TEST, steps=(-1, 0, 1), spoils=False, print="all", law="us")
def _dwell_long(world: World, rng: Random, step: int) -> None:
    _figures(world, rng)[0]["dwell_s"] = 180 + step


@on_world("harmless/test-volts-far-above", *TEST, steps=(0,), spoils=False, print="all", law="us")
def _volts_far(world: World, rng: Random, step: int) -> None:
    test = _figures(world, rng, rng.choice(("ac", "dc")))[0]
    test["test_v"] = test["test_v"] * 3 // 2


def _hand(test: Table, rng: Random, tenths: int) -> None:
    test[rng.choice(("left_ma", "right_ma"))] = tenths / 10


@on_world(f"{IN_DATE}/current-in-service", *TEST, steps=EDGE, print="all", law="us")
def _current(world: World, rng: Random, step: int) -> None:
    test, limit = _figures(world, rng)
    test["soaked"] = rng.random() < 0.3  # the 2 mA of the soak are for acceptance alone
    _hand(test, rng, limit + step)


@on_world(f"{IN_DATE}/current-at-50-hz", *TEST, "cuff", steps=EDGE, print="all", law="us", cuff="measured")
def _current_50(world: World, rng: Random, step: int) -> None:
    pair = world.pairs[0]
    # Limits of 12 and 18 mA scale to a whole tenth; every class has a length with one of them.
    pair.piece["length_mm"] = next(mm for mm, ma in LEAKAGE_MA[world.plan.glove_class].items() if ma in (12, 18))
    pair.protectors.pop("length_mm", None)
    test, limit = _figures(world, rng, hz=50)
    _hand(test, rng, limit * 5 // 6 + step)


@on_world(f"{IN_DATE}/current-acceptance-soaked", *TEST, steps=EDGE, print="all", law="us")
def _current_soaked(world: World, rng: Random, step: int) -> None:
    test, limit = _figures(world, rng)
    test.update(occasion="acceptance", dwell_s=180, soaked=True)
    _hand(test, rng, limit + 20 + step)


@on_world(f"{COUNTS}/sheet-only", *TEST)
def _sheet(world: World, rng: Random, step: int) -> None:
    retest(world, rng, world.pairs[0], "before").update(evidence="sheet-only", occasion="in-service")


@on_world(f"{COUNTS}/figure-missing", *TEST, print="all", law="us")
def _figure_missing(world: World, rng: Random, step: int) -> None:
    test, _ = _figures(world, rng)
    del test[rng.choice(("test_v", "dwell_s", "left_ma", "right_ma", "kind_of_current"))]


@on_world(f"{COUNTS}/length-missing", *TEST, "cuff", print="all", law="us", cuff="measured")
def _length_missing(world: World, rng: Random, step: int) -> None:
    _figures(world, rng)
    del world.pairs[0].piece["length_mm"]


@on_world(f"{COUNTS}/no-limit-printed", *TEST, "cuff", print="all", law="us", cuff="measured", glove_class="1")
def _no_limit(world: World, rng: Random, step: int) -> None:
    _figures(world, rng)
    world.pairs[0].piece["length_mm"] = 280
    world.pairs[0].protectors.pop("length_mm", None)


@on_world(
    f"{COUNTS}/not-confirmed-in-print",
    *TEST,
    print="open",
    law="osha",
    glove_class="00",
    supply="plain-dc",
    instrument="detector",
)
def _not_confirmed(world: World, rng: Random, step: int) -> None:
    _figures(world, rng)


@on_world("harmless/nothing-confirmed-in-print", *TEST, steps=(0,), spoils=False,
          print="open", law="osha", glove_class="0", supply="isolated-dc", instrument="detector")  # fmt: skip
def _open_class_0(world: World, rng: Random, step: int) -> None:
    # Class 0 at 60 Hz rests on figures seen in print (P), so nothing waits for an officer.
    if rng.random() < 0.5:
        _figures(world, rng)


@on_world("harmless/older-tests", *TEST, steps=(0,), spoils=False)
def _older(world: World, rng: Random, step: int) -> None:
    pair = world.pairs[0]
    tested = pair.test["on"]
    if not isinstance(tested, date):
        raise Unfit
    for months in range(6, 6 * rng.randrange(2, 4), 6):
        add(pair.piece, "electrical-test", add_months(tested, -months), result="passed")
    if rng.random() < 0.3:
        # Did not count then, and a test that counts has come since.
        short: Table = {
            "evidence": "figures",
            "kind_of_current": "ac",
            "frequency_hz": 60,
            "dwell_s": 30,
            "test_v": 1000,
        }
        add(pair.piece, "electrical-test", tested - timedelta(days=3), result="passed", left_ma=2, right_ma=2, **short)


@on_world("harmless/out-and-back-before", *TEST, steps=(0,), spoils=False)
def _out_and_back(world: World, rng: Random, step: int) -> None:
    pair, on = world.pairs[0], world.plan.on
    tested = retest(world, rng, pair, "before")["on"]
    used = pair.piece["first_issue"]
    add(pair.piece, "issue", used)
    add(pair.piece, "return", used + timedelta(days=rng.randrange(1, 30)))
    again = tested + timedelta(days=rng.randrange(1, (on - tested).days - 1))
    add(pair.piece, "issue", again)
    add(pair.piece, "return", again + timedelta(days=1))


@on_world("harmless/event-named-by-the-test", *TEST, steps=(0,), spoils=False)
def _event_cleared(world: World, rng: Random, step: int) -> None:
    pair = world.pairs[0]
    test, kind = retest(world, rng, pair, "before"), rng.choice(EVENTS)
    add(pair.piece, "event", test["on"] - timedelta(days=rng.choice((1, 1, 5, 20))), kind=kind)
    test["after"] = kind


@on_world("harmless/tested-on-acceptance-or-not-stated", *TEST, steps=(0,), spoils=False, print="all", law="us")
def _occasions(world: World, rng: Random, step: int) -> None:
    test, _ = _figures(world, rng, rng.choice(("ac", "dc")))
    test.update(rng.choice(({"occasion": "acceptance", "dwell_s": 180}, {"occasion": "not-stated", "dwell_s": 75})))


def _open_event(name: str, days: int) -> None:
    @on_world(f"no-open-event/{name}", *TEST)
    def event(world: World, rng: Random, step: int) -> None:
        pair = world.pairs[0]
        after = retest(world, rng, pair, "before")["on"] + timedelta(days=days)
        add(pair.piece, "event", after, kind=rng.choice(EVENTS))


_open_event("on-the-day-of-the-test", 0)
_open_event("day-after-the-test", 1)


@on_world("no-open-event/vague-month", *TEST)
def _vague_event(world: World, rng: Random, step: int) -> None:
    # Counts from the latest day of its month, which is past the test; well over by the day of the job.
    pair = world.pairs[0]
    tested = add_months(world.plan.on, -3).replace(day=rng.randrange(2, 27))
    retest(world, rng, pair, "before", tested)
    add(pair.piece, "event", f"{tested:%Y-%m}", kind=rng.choice(EVENTS))


@on_world("no-open-event/other-event-named", *TEST)
def _other_event(world: World, rng: Random, step: int) -> None:
    pair = world.pairs[0]
    test = retest(world, rng, pair, "before")
    test["after"] = "suspect"
    add(pair.piece, "event", test["on"], kind="dropped")


@on_world("repair-allowed/trimmed-gloves", *TEST)
def _trimmed(world: World, rng: Random, step: int) -> None:
    pair = world.pairs[0]
    test = retest(world, rng, pair, "before")
    test["after"] = "repaired"
    add(pair.piece, "event", test["on"] - timedelta(days=4), kind="repaired", repair="trimmed")


@on_world("repair-allowed/place-not-stated", *TEST)
def _patched(world: World, rng: Random, step: int) -> None:
    pair = world.pairs[0]
    test = retest(world, rng, pair, "before")
    test["after"] = "patched"
    add(pair.piece, "event", test["on"] - timedelta(days=4), kind="patched")


def fresh_history(world: World, rng: Random) -> None:
    """For the long job: never issued, tested within the last days, so that only the hand-over's six months end."""
    for pair in world.pairs:
        retest(world, rng, pair, "never", world.plan.on - timedelta(days=rng.randrange(1, 20)))
