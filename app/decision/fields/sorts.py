"""The sorts of values fields take, each with its unit; figures are integers, exact to the decimals they carry."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from app.decision.domain.chain import Fuse, Mark
from app.decision.domain.piece import FirstIssue, VoltageMark
from app.decision.fields import words
from app.decision.fields.field import Sort
from app.decision.fields.reading import (
    Unreadable,
    any_day,
    clock_time,
    exact_day,
    one_of,
    read_table,
    scaled,
    text,
    whole,
    words_of,
    yes_no,
)

millivolts = scaled(3)
FUSE_KINDS = ("hbc", "hrc", "glass", "blown", "unknown")


def _marks(value: object) -> tuple[Mark, ...]:
    if not isinstance(value, list):
        raise Unreadable("not-marks")
    marks = []
    for pair in value:
        if not isinstance(pair, list) or len(pair) != 2:
            raise Unreadable("not-marks")
        marks.append(Mark(one_of(*words.CATEGORIES)(pair[0]), millivolts(pair[1])))
    return tuple(marks)


def _volt_mark(value: object) -> VoltageMark:
    if not isinstance(value, Mapping):
        raise Unreadable("not-a-table-value")
    readers = {"ac_v": millivolts, "dc_v": millivolts}
    read: dict[str, Any] = read_table(value, readers, {"ac_v": "ac_mv", "dc_v": "dc_mv"}, "voltage_mark")
    return VoltageMark(**read)


def _fuse(value: object) -> Fuse:
    if value == "none":
        return Fuse(kind="none")
    if not isinstance(value, Mapping):
        raise Unreadable("not-a-table-value")
    readers = {"v": millivolts, "ac_only": yes_no, "kind": one_of(*FUSE_KINDS)}
    read: dict[str, Any] = read_table(value, readers, {"v": "mv", "ac_only": "is_ac_only"}, "fuse")
    return Fuse(**read)


def _first_issue(value: object) -> FirstIssue:
    if value in ("never", "unknown"):
        return "never" if value == "never" else "unknown"
    return any_day(value)


def _sizes(value: object) -> tuple[int, ...]:
    if not isinstance(value, list):
        raise Unreadable("not-a-list")
    return tuple(whole(item) for item in value)


TEXT = Sort("text", text)
YES_NO = Sort("yes-no", yes_no)
COUNT = Sort("count", whole)
MONTHS = Sort("count", whole, unit="months")
METRES = Sort("count", whole, unit="m")
SECONDS = Sort("seconds", scaled(0), unit="s")
TEST_VOLTS = Sort("test-volts", scaled(0), unit="V")
VOLTS = Sort("volts", millivolts, 3, "V", ("_v", "_mv"))
LENGTH = Sort("length", scaled(3), 3, "mm", ("_mm", "_um"))
AMPERES = Sort("amperes", scaled(3), 3, "A", ("_a", "_ma"))
MILLIAMPERES = Sort("milliamperes", scaled(3), 3, "mA", ("_ma", "_ua"))
HERTZ = Sort("hertz", scaled(3), 3, "Hz", ("_hz", "_mhz"))
CALORIES = Sort("calories", scaled(3), 3, "cal/cm\u00b2", ("_cal", "_mcal"))
SIZE = Sort("hundredths", scaled(2, most=20), 2, "", ("", "_c"))
# Of the normal size: what is below it is not inflated, and a slip for one more.
RATIO = Sort("ratio", scaled(2, least=100, most=100), 2, "", ("", "_c"))
DAY = Sort("day", exact_day)
DAY_OR_MONTH = Sort("day-or-month", any_day)
TIME = Sort("time", clock_time)
FIRST_ISSUE = Sort("first-issue", _first_issue)
MARKS = Sort("marks", _marks)
VOLTAGE_MARK = Sort("voltage-mark", _volt_mark)
FUSE = Sort("fuse", _fuse)
NUMBERS = Sort("numbers", _sizes)


def choice(*values: str) -> Sort:
    """One word of these."""
    return Sort("choice", one_of(*values), values=values)


def some(*values: str) -> Sort:
    """A list of these words, of any where none are given."""
    return Sort("list", words_of(*values), values=values)
