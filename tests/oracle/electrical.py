"""The electrical test: which kinds are asked one, its clock, and the events that end it early."""

from __future__ import annotations

from datetime import date

from . import figures
from .days import ONE_DAY, Rec, add_months, span, strikes
from .results import PASSED, UNSURE, class_of, has_open_failure, named, tests_of, tests_that_stand
from .sets import GLOVES, HOSE_AND_COVERS, INSTRUMENTS, LOOSE_MEMBERS, SLEEVES_AND_BLANKETS
from .world import CANNOT_TELL, MET, NOT_MET, Piece, World, best, number

Answer = tuple[str, date | None]


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


def _months_from_test(world: World, piece: Piece, first: date | None, tested: date) -> list[int]:
    """Months from the test for the kinds whose interval does not hang on F alone, the least favourable first."""
    rules, is_new = world.rule_set, first is not None and tested < first
    if piece.kind == "insulating-matting":
        return [figures.MONTHS_MATTING]
    if rules.clock == "material":
        rows = figures.MONTHS_BY_MATERIAL
        known = [rows[piece.d["material"]]] if piece.d.get("material") in rows else list(rows.values())
        return sorted(new if is_new else else_ for new, else_ in known)
    if piece.kind in (*SLEEVES_AND_BLANKETS, *HOSE_AND_COVERS):
        return [rules.goods_months]
    if rules.clock == "first-issue" and is_new:
        return []
    # Under "unless-never" a piece never out is judged as handed over on the first day, so six months are left.
    return [figures.MONTHS_IN_SERVICE]


def due_days(world: World, piece: Piece, tested: date) -> tuple[date, date]:
    """First day the test no longer counts: for certain, and at the most that an unknown or unconfirmed fact allows."""
    first, rules = _first_hand_over(world, piece), world.rule_set
    months = _months_from_test(world, piece, first, tested)
    if months:
        sure, perhaps = add_months(tested, months[0]), add_months(tested, months[-1])
        key = figures.interval_key(rules.name, rules.tables, piece.kind)
        if key is not None and rules.clock == "material":
            key = f"{key}/{piece.d.get('material')}"
        if len(months) > 1 or not world.confirmed(key):
            sure = date.min
    else:
        assert first is not None
        perhaps = min(add_months(first, figures.MONTHS_IN_SERVICE), add_months(tested, figures.MONTHS_ON_SHELF))
        in_service = add_months(tested, figures.MONTHS_IN_SERVICE)
        sure = perhaps if world.confirmed(figures.shelf_key(rules.name)) else min(perhaps, in_service)
    maker = number(piece.d.get("maker_interval_months"))
    if maker is not None:
        sure, perhaps = (min(due, add_months(tested, int(maker))) for due in (sure, perhaps))
    return sure, perhaps


def hands_failed(air_test: Rec) -> bool:
    """A hand that failed or a defect that was named."""
    return "failed" in (air_test.d.get("left"), air_test.d.get("right")) or bool(air_test.d.get("defects"))


def hands_passed(air_test: Rec) -> bool:
    """Both hands entered as passed with no defect named."""
    both = air_test.d.get("left") == "passed" and air_test.d.get("right") == "passed"
    return both and not air_test.d.get("defects")


def exempt(world: World, piece: Piece) -> bool:
    """Gloves of class 00 or 0 that the site, by a named approver, lets go without the electrical test."""
    value = world.site.get("dielectric_exempt_00_0")
    named_here = isinstance(value, dict) and bool(value.get("approved_by")) and bool(value.get("reason"))
    allowed = named_here or (value is True and world.approved("dielectric_exempt_00_0"))
    low_class = piece.kind in GLOVES and class_of(world, piece) in {"00", "0"}
    # Nobody is exempted from a test that was made and failed.
    return world.rule_set.may_exempt and allowed and low_class and not has_open_failure(world, piece)


def is_asked(world: World, piece: Piece) -> bool:
    """Whether the rule set asks an electrical test of the kind at all."""
    if piece.kind in GLOVES:
        return not exempt(world, piece)
    if piece.kind == "insulating-matting":
        return world.rule_set.asks_mats and class_of(world, piece) != "0"
    if piece.kind in HOSE_AND_COVERS:
        return world.rule_set.asks_hoses
    return piece.kind in SLEEVES_AND_BLANKETS


def _aired_in_date(world: World, piece: Piece) -> Answer:
    """Beside the exempt test (annex E.5): an air test of both hands, which is their look too, every six months."""
    airs = piece.of("air-test")
    clean = [r for r in airs if hands_passed(r)]
    alive = [r for r in clean if not any(hands_failed(b) and strikes(b, r) for b in airs)]
    if not alive:
        return NOT_MET, None
    due = add_months(max(r.first for r in alive), figures.MONTHS_IN_SERVICE)
    return (MET, due - ONE_DAY) if due > world.on else (NOT_MET, None)


def electrical_test_counts(world: World, piece: Piece) -> Answer | None:
    """Where the set asks a test: at least one passing test that counts is in the register."""
    if not is_asked(world, piece):
        return (MET, None) if piece.kind in GLOVES else None
    results = {r for _, r in tests_of(world, piece)}
    return MET if PASSED in results else CANNOT_TELL if UNSURE in results else NOT_MET, None


def electrical_test_in_date(world: World, piece: Piece) -> Answer | None:
    """Where the set asks a test: the last passing one, not overtaken by a failure, is younger than its interval."""
    if is_asked(world, piece):
        return _tested_in_date(world, piece)
    if piece.kind not in GLOVES:
        return NOT_MET if has_open_failure(world, piece) else MET, None
    return _longer(_tested_in_date(world, piece), _aired_in_date(world, piece))


def _longer(one: Answer, other: Answer) -> Answer:
    """Of two ways to meet one demand, the better, and of two that meet it the one that lasts longer."""
    days = [day for outcome, day in (one, other) if outcome == MET and day is not None]
    return best((one[0], other[0])), max(days, default=None)


def _tested_in_date(world: World, piece: Piece) -> Answer:
    sure = tests_that_stand(world, piece, PASSED)
    if sure:
        due, _ = due_days(world, piece, max(t.first for t in sure))
        if due > world.on:
            return MET, due - ONE_DAY
    perhaps = tests_that_stand(world, piece, PASSED, UNSURE)
    if not perhaps:
        return NOT_MET, None
    _, due = due_days(world, piece, max(t.first for t in perhaps))
    return (CANNOT_TELL if due > world.on else NOT_MET), None


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
    events = piece.of("event")
    if not events:
        return MET, None
    sure = tests_that_stand(world, piece, PASSED)
    perhaps = tests_that_stand(world, piece, PASSED, UNSURE)
    outcome = MET
    for event in events:
        if any(_closes(t, event) for t in sure) or _is_part_released(piece, event):
            continue
        if not any(_closes(t, event) for t in perhaps):
            return NOT_MET, None
        outcome = CANNOT_TELL
    return outcome, None
