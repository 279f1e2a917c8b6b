"""The forms of the bench that are nothing but fields: electrical test, self-test, calibration, event, hold, repair."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from app.decision.judging.answers import Saved
from app.usecases.desk import Desk
from app.usecases.foresee_entry import foresee_test
from app.usecases.hold_piece import hold_piece, reasons_for
from app.usecases.log_check import log_check
from app.usecases.log_electrical_test import log_electrical_test
from app.usecases.look_at_kit import OnCounter
from app.usecases.repair_piece import repair_piece
from app.window.asked import Asked, Options, choice, figure, past_day, said, words_of
from app.window.places.bench.declared import Chosen, Declared, Table
from app.window.places.bench.state import fields_of_test, kind_of, table_of_test
from app.words.vocabulary import EVENTS, HOLD_REASONS

# The day of a check, which may be left empty: then it is of today and now.
_DAY = past_day("bench.day", hint="bench.day-empty")

# Electrical test.

_UNSTATED = "bench.test.not-stated"
_YES_NO = said({"yes": "bench.test.yes", "no": "bench.test.no"})
_EVIDENCE = {
    "figures": "bench.test.evidence.figures", "stated-pass": "bench.test.evidence.stated-pass",
    "sheet-only": "bench.test.evidence.sheet-only",
}  # fmt: skip
_EXPLAINS = {
    "": "bench.test.explains", "figures": "bench.test.explains.figures",
    "stated-pass": "bench.test.explains.stated-pass", "sheet-only": "bench.test.explains.sheet-only",
}  # fmt: skip
_FIRST: Mapping[str, Asked] = {
    "on": past_day("bench.test.day", is_needed=True),
    "evidence": choice("bench.test.evidence", said(_EVIDENCE), is_needed=True),
}
_REST: Mapping[str, Asked] = {
    "occasion": choice(
        "bench.test.occasion",
        said({"in-service": "bench.test.in-service", "acceptance": "bench.test.acceptance"}),
        none=_UNSTATED,
    ),
    "kind_of_current": choice("bench.test.current", said({"ac": "bench.test.ac", "dc": "bench.test.dc"})),
    "test_v": figure("bench.test.volts", "V", most=1_000_000),
    "dwell_s": figure("bench.test.dwell", "s", most=100_000),
    "frequency_hz": figure("bench.test.frequency", "Hz", 3, most=10_000),
    "left_ma": figure("bench.test.left", "mA", 3, most=10_000),
    "right_ma": figure("bench.test.right", "mA", 3, most=10_000),
    "soaked": choice("bench.test.soaked", _YES_NO, none=_UNSTATED),
    "breakdown": choice("bench.test.breakdown", said({"yes": "bench.test.broke-down"}), none="bench.test.no-breakdown"),
    "result": choice(
        "bench.test.result", said({"passed": "bench.test.passed", "failed": "bench.test.failed"}), none=_UNSTATED
    ),
    "laboratory": words_of("bench.test.lab"),
    "certificate": words_of("bench.test.certificate"),
    "method": words_of("bench.test.method"),
    "certificate_names_piece": choice("bench.test.names", _YES_NO, is_needed=True),
    "after": choice(
        "bench.test.after",
        lambda: [*EVENTS.items(), *said({"failed": "bench.test.after-failed"})()],
        none="bench.test.no-event",
    ),
}


def _of_test(chosen: Chosen, seen: OnCounter | None) -> Collection[str]:
    """The rest is asked where the evidence gives it, the current and the glove have it."""
    hand, kind = (None, "") if seen is None else (seen.piece.hand, seen.piece.kind)
    rest = fields_of_test(chosen["evidence"], chosen["kind_of_current"], chosen["occasion"], hand, kind)
    return (*_FIRST, *rest)


def _needed(chosen: Chosen) -> Collection[str]:
    """What the laboratory found is never taken as read where the paper is all there is."""
    return () if chosen["evidence"] == "figures" else ("result",)


_TEST = Declared(
    {**_FIRST, **_REST},
    ((tuple(_FIRST), 3), (tuple(_REST), 3)),
    log_electrical_test,
    asked=_of_test,
    needed=_needed,
    explains=_EXPLAINS,
    table=table_of_test,
    foresees=foresee_test,
)

# Self-test and calibration.


def _result(sort: str, lead: str) -> Declared:
    result = choice("bench.result", said({"passed": "bench.passed", "failed": "bench.failed"}), is_needed=True)

    def log(desk: Desk, by: str, code: str, table: Table) -> Saved:
        return log_check(desk, by, sort, code, table)

    return Declared({"result": result, "on": _DAY}, ((("result", "on"), 2),), log, lead)


# Events and holds.

# Repairs have a form of their own, which asks what was done and where.
_OF_REPAIR = ("repaired", "patched")
_OF_HANDS = ("used-without-protectors",)


def _events(seen: OnCounter | None) -> Options:
    """Only gloves are worn with protectors."""
    kind = None if seen is None else kind_of(seen)
    left_out = _OF_REPAIR if kind is not None and kind.is_worn_on_hands else (*_OF_REPAIR, *_OF_HANDS)
    return [(key, words) for key, words in EVENTS.items() if key not in left_out]


_EVENT = Declared(
    {"kind": choice("bench.event.kind", tuple, is_needed=True), "on": _DAY},
    ((("kind", "on"), 2),),
    lambda desk, by, code, table: log_check(desk, by, "event", code, table),
    "bench.event.lead",
    options={"kind": _events},
)


def _reasons(seen: OnCounter | None) -> Options:
    """The reasons there are for this kind."""
    return [(key, HOLD_REASONS[key]) for key in reasons_for("" if seen is None else seen.piece.kind)]


_HOLD = Declared(
    {"why": choice("bench.hold.why", tuple, is_needed=True)},
    ((("why",), 1),),
    lambda desk, by, code, table: hold_piece(desk, by, [code], str(table["why"])),
    "bench.hold.lead",
    options={"why": _reasons},
)

# Repair.

# The words the rule knows -> their sentences; whether one is allowed is the rule's to say, before it is saved.
HOW = {
    "patched": "bench.repair.patched", "liquid-compound": "bench.repair.liquid-compound",
    "trimmed": "bench.repair.trimmed", "cut-shorter": "bench.repair.cut-shorter",
}  # fmt: skip
WHERE = {
    "between-wrist-and-cuff": "bench.repair.place.between", "cuff": "bench.repair.place.cuff",
    "gauntlet": "bench.repair.place.gauntlet", "wrist": "bench.repair.place.wrist", "back": "bench.repair.place.back",
    "palm": "bench.repair.place.palm", "thumb": "bench.repair.place.thumb", "fork": "bench.repair.place.fork",
    "finger": "bench.repair.place.finger",
}  # fmt: skip
# What remains of a trimmed piece: both sides, as they are measured.
_SIDES = ("side", "other_side")


def _of_repair(chosen: Chosen, seen: OnCounter | None) -> Collection[str]:
    """Rubber goods are mended, gloves at some place; of everything else a part is replaced."""
    kind = None if seen is None else kind_of(seen)
    if kind is None or not kind.is_classed:
        return ("part", "on")
    place = ("place",) if kind.is_worn_on_hands else ()
    return ("how", *place, *(_SIDES if chosen["how"] == "trimmed" else ()), "on")


def _repair_table(values: Table) -> Table:
    """The keys of an event."""
    how = values.get("how")
    kept: Table = {key: values[key] for key in ("place", "on") if key in values}
    if sides := [int(str(values[key])) for key in _SIDES if key in values]:
        kept["remaining_mm"] = sides
    return {"kind": "patched" if how == "patched" else "repaired", "repair": values.get("part", how), **kept}


_REPAIR = Declared(
    {
        "part": words_of("bench.repair.part", is_needed=True),
        "how": choice("bench.repair.how", said(HOW), is_needed=True),
        "place": choice("bench.repair.place", said(WHERE), is_needed=True),
        "side": figure("bench.repair.side", "mm", most=100_000),
        "other_side": figure("bench.repair.other-side", "mm", most=100_000),
        "on": _DAY,
    },
    ((("part",), 1), (("how", "place", *_SIDES, "on"), 2)),
    repair_piece,
    "bench.repair.lead",
    asked=_of_repair,
    table=_repair_table,
)

DECLARED: Mapping[str, Declared] = {
    "test": _TEST,
    "self-test": _result("self-test", "bench.self-test.lead"),
    "calibration": _result("calibration", "bench.calibration.lead"),
    "event": _EVENT,
    "hold": _HOLD,
    "repair": _REPAIR,
}
