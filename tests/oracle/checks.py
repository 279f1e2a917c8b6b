"""Demands on single pieces: holds, custody, checks of the day, calibration, fuse, tip, altitude, tool marks, arc."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from . import figures
from .days import ONE_DAY, Rec, add_months, strikes
from .electrical import Answer, hands_failed, hands_passed
from .results import EVENTS, PASSED, has_open_failure, named, tests_that_stand
from .sets import (
    GLOVES,
    INSTRUMENTS,
    LOOSE_MEMBERS,
    SLEEVES_AND_BLANKETS,
    TOOLS,
)
from .world import (
    CANNOT_TELL,
    MET,
    NOT_MET,
    Piece,
    World,
    best,
    holds,
    number,
    offered_mv,
    stands,
    worst,
)

MEASURING = (*INSTRUMENTS, *LOOSE_MEMBERS)
GOOD_FUSES = frozenset({"hbc", "hrc"})
PARTS = frozenset({"lead", "cap", "mark"})
MENDABLE = (*GLOVES, *SLEEVES_AND_BLANKETS, "line-hose")


def settle(clean: Sequence[Rec], unsure: Sequence[Rec], bad: Sequence[Rec]) -> str:
    """Met by a clean record that no bad one stands against; cannot tell by an unsure one; else not met."""
    if (clean and not bad) or any(not any(strikes(b, c) for b in bad) for c in clean):
        return MET
    if any(not any(strikes(b, u) for b in bad) for u in unsure):
        return CANNOT_TELL
    return NOT_MET


def valid_today(world: World, piece: Piece, check: Rec) -> bool:
    """A check of the day that no return, change of custody or incident has voided since."""
    return check.first == world.on and not any(strikes(v, check) for v in piece.voids)


def _holds_of(piece: Piece) -> Iterable[tuple[Rec, str]]:
    """Holds as written, and those a defect brings at once."""
    for r in piece.of("hold"):
        yield r, named(r.d.get("why"))
    for r in piece.of("inspection"):
        if r.d.get("defects"):
            yield r, "defect"
    for r in piece.of("air-test"):
        if hands_failed(r):
            yield r, "defect"


def _tested_after(world: World, piece: Piece, why: str, since: date, until: date) -> bool:
    tests = tests_that_stand(world, piece, PASSED)
    return any(named(t.d.get("after")) == why and since <= t.first <= until for t in tests)


def _evidence_clears(world: World, piece: Piece, hold: Rec, why: str, release: Rec) -> bool:
    if why in EVENTS:
        return _tested_after(world, piece, why, hold.last, release.first)
    if why == "defect" and piece.kind in MENDABLE:
        repairs = [e for e in piece.of("event") if e.d.get("kind") in {"repaired", "patched"} and e.last >= hold.last]
        return any(_tested_after(world, piece, str(e.d["kind"]), e.last, release.first) for e in repairs)
    if why in PARTS or why == "defect":
        looks = [r for r in piece.of("inspection") if r.d.get("defects") == [] and r.first <= release.first]
        mended = [e for e in piece.of("event") if e.d.get("kind") == "repaired" and not strikes(hold, e)]
        return piece.kind in MEASURING and any(not strikes(e, r) for e in mended for r in looks)
    return True


def _mended(world: World, piece: Piece, check: Rec) -> bool:
    """Repaired after the check, and a passed test that names the repair since."""
    repairs = [e for e in piece.of("event") if e.d.get("kind") in {"repaired", "patched"} and e.first >= check.last]
    return any(_tested_after(world, piece, str(e.d["kind"]), e.last, world.on) for e in repairs)


def _is_cleared(world: World, piece: Piece, hold: Rec, why: str) -> bool:
    if world.as_finding and hold.d.get("what") != "hold" and not piece.of("release"):
        return _mended(world, piece, hold)
    for release in piece.of("release"):
        if strikes(hold, release):
            continue
        is_named = world.as_finding or release.d.get("by")
        if is_named and _evidence_clears(world, piece, hold, why, release):
            return True
    return False


def not_held(world: World, piece: Piece) -> Answer | None:
    """No hold stands, and no failed electrical test is without a later pass."""
    if has_open_failure(world, piece):
        return NOT_MET, None
    for hold, why in _holds_of(piece):
        if not _is_cleared(world, piece, hold, why):
            return NOT_MET, None
    return MET, None


def not_withdrawn(world: World, piece: Piece) -> Answer | None:
    """No withdrawal and no breakdown test, ever."""
    del world
    tests = piece.of("electrical-test")
    broken = bool(tests) and any(t.d.get("breakdown") is True for t in tests)
    return NOT_MET if broken or piece.of("withdrawal") else MET, None


def _is_out(piece: Piece) -> bool:
    issues, returns = piece.of("issue"), piece.of("return")
    return bool(issues) and any(not any(not strikes(issue, back) for back in returns) for issue in issues)


def at_hand(world: World, piece: Piece) -> Answer | None:
    """In the crib and not out, or in the keeping of the person who wears or uses it."""
    custody = piece.d.get("custody", "crib")
    if custody == "crib":
        return NOT_MET if _is_out(piece) else MET, None
    users = [world.person]
    if world.task == "work-in-open-live-pack" and piece.kind in (*GLOVES, "leather-protectors"):
        users.append(world.second)
    return MET if any(u and u.get("code") == custody for u in users) else NOT_MET, None


def inspected(world: World, piece: Piece) -> Answer | None:
    """Any piece: looked over today with no defect; a meter without a lead in the current jack."""
    clean: list[Rec] = []
    unsure: list[Rec] = []
    bad: list[Rec] = []
    for r in piece.of("inspection"):
        defects = r.d.get("defects")
        if not r.first <= world.on <= r.last:
            continue
        if defects or (piece.kind in INSTRUMENTS and r.d.get("jack") == "current"):
            bad.append(r)
        elif valid_today(world, piece, r):
            (clean if world.as_finding or defects == [] else unsure).append(r)
    by_look = settle(clean, unsure, bad)
    if piece.kind not in GLOVES or by_look == MET:
        return by_look, None
    # A failed air test speaks against the air tests that stand for a look-over, not against a look-over itself.
    airs = piece.of("air-test")
    clean = [r for r in airs if hands_passed(r) and valid_today(world, piece, r)]
    bad += [r for r in airs if hands_failed(r) and r.last == world.on]
    return best((by_look, settle(clean, [], bad))), None


def _air_outcome(world: World, piece: Piece, test: Rec) -> str:
    if not hands_passed(test):
        return NOT_MET
    inflation = number(test.d.get("inflation"))
    if inflation is None:
        return world.unknown
    limit = figures.INFLATION.get(str(piece.d.get("type")))
    if limit is not None:
        return MET if inflation <= limit else NOT_MET
    if inflation > max(figures.INFLATION.values()):
        return NOT_MET
    return MET if inflation <= min(figures.INFLATION.values()) else CANNOT_TELL


def air_test_done(world: World, piece: Piece) -> Answer | None:
    """Gloves: both hands air-tested today, inflation within the type's limit."""
    tests = [(r, _air_outcome(world, piece, r)) for r in piece.of("air-test")]
    bad = [r for r, outcome in tests if outcome == NOT_MET and r.last == world.on]
    valid = [(r, outcome) for r, outcome in tests if valid_today(world, piece, r)]
    clean = [r for r, outcome in valid if outcome == MET]
    unsure = [r for r, outcome in valid if outcome == CANNOT_TELL]
    return settle(clean, unsure, bad), None


def self_test_done(world: World, piece: Piece) -> Answer | None:
    """Detectors and proving units: self-test passed today."""
    tests = piece.of("self-test")
    bad = [r for r in tests if r.d.get("result") != "passed" and r.last == world.on]
    clean = [r for r in tests if r.d.get("result") == "passed" and valid_today(world, piece, r)]
    return settle(clean, [], bad), None


def _dated(world: World, piece: Piece, good: Sequence[Rec], bad: Sequence[Rec], months: int) -> Answer:
    alive = [g for g in good if not any(b.last >= g.first for b in bad)]
    if not alive:
        return NOT_MET, None
    maker = number(piece.d.get("maker_interval_months"))
    interval = months if maker is None else min(months, int(maker))
    last_good = add_months(max(g.first for g in alive), interval) - ONE_DAY
    return (MET, last_good) if last_good >= world.on else (NOT_MET, None)


def calibration_in_date(world: World, piece: Piece) -> Answer | None:
    """Meters, clamps, insulation testers, torque tools: calibrated within 12 months; no other kind is asked."""
    records = piece.of("calibration")
    good = [r for r in records if r.d.get("result") == "passed"]
    return _dated(world, piece, good, [r for r in records if r.d.get("result") == "failed"], figures.MONTHS_CALIBRATION)


def inspection_in_date(world: World, piece: Piece) -> Answer | None:
    """Mats, boots, hooks: looked over within 12 months. Tools: a caution at most, so always met."""
    if piece.kind in TOOLS:
        return MET, None
    looks = piece.of("inspection")
    good = [r for r in looks if r.d.get("defects") == [] or (world.as_finding and not r.d.get("defects"))]
    bad = [r for r in looks if r.d.get("defects") and not any(not strikes(r, g) for g in good)]
    return _dated(world, piece, good, bad, figures.MONTHS_LOOK)


def voltage_mark_stands_voltage(world: World, piece: Piece) -> Answer | None:
    """Tools and hooks: the marked volts stand every circuit."""
    mark = piece.d.get("voltage_mark")
    if not isinstance(mark, dict):
        return CANNOT_TELL, None
    ac_mv, dc_mv = offered_mv(mark.get("ac_v")), offered_mv(mark.get("dc_v"))
    return worst(stands(world, c, ac_mv, dc_mv) for c in world.circuits), None


def fuse_fit(world: World, piece: Piece) -> Answer | None:
    """A stated fuse: high breaking capacity, DC rated on DC, volts at or above what is asked."""
    fuse = piece.d.get("fuse")
    if not isinstance(fuse, dict):
        return None
    outcomes = []
    if fuse.get("kind") in {"glass", "blown"} or fuse.get("blown") is True:
        outcomes.append(NOT_MET)
    elif fuse.get("kind") not in GOOD_FUSES:
        outcomes.append(world.unknown if fuse.get("kind") is None else CANNOT_TELL)
    volts = offered_mv(fuse.get("v"))
    for c in world.circuits:
        if c.current in {"dc", "inverter"} and fuse.get("ac_only") is not False:
            outcomes.append(NOT_MET if fuse.get("ac_only") is True else world.unknown)
        if volts is None:
            outcomes.append(world.unknown)
        else:
            outcomes.append(CANNOT_TELL if c.required is None else holds(volts, c.required))
    return worst(outcomes), None


def tip_exposure(world: World, piece: Piece) -> Answer | None:
    """Leads, tips, clips and instruments with fixed leads: bare tip within the profile's limit."""
    if piece.kind in INSTRUMENTS and piece.d.get("fixed_leads") is not True:
        return None
    tip, profile = piece.d.get("tip_mm"), world.tip_profile
    if isinstance(tip, bool) or not isinstance(tip, (int, float)) or tip < 0 or profile not in {"gs38", "iec"}:
        return CANNOT_TELL, None
    open_tip = profile == "iec" and bool(world.circuits) and all(c.category == "II" for c in world.circuits)
    return MET if tip <= (figures.TIP_OPEN_MM if open_tip else figures.TIP_MM) else NOT_MET, None


def altitude_within_mark(world: World, piece: Piece) -> Answer | None:
    """Measuring kit and proving units: the site lies no higher than the mark, 2000 m where it is silent."""
    mark = piece.d.get("max_altitude_m", figures.SILENT_ALTITUDE_M)
    return MET if world.site.get("altitude_m", figures.SILENT_ALTITUDE_M) <= mark else NOT_MET, None
