"""One entry about a piece in words: what was measured, who had it, why it is held."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from typing import Any

from app.decision.domain.entries import AnyEntry, Entry, Name, Reservation, Transfer
from app.decision.domain.record import (
    AirTest,
    Calibration,
    ElectricalTest,
    Event,
    HandOver,
    Hold,
    Inspection,
    Issue,
    Release,
    Return,
    SelfTest,
)
from app.register.reads.given import Given
from app.words.saying import listed, number, say
from app.words.vocabulary import EVENTS, HOLD_REASONS, RESULTS, TASKS

POOL = "pool:"
#: what the piece was last given out by, entry by entry: name of a return -> who brought it back
From = Mapping[Name, str]
_OUT = (Issue, HandOver)


def record_words(entry: Entry, given: Mapping[Name, Given], brought: From) -> list[str]:
    """What an entry says, in parts; its day and its reason are said by whoever asks."""
    record = entry.record
    if isinstance(record, Issue):
        return _issue(entry, record, given)
    if isinstance(record, Return):
        back = brought.get(entry.name, "")
        return [say("history.from", {"who": place_words(back)})] if back else []
    for kind, words in _WORDS.items():
        if isinstance(record, kind):
            return [word for word in words(record) if word]
    return []


def place_words(code: str) -> str:
    """Where a piece is given to: a pool and the crib by their words, a person and a vehicle by their codes."""
    if code.startswith(POOL):
        return say("history.pool", {"name": code.removeprefix(POOL)})
    return say("history.crib", {}) if code == "crib" else code


def why_held_words(why: str) -> str:
    """The reason of a hold in the trade's words."""
    return HOLD_REASONS.get(why, why)


def brought_back(entries: Iterable[tuple[Entry, bool]], given: Mapping[Name, Given]) -> dict[Name, str]:
    """Of each return, who had the piece before it; (entry, whether it was struck) in the order of entry."""
    who, holders = "", {}
    for entry, is_struck in entries:
        record = entry.record
        if is_struck or not isinstance(record, (*_OUT, Return)):
            continue
        if isinstance(record, Return):
            holders[entry.name], who = who, ""
        elif isinstance(record, HandOver):
            who = "" if record.to == "crib" else record.to
        else:
            decided = None if entry.of is None else given.get(entry.of)
            who = (record.to or "") if decided is None else decided.person
    return holders


def decision_words(content: Mapping[str, Any]) -> list[str]:
    """A decision on a kit, as it stands in the history of a person."""
    values = {**content, "circuits": listed(_list(content["circuits"])), "kit": listed(_list(content["kit"]))}
    key = "history.decision.issued" if content["decision"] == "may-be-issued" else "history.decision.refused"
    second = [say("history.second", {"who": content["second"]})] if content.get("second") else []
    return [say(key, values), *second, say("history.decision.job", values), say("history.decision.kit", values)]


def _list(value: object) -> list[str]:
    """A list as it is, or as a stored line has it: its canonical text."""
    values = json.loads(value) if isinstance(value, str) else value
    return [str(inner) for inner in values] if isinstance(values, (list, tuple)) else []


def _issue(entry: Entry, record: Issue, given: Mapping[Name, Given]) -> list[str]:
    decision = None if entry.of is None else given.get(entry.of)
    if decision is None:
        return [say("history.to", {"who": record.to})] if record.to else []
    parts = [say("history.to", {"who": decision.person})]
    if decision.second:
        parts.append(say("history.second", {"who": decision.second}))
    parts.append(say("history.job", {"system": decision.system, "task": TASKS.get(decision.task, decision.task)}))
    parts.append(say("history.until", {"until": decision.until}))
    return parts


def went_with(entry: Entry, given: Mapping[Name, Given], code: str) -> str:
    """Which other pieces went out by the same decision, "" where it was alone or no decision is known."""
    decision = None if entry.of is None or not isinstance(entry.record, Issue) else given.get(entry.of)
    others = () if decision is None else tuple(other for other in decision.kit if other != code)
    return say("history.with", {"codes": listed(others)}) if others else ""


def _test(test: ElectricalTest) -> list[str]:
    key = "test.volts" if test.kind_of_current is None else "test.volts-of"
    volts = "" if test.test_v is None else say(key, {"v": test.test_v, "current": test.kind_of_current})
    hertz = "" if test.frequency_mhz is None else f"{number(test.frequency_mhz / 1000, 3)} Hz"
    seconds = "" if test.dwell_s is None else f"{test.dwell_s} s"
    figures = listed(part for part in (volts, hertz, seconds) if part)
    currents = (("history.test.left", test.left_ua), ("history.test.right", test.right_ua))
    hands = listed(say(key, {"ua": ua}) for key, ua in currents if ua is not None)
    return [
        figures, hands, _result(test.result), *_flags(test), test.lab or "",
        say("history.test.certificate", {"name": test.certificate}) if test.certificate else "",
        say("history.test.method", {"name": test.method}) if test.method else "",
    ]  # fmt: skip


def _flags(test: ElectricalTest) -> list[str]:
    asked = (
        (test.breakdown, "history.test.breakdown"), (test.soaked, "history.test.soaked"),
        (test.occasion == "acceptance", "history.test.acceptance"),
        (test.evidence == "sheet-only", "history.test.sheet-only"),
        (test.evidence == "stated-pass" and test.result == "passed", "history.test.stated-pass"),
        (test.evidence == "stated-pass" and test.result is None, "history.test.no-result"),
        (not test.certificate_names_piece, "history.test.names-no-piece"),
    )  # fmt: skip
    flags = [say(key, {}) for is_so, key in asked if is_so]
    return [*flags, *([say("history.test.after", {"why": why_held_words(test.after)})] if test.after else [])]


def _result(result: str | None) -> str:
    return RESULTS.get(result, result) if result else ""


def _air(air_test: AirTest) -> list[str]:
    both = (("history.hand.left", air_test.left), ("history.hand.right", air_test.right))
    hands = [say(key, {"result": result}) for key, result in both if result]
    blown = (
        "" if air_test.inflation_c is None else say("history.inflation", {"times": number(air_test.inflation_c / 100)})
    )
    return [listed(hands), blown, *_defects(air_test.defects)]


def _defects(defects: tuple[str, ...]) -> list[str]:
    return [say("history.defects", {"defects": defects})] if defects else []


def _look(look: Inspection) -> list[str]:
    free = say("history.caps", {"caps": look.caps}) if look.caps else ""
    gap = "" if look.clearance_um is None else say("history.clearance", {"mm": number(look.clearance_um / 1000)})
    return [
        *(_defects(look.defects) or [say("history.nothing-found", {})]),
        say("history.notes", {"words": listed(look.notes)}) if look.notes else "",
        free, gap, say("history.jack", {"jack": look.jack}) if look.jack else "",
    ]  # fmt: skip


def _event(event: Event) -> list[str]:
    left = listed(str(size) for size in event.remaining_mm)
    return [
        EVENTS.get(event.kind, event.kind), event.place or "", event.repair or "",
        say("history.remaining", {"mm": left}) if left else "",
    ]  # fmt: skip


_WORDS: Mapping[type[Any], Callable[[Any], list[str]]] = {
    ElectricalTest: _test, AirTest: _air, Inspection: _look, Event: _event,
    Calibration: lambda check: [_result(check.result)], SelfTest: lambda check: [_result(check.result)],
    HandOver: lambda move: [say("history.to", {"who": place_words(move.to)})],
    Hold: lambda hold: [why_held_words(hold.why)],
    Release: lambda release: [say("history.by", {"who": release.by})] if release.by else [],
    Transfer: lambda transfer: [say("history.to-crib", {"crib": transfer.to})],
    Reservation: lambda held: [say("history.for", {"who": held.to, "until": held.until_day or ""})],
}  # fmt: skip


def day_words(record: AnyEntry, entered: date) -> str:
    """The day and hour it happened, "" where that is when it was entered; of a test the day is always said."""
    on = record.on
    is_measured = isinstance(record, (ElectricalTest, Calibration))
    if on is None:
        return say("history.no-day", {}) if isinstance(record, ElectricalTest) else ""
    if on.is_exact and on.first == entered and not is_measured:
        return ""
    if record.at is None or (on.is_exact and on.first == entered):
        return say("history.on", {"day": on})
    return say("history.on-at", {"day": on, "time": f"{record.at:%H:%M}"})
