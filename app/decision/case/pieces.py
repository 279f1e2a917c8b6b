"""Reading pieces and their records."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from app.decision.domain import former
from app.decision.domain.chain import Fuse, Mark
from app.decision.domain.errors import BadInput
from app.decision.domain.piece import FirstIssue, Piece, VoltageMark
from app.decision.domain.record import (
    AirTest,
    AnyRecord,
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
    Withdrawal,
)
from app.decision.fields import words
from app.decision.fields.reading import (
    Reader,
    Table,
    Unreadable,
    any_day,
    as_tables,
    clock_time,
    nearest,
    one_of,
    read_table,
    require,
    scaled,
    text,
    whole,
    words_of,
    yes_no,
)

millivolts = scaled(3)
millimetres = scaled(3)
milliamps = scaled(3)
_VOLT_MARK: Mapping[str, Reader] = {"ac_v": millivolts, "dc_v": millivolts}
_FUSE: Mapping[str, Reader] = {
    "v": millivolts,
    "ac_only": yes_no,
    "kind": one_of("hbc", "hrc", "glass", "blown", "unknown"),
}


def _marks(value: object) -> tuple[Mark, ...]:
    if not isinstance(value, list):
        raise Unreadable("not-marks")
    found = []
    for pair in value:
        if not isinstance(pair, list) or len(pair) != 2:
            raise Unreadable("not-marks")
        found.append(Mark(one_of(*words.CATEGORIES)(pair[0]), millivolts(pair[1])))
    return tuple(found)


def _volt_mark(value: object) -> VoltageMark:
    if not isinstance(value, Mapping):
        raise Unreadable("not-a-table-value")
    read: dict[str, Any] = read_table(value, _VOLT_MARK, {"ac_v": "ac_mv", "dc_v": "dc_mv"}, "voltage_mark")
    return VoltageMark(**read)


def _fuse(value: object) -> Fuse:
    if not isinstance(value, Mapping):
        raise Unreadable("not-a-table-value")
    read: dict[str, Any] = read_table(value, _FUSE, {"v": "mv", "ac_only": "is_ac_only"}, "fuse")
    return Fuse(**read)


def _first_issue(value: object) -> FirstIssue:
    if value in ("never", "unknown"):
        return "never" if value == "never" else "unknown"
    return any_day(value)


def _sizes(value: object) -> tuple[int, ...]:
    if not isinstance(value, list):
        raise Unreadable("not-a-list")
    return tuple(whole(item) for item in value)


FIELDS: Mapping[str, Reader] = {
    "code": text,
    "kind": one_of(*words.KINDS),
    "label": text,
    "batch": text,
    "custody": text,
    "lost": yes_no,
    "first_issue": _first_issue,
    "class": one_of(*words.CLASSES),
    "class_system": one_of(*words.CLASS_SYSTEMS),
    "type": one_of("I", "II"),
    "categories": words_of("A", "H", "Z", "R", "C"),
    "length_mm": millimetres,
    "size": scaled(2, most=20),
    "hand": one_of("left", "right", "pair"),
    "dc_tested": yes_no,
    "material": one_of("natural", "synthetic"),
    "voltage_mark": _volt_mark,
    "marks": _marks,
    "marks_cap_off": _marks,
    "fixed_leads": yes_no,
    "max_input_ac_v": millivolts,
    "max_input_dc_v": millivolts,
    "current_a": milliamps,
    "tip_mm": millimetres,
    "caps": one_of("present", "missing", "unknown"),
    "fuse": _fuse,
    "max_altitude_m": whole,
    "threshold_dc_v": millivolts,
    "threshold_ac_v": millivolts,
    "leather_mm": millimetres,
    "leather": text,
    "cut_for_class": one_of(*words.CLASSES),
    "arc_rating_cal": scaled(3),
    "hood": yes_no,
    "balaclava": yes_no,
    "fabric_rating_cal": scaled(3),
    "window_rating_cal": scaled(3),
    "output_dc_v": millivolts,
    "output_ac_v": millivolts,
    "maker_interval_months": whole,
    "records": lambda value: value,
}
NAMES: Mapping[str, str] = {
    "class": "insulation_class", "lost": "is_lost", "length_mm": "length_um", "size": "size_c",
    "max_input_ac_v": "max_input_ac_mv", "max_input_dc_v": "max_input_dc_mv", "current_a": "current_ma",
    "tip_mm": "tip_um", "threshold_dc_v": "threshold_dc_mv", "threshold_ac_v": "threshold_ac_mv",
    "leather_mm": "leather_um", "arc_rating_cal": "arc_rating_mcal", "fabric_rating_cal": "fabric_rating_mcal",
    "window_rating_cal": "window_rating_mcal", "output_dc_v": "output_dc_mv", "output_ac_v": "output_ac_mv",
}  # fmt: skip

_PASSED = one_of("passed", "failed")
_SHARED: Mapping[str, Reader] = {"what": text, "on": any_day, "at": clock_time}
_TEST: Mapping[str, Reader] = {
    "occasion": one_of("in-service", "acceptance", "not-stated"),
    "evidence": one_of(*words.EVIDENCE),
    "result": _PASSED,
    "test_v": scaled(0),
    "kind_of_current": one_of("ac", "dc"),
    "frequency_hz": scaled(3),
    "dwell_s": scaled(0),
    "left_ma": milliamps,
    "right_ma": milliamps,
    "soaked": yes_no,
    "breakdown": yes_no,
    "after": one_of(*words.EVENTS, "failed"),
    "certificate_names_piece": yes_no,
    "lab": text,
    "certificate": text,
    "method": text,
}
_TEST_NAMES: Mapping[str, str] = {"frequency_hz": "frequency_mhz", "left_ma": "left_ua", "right_ma": "right_ua"}
_RECORDS: Mapping[str, tuple[type[Any], Mapping[str, Reader], Mapping[str, str]]] = {
    "electrical-test": (ElectricalTest, _TEST, _TEST_NAMES),
    "air-test": (
        AirTest,
        {
            "left": _PASSED,
            "right": _PASSED,
            "inflation": scaled(2, most=100),
            "defects": words_of(*words.DEFECTS),
        },
        {"inflation": "inflation_c"},
    ),
    "inspection": (
        Inspection,
        {
            "defects": words_of(*words.DEFECTS),
            "notes": words_of(),
            "caps": one_of("present", "missing", "unknown"),
            "clearance_mm": millimetres,
            "jack": text,
        },
        {"clearance_mm": "clearance_um"},
    ),
    "event": (
        Event,
        {"kind": one_of(*words.EVENTS), "place": text, "repair": text, "remaining_mm": _sizes},
        {},
    ),
    "calibration": (Calibration, {"result": _PASSED}, {}),
    "self-test": (SelfTest, {"result": _PASSED}, {}),
    "issue": (Issue, {}, {}),
    "return": (Return, {}, {}),
    "hand-over": (HandOver, {"to": text}, {}),
    "hold": (Hold, {"why": text}, {}),
    "release": (Release, {"by": text}, {}),
    "withdrawal": (Withdrawal, {}, {}),
}
RECORDS = tuple(_RECORDS)
#: what -> the value a record of that sort is, for whoever keeps or writes records
SORTS: Mapping[str, type[Any]] = {what: make for what, (make, _, _) in _RECORDS.items()}
WHATS: Mapping[type[Any], str] = {make: what for what, make in SORTS.items()}
_NEEDED: Mapping[str, tuple[str, ...]] = {"event": ("kind",), "hand-over": ("to",)}


def read_piece(table: Table, place: str) -> Piece:
    """One piece with its records; BadInput names key and place."""
    require(table, ("code", "kind"), place)
    here = f"{place} {table['code']}".strip()
    read: dict[str, Any] = read_table(table, FIELDS, NAMES, here)
    records = as_tables(read.pop("records", []), here, "records")
    read["records"] = tuple(read_record(record, here) for record in records)
    return Piece(**read)


def read_record(table: Table, place: str) -> AnyRecord:
    """One record; only an electrical test may be without a day (then it does not count)."""
    require(table, ("what",), place)
    what = former.RECORDS.get(str(table["what"]), str(table["what"]))
    if what not in _RECORDS:
        raise BadInput("case.unknown-word", place=place, thing=f"what = {what}", nearest=nearest(what, _RECORDS))
    make, own, names = _RECORDS[what]
    if what != "electrical-test":
        require(table, ("on", *_NEEDED.get(what, ())), f"{place} {what}")
    table = {former.FIELDS.get(key, key): value for key, value in table.items()}
    read = read_table(table, {**_SHARED, **own}, names, f"{place} {what}")
    read.pop("what")
    record: AnyRecord = make(**read)
    return record
