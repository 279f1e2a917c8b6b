"""The records of a piece and their fields, each declared once: reader of worked cases, its inverse, stored columns."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct

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
    Withdrawal,
)
from app.decision.fields import words
from app.decision.fields.field import Field, named
from app.decision.fields.sorts import (
    COUNT,
    DAY_OR_MONTH,
    HERTZ,
    LENGTH,
    MILLIAMPERES,
    NUMBERS,
    RATIO,
    SECONDS,
    TEST_VOLTS,
    TEXT,
    TIME,
    YES_NO,
    choice,
    some,
)


class RecordSort(Struct, frozen=True):
    """One sort of record: the value it becomes, its own fields by key, and those it is nothing without."""

    make: type[Any]
    fields: Mapping[str, Field] = {}
    needed: tuple[str, ...] = ()


_RESULT = Field(key="result", sort=choice("passed", "failed"))
_LABORATORY = Field(key="laboratory", sort=TEXT, attribute="lab")
_CERTIFICATE = Field(key="certificate", sort=TEXT)
_DEFECTS = Field(key="defects", sort=some(*words.DEFECTS))
#: of every record
OF_ALL = named(
    (
        Field(key="what", sort=TEXT),
        Field(key="on", sort=DAY_OR_MONTH),
        Field(key="at", sort=TIME),
        Field(key="entry", sort=COUNT),
    )
)
_TEST = named(
    (
        Field(key="occasion", sort=choice("in-service", "acceptance", "not-stated")),
        Field(key="evidence", sort=choice(*words.EVIDENCE)),
        _RESULT,
        Field(key="test_v", sort=TEST_VOLTS),
        Field(key="kind_of_current", sort=choice("ac", "dc")),
        Field(key="frequency_hz", sort=HERTZ),
        Field(key="dwell_s", sort=SECONDS),
        Field(key="left_ma", sort=MILLIAMPERES),
        Field(key="right_ma", sort=MILLIAMPERES),
        Field(key="soaked", sort=YES_NO),
        Field(key="breakdown", sort=YES_NO),
        Field(key="after", sort=choice(*words.EVENTS, "failed")),
        Field(key="certificate_names_piece", sort=YES_NO),
        _LABORATORY,
        _CERTIFICATE,
        Field(key="method", sort=TEXT),
    )
)
_AIR_TEST = named(
    (
        Field(key="left", sort=choice("passed", "failed")),
        Field(key="right", sort=choice("passed", "failed")),
        Field(key="inflation", sort=RATIO),
        _DEFECTS,
    )
)
_INSPECTION = named(
    (
        _DEFECTS,
        Field(key="notes", sort=some()),
        Field(key="caps", sort=choice("present", "missing", "unknown")),
        Field(key="clearance_mm", sort=LENGTH),
        Field(key="jack", sort=TEXT),
    )
)
_EVENT = named(
    (
        Field(key="kind", sort=choice(*words.EVENTS)),
        Field(key="place", sort=TEXT),
        Field(key="repair", sort=TEXT),
        Field(key="remaining_mm", sort=NUMBERS),
    )
)
SORTS: Mapping[str, RecordSort] = {
    "electrical-test": RecordSort(ElectricalTest, _TEST),
    "air-test": RecordSort(AirTest, _AIR_TEST, ("on",)),
    "inspection": RecordSort(Inspection, _INSPECTION, ("on",)),
    "event": RecordSort(Event, _EVENT, ("on", "kind")),
    "calibration": RecordSort(Calibration, named((_RESULT, _LABORATORY, _CERTIFICATE)), ("on",)),
    "self-test": RecordSort(SelfTest, named((_RESULT,)), ("on",)),
    "issue": RecordSort(Issue, needed=("on",)),
    "return": RecordSort(Return, needed=("on",)),
    "hand-over": RecordSort(HandOver, named((Field(key="to", sort=TEXT),)), ("on", "to")),
    "hold": RecordSort(Hold, named((Field(key="why", sort=TEXT),)), ("on",)),
    "release": RecordSort(Release, named((Field(key="by", sort=TEXT),)), ("on",)),
    "withdrawal": RecordSort(Withdrawal, named((Field(key="cut_through_by", sort=TEXT),)), ("on",)),
}
WHATS: Mapping[type[Any], str] = {sort.make: what for what, sort in SORTS.items()}
