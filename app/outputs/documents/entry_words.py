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
from app.words.vocabulary import CURRENTS, EVENTS, HOLD_REASONS, RESULTS, TASKS

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
            return [one for one in words(record) if one]
    return []


def place_words(code: str) -> str:
    """Where a piece is given to: a pool and the crib by their words, a person and a vehicle by their codes."""
    if code.startswith(POOL):
        return say("history.pool", {"name": code.removeprefix(POOL)})
    return say("history.crib", {}) if code == "crib" else code


def why_held_words(why: str) -> str:
    """The reason of a hold in the trade's words."""
    return HOLD_REASONS.get(why, why.replace("-", " "))


def brought_back(entries: Iterable[tuple[Entry, bool]], given: Mapping[Name, Given]) -> dict[Name, str]:
    """Of each return, who had the piece before it; (entry, whether it was struck) in the order of entry."""
    who, found = "", {}
    for entry, is_struck in entries:
        record = entry.record
        if is_struck or not isinstance(record, (*_OUT, Return)):
            continue
        if isinstance(record, Return):
            found[entry.name], who = who, ""
        elif isinstance(record, HandOver):
            who = "" if record.to == "crib" else record.to
        else:
            decided = None if entry.of is None else given.get(entry.of)
            who = (record.to or "") if decided is None else decided.person
    return found


def decision_words(content: Mapping[str, Any]) -> list[str]:
    """A decision on a kit, as it stands in the history of a person."""
    values = {**content, "circuits": listed(_list(content["circuits"])), "kit": listed(_list(content["kit"]))}
    key = "history.decision.issued" if content["decision"] == "may-be-issued" else "history.decision.refused"
    second = [say("history.second", {"who": content["second"]})] if content.get("second") else []
    return [say(key, values), *second, say("history.decision.job", values), say("history.decision.kit", values)]


def _list(value: object) -> list[str]:
    """A list as it is, or as a stored line has it: its canonical text."""
    found = json.loads(value) if isinstance(value, str) else value
    return [str(one) for one in found] if isinstance(found, (list, tuple)) else []


def _issue(entry: Entry, record: Issue, given: Mapping[Name, Given]) -> list[str]:
    found = None if entry.of is None else given.get(entry.of)
    if found is None:
        return [say("history.to", {"who": record.to})] if record.to else []
    parts = [say("history.to", {"who": found.person})]
    if found.second:
        parts.append(say("history.second", {"who": found.second}))
    parts.append(say("history.job", {"system": found.system, "task": TASKS.get(found.task, found.task)}))
    parts.append(say("history.until", {"until": found.until}))
    return parts


def went_with(entry: Entry, given: Mapping[Name, Given], code: str) -> str:
    """Which other pieces went out by the same decision, "" where it was alone or no decision is known."""
    found = None if entry.of is None or not isinstance(entry.record, Issue) else given.get(entry.of)
    others = () if found is None else tuple(one for one in found.kit if one != code)
    return say("history.with", {"codes": listed(others)}) if others else ""


def _test(one: ElectricalTest) -> list[str]:
    current = "" if one.kind_of_current is None else CURRENTS[one.kind_of_current]
    volts = "" if one.test_v is None else say("test.volts", {"v": one.test_v})
    hertz = "" if one.frequency_mhz is None else f"{number(one.frequency_mhz / 1000, 3)} Hz"
    seconds = "" if one.dwell_s is None else f"{one.dwell_s} s"
    figures = listed(part for part in (" ".join(part for part in (volts, current) if part), hertz, seconds) if part)
    currents = (("history.test.left", one.left_ua), ("history.test.right", one.right_ua))
    hands = listed(say(key, {"ua": ua}) for key, ua in currents if ua is not None)
    return [
        figures, hands, _result(one.result), *_flags(one), one.lab or "",
        say("history.test.certificate", {"name": one.certificate}) if one.certificate else "",
        say("history.test.method", {"name": one.method}) if one.method else "",
    ]  # fmt: skip


def _flags(one: ElectricalTest) -> list[str]:
    asked = (
        (one.breakdown, "history.test.breakdown"), (one.soaked, "history.test.soaked"),
        (one.occasion == "acceptance", "history.test.acceptance"),
        (one.evidence == "sheet-only", "history.test.sheet-only"),
        (one.evidence == "stated-pass", "history.test.stated-pass"),
        (not one.certificate_names_piece, "history.test.names-no-piece"),
    )  # fmt: skip
    found = [say(key, {}) for is_so, key in asked if is_so]
    return [*found, *([say("history.test.after", {"why": why_held_words(one.after)})] if one.after else [])]


def _result(result: str | None) -> str:
    return RESULTS.get(result, result) if result else ""


def _air(one: AirTest) -> list[str]:
    both = (("history.hand.left", one.left), ("history.hand.right", one.right))
    hands = [say(key, {"result": result}) for key, result in both if result]
    blown = "" if one.inflation_c is None else say("history.inflation", {"times": number(one.inflation_c / 100)})
    return [listed(hands), blown, *_defects(one.defects)]


def _defects(defects: tuple[str, ...]) -> list[str]:
    return [say("history.defects", {"defects": defects})] if defects else []


def _look(one: Inspection) -> list[str]:
    free = say("history.caps", {"caps": one.caps}) if one.caps else ""
    gap = "" if one.clearance_um is None else say("history.clearance", {"mm": number(one.clearance_um / 1000)})
    return [
        *(_defects(one.defects) or [say("history.nothing-found", {})]),
        say("history.notes", {"words": listed(one.notes)}) if one.notes else "",
        free, gap, say("history.jack", {"name": one.jack}) if one.jack else "",
    ]  # fmt: skip


def _event(one: Event) -> list[str]:
    left = listed(str(size) for size in one.remaining_mm)
    return [
        EVENTS.get(one.kind, one.kind), one.place or "", one.repair or "",
        say("history.remaining", {"mm": left}) if left else "",
    ]  # fmt: skip


_WORDS: Mapping[type[Any], Callable[[Any], list[str]]] = {
    ElectricalTest: _test, AirTest: _air, Inspection: _look, Event: _event,
    Calibration: lambda one: [_result(one.result)], SelfTest: lambda one: [_result(one.result)],
    HandOver: lambda one: [say("history.to", {"who": place_words(one.to)})],
    Hold: lambda one: [why_held_words(one.why)],
    Release: lambda one: [say("history.by", {"who": one.by})] if one.by else [],
    Transfer: lambda one: [say("history.to-crib", {"crib": one.to})],
    Reservation: lambda one: [say("history.for", {"who": one.to, "until": one.until_day or ""})],
}  # fmt: skip


def day_words(record: AnyEntry, entered: date) -> str:
    """The day and hour it happened, "" where that is when it was entered; of a test the day is always said."""
    on = record.on
    is_measured = isinstance(record, (ElectricalTest, Calibration))
    if on is None:
        return say("history.no-day", {}) if isinstance(record, ElectricalTest) else ""
    if on.is_exact and on.first == entered and not is_measured:
        return ""
    hour = "" if record.at is None or (on.is_exact and on.first == entered) else f" {record.at:%H:%M}"
    return say("history.on", {"day": f"{on}{hour}"})
