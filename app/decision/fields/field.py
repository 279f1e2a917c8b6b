"""A field and the sort of value it takes: how the value is read, written back, kept and shown."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from msgspec import Struct

from app.decision.domain.calendar import Day
from app.decision.domain.chain import Fuse, Mark
from app.decision.domain.piece import VoltageMark
from app.decision.fields.reading import Reader, Table, read_table


class Sort(Struct, frozen=True):
    """One sort of value.

    `name`: what register, sheets and forms tell it by. `read`: the value of a worked case to ours, raises Unreadable.
    `decimals`: of the figure that our integer carries. `unit`: as people read it. `ends`: how the key ends and how the
    attribute ends that keeps it, as "_v" and "_mv". `values`: the words it takes, where it is one
    of a list.
    """

    name: str
    read: Reader
    decimals: int = 0
    unit: str = ""
    ends: tuple[str, str] = ("", "")
    values: tuple[str, ...] = ()

    def write(self, value: object) -> object:
        """Our value as a worked case writes it, the inverse of `read`."""
        return scaled(value, self.decimals) if self.decimals and isinstance(value, int) else plain(value)


class Field(Struct, frozen=True, kw_only=True):
    """One field: the key worked cases write and everything that follows from it.

    `attribute`: its name in the value, where it is not the key with the end of its sort. `headings`: what sheets write
    above its column, bars between. `words`: value -> what sheets write for it, where it takes a word of a list.
    `table`: of the trade's words for its values, where they have any. `asked`: decimals a form shows of a figure.
    `is_offered`: forms and sheets ask for it; not so while no rule reads it yet, because what is typed there would
    count for nothing.
    """

    key: str
    sort: Sort
    attribute: str = ""
    headings: str = ""
    words: str = ""
    table: str = ""
    asked: int = 0
    is_offered: bool = True

    @property
    def name(self) -> str:
        """The attribute that holds it."""
        written, kept = self.sort.ends
        return self.attribute or (self.key.removesuffix(written) + kept if kept else self.key)


def named(fields: tuple[Field, ...]) -> Mapping[str, Field]:
    """Fields by key; ValueError for a key that stands twice."""
    by_key = {field.key: field for field in fields}
    if len(by_key) != len(fields):
        raise ValueError([field.key for field in fields])
    return by_key


def reader_of(fields: Mapping[str, Field], **more: Reader) -> Callable[[Table, str], dict[str, Any]]:
    """Reads a table of these fields, and of `more` keys by readers of their own, under our names."""
    readers = {key: field.sort.read for key, field in fields.items()} | more
    names = {key: field.name for key, field in fields.items()}
    return lambda table, place: read_table(table, readers, names, place)


def scaled(value: int, places: int) -> Decimal | int:
    """An integer with `places` decimals as people write it: 1500 of 3 places is 1.5.

    >>> scaled(831600, 3), scaled(1500000, 3)
    (Decimal('831.6'), 1500)
    """
    exact = Decimal(value).scaleb(-places)
    whole = exact.to_integral_value()
    return int(whole) if whole == exact else Decimal(str(exact.normalize()))


def plain(value: object) -> object:
    """A value without a unit as a worked case writes it: days, marks, fuses, lists."""
    if isinstance(value, Day):
        return _day(value)
    if isinstance(value, VoltageMark):
        return known({"ac_v": volts(value.ac_mv), "dc_v": volts(value.dc_mv)})
    if isinstance(value, Fuse):
        return known({"v": volts(value.mv), "ac_only": value.is_ac_only, "kind": value.kind})
    if isinstance(value, tuple):
        return [[item.category, scaled(item.mv, 3)] if isinstance(item, Mark) else item for item in value]
    return value


def volts(millivolts: int | None) -> Decimal | int | None:
    """Millivolts as volts; None stays None."""
    return None if millivolts is None else scaled(millivolts, 3)


def known(table: Mapping[str, object]) -> dict[str, object]:
    """What of a table is known."""
    return {key: value for key, value in table.items() if value is not None}


def _day(day: Day) -> date | str:
    if day.is_exact:
        return day.first
    month = f"{day.first:%Y-%m}"
    if Day.parse(month) == day:
        return month
    year, week, _ = day.first.isocalendar()
    return f"{year}-W{week:02d}"
